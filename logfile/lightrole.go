package logfile

// voltsRank is that of headings that speak of volts, which a battery has as well as a
// cell that looks at light.
const voltsRank = 8

// light settles which column is light.
func (l *Layout) light(d *draft, opt Options, fail failer) error {
	if opt.Light != "" {
		i, err := l.named(opt.Light)
		if err != nil {
			return fail("light", "%v", err)
		}
		if l.Columns[i].Role.isStamp() {
			return fail("light", "column %q is the time and cannot be light", opt.Light)
		}
		if old := l.has(Light); old >= 0 {
			l.Columns[old].Role = Skip
		}
		l.Columns[i].Role = Light
		l.because("column %d is light, as given", i+1)
		return nil
	}
	if len(opt.Columns) > 0 || l.has(Light) >= 0 {
		return nil
	}
	var free, unknown []int
	sensors := 0 // of the unknown
	for i := range d.shapes {
		s := &d.shapes[i]
		if l.Columns[i].Role != Skip || !s.mostly(s.numbers) {
			continue
		}
		free = append(free, i)
		if _, _, other := l.Columns[i].meaningOf(); !other && l.Columns[i].suffix == "" {
			unknown = append(unknown, i)
			if !s.noSensor() {
				sensors++
			}
		}
	}
	if len(free) == 1 && len(unknown) == 0 && saysNothing(l.Columns[free[0]].hint) && saysNothing(l.Columns[free[0]].Name) {
		unknown = free // a lone number with its unit behind it
	}
	named := l.has(Temp) >= 0 || l.has(Humidity) >= 0 || l.has(Pressure) >= 0
	switch {
	case len(unknown) == 1 && anyOf(plain, tokens(l.Columns[unknown[0]].Name)):
		l.onlyLight(unknown[0], len(free))
		return nil
	case sensors == 0 && named:
		l.because("no column is light: all are known as something else, or count or switch")
		return nil
	case len(unknown) == 1 && !named:
		l.onlyLight(unknown[0], len(free))
		return nil
	case len(free) == 0:
		return fail("light", "no column holds numbers that could be light")
	case len(unknown) <= 1:
		return fail("light", "no heading says that a column is light")
	}
	if i := d.liveliest(unknown); !l.Header && i >= 0 {
		if d.shapes[i].mayBeAir() {
			return fail("light", "the numbers of column %d change most, and could be those of a thermometer as well as light", i+1)
		}
		l.Columns[i].Role, l.lively = Light, true
		l.because("column %d is light: without a header, its numbers change far more than the others'", i+1)
		return nil
	}
	return fail("light", "%d columns could be light and no heading says which", len(unknown))
}

// onlyLight makes a column light that alone could be it.
func (l *Layout) onlyLight(column, numbers int) {
	l.Columns[column].Role = Light
	if numbers == 1 {
		l.because("column %d is light: it is the only number beside the time", column+1)
		return
	}
	l.because("column %d is light: no other number could be", column+1)
}

// unheaded says that there is a column of a sensor of which no heading tells anything.
func (l *Layout) unheaded(d *draft) bool {
	for i := range l.Columns {
		s := &d.shapes[i]
		if role, _, other := l.Columns[i].meaningOf(); role == Skip && !other && l.Columns[i].Role == Skip && s.mostly(s.numbers) && !s.noSensor() {
			return true
		}
	}
	return false
}
