package logfile

import "slices"

type failer = func(decides, format string, args ...any) error

// assign gives the columns their roles: by the caller's list, by their names, or
// by what they hold.
func (l *Layout) assign(d *draft, opt Options, fail failer) error {
	l.tick = opt.Tick
	if len(opt.Columns) > 0 {
		for i, r := range opt.Columns {
			l.Columns[i].Role = r
		}
		l.because("columns as given")
		l.cellUnits(d)
	} else {
		l.byContent(d)
		l.sinceStart(d, opt)
		l.cellUnits(d)
		l.unitBeside(d)
		l.byName(d)
	}
	l.details(d, opt)
	if l.has(Time) < 0 && l.has(Clock) < 0 {
		return fail("columns", "no column holds a time of day or an instant")
	}
	if err := l.settleCount(opt, fail); err != nil {
		return err
	}
	if err := l.light(d, opt, fail); err != nil {
		return err
	}
	if l.has(Time) < 0 && l.has(Date) < 0 && opt.Date.IsZero() {
		return fail("date", "the stamps are times of day, and the file's name holds no date")
	}
	if !l.clockInTime(d) && opt.Date.IsZero() {
		return fail("date", "the stamps are times of day, and the file's name holds no date")
	}
	return nil
}

// clockInTime says that stamps called instants by the caller have dates.
func (l *Layout) clockInTime(d *draft) bool {
	i := l.has(Time)
	if i < 0 || l.Columns[i].Scale != 0 {
		return true
	}
	s := &d.shapes[i]
	if s.clocks > s.stamps+s.dates && s.clocks > s.numbers {
		l.Columns[i].Role = Clock
		l.because("column %d holds times of day", i+1)
		return l.has(Date) >= 0
	}
	return true
}

// byContent finds the stamps. Of several columns of instants the one whose
// heading speaks of UTC is taken, else the first.
func (l *Layout) byContent(d *draft) {
	for i := range d.shapes {
		s := &d.shapes[i]
		switch {
		case s.mostly(s.stamps):
			if old := l.has(Time); old < 0 {
				l.Columns[i].Role = Time
			} else if saysUTC(l.Columns[i].Name) && !saysUTC(l.Columns[old].Name) {
				l.Columns[old].Role, l.Columns[i].Role = Skip, Time
			}
		case s.mostly(s.dates) && l.has(Date) < 0:
			l.Columns[i].Role = Date
		case s.mostly(s.clocks) && l.has(Clock) < 0:
			l.Columns[i].Role = Clock
		}
	}
	if t := l.has(Time); t >= 0 && !l.headedTime(t) && l.headedTime(l.has(Date)) && l.headedTime(l.has(Clock)) {
		l.Columns[t].Role = Skip
		l.because("column %d holds stamps, but columns %d and %d are headed so", t+1, l.has(Date)+1, l.has(Clock)+1)
	}
	if l.has(Time) >= 0 { // a whole instant needs no halves
		for i := range l.Columns {
			if r := l.Columns[i].Role; r == Date || r == Clock {
				l.Columns[i].Role = Skip
			}
		}
	}
	l.compactDate(d)
	if l.has(Time) < 0 && l.has(Clock) < 0 {
		l.epoch(d)
	}
	l.finerEpoch(d)
	for i, c := range l.Columns {
		if c.Role.isStamp() {
			l.because("column %d holds the %v", i+1, c.Role)
		}
	}
}

// headedTime says that a column's heading is a word for the time.
func (l *Layout) headedTime(column int) bool {
	if column < 0 {
		return false
	}
	role, _, _ := meaning(l.Columns[column].Name)
	return role == Time
}

// compactDate takes 20270802 for a date where a time of day stands beside it, and
// 20270802070000 for an instant where the heading says so.
func (l *Layout) compactDate(d *draft) {
	if l.has(Time) >= 0 {
		return
	}
	for i := range d.shapes {
		s := &d.shapes[i]
		r, _, _ := meaning(l.Columns[i].Name)
		if !s.mostly(s.numbers) || s.marked > 0 || l.Columns[i].Role != Skip {
			continue
		}
		st, form := parseStamp(d.rows[len(d.rows)-1].fields[i], Auto)
		if !form || !st.valid() || st.year < 1970 || st.year > 2100 {
			continue
		}
		if !st.hasClock && l.has(Clock) >= 0 && l.has(Date) < 0 {
			l.Columns[i].Role = Date
		} else if st.hasClock && r == Time {
			l.Columns[i].Role = Time
			return
		}
	}
}

// epoch looks for numbers of the size of seconds since 1970: by its heading, else
// the first column of them that only rises.
func (l *Layout) epoch(d *draft) {
	found := -1
	for i := range d.shapes {
		s := &d.shapes[i]
		if l.scaleOf(d, i) == 0 {
			continue
		}
		if r, _, _ := meaning(l.Columns[i].Name); r == Time {
			found = i
			break
		}
		if found < 0 && s.rises*5 >= (s.numbers-1)*4 {
			found = i
		}
	}
	if found >= 0 {
		l.Columns[found].Role = Time
		l.because("column %d counts like an epoch", found+1)
	}
}

// finerEpoch prefers a count since 1970 to written stamps that tell neither their
// zone nor the second, or are not headed as the time while the count is, if the count
// never falls.
func (l *Layout) finerEpoch(d *draft) {
	old := l.has(Time)
	if old < 0 {
		return
	}
	w := &d.shapes[old]
	if w.stamps == 0 {
		return
	}
	rough := w.zoned == 0 && w.seconds == 0
	for i := range d.shapes {
		s := &d.shapes[i]
		if l.scaleOf(d, i) == 0 || s.numbers < sureRows || s.rises != s.numbers-1 || l.Columns[i].Role != Skip || !rough && (l.headedTime(old) || !l.headedTime(i)) {
			continue
		}
		l.Columns[old].Role, l.Columns[i].Role = Skip, Time
		l.because("column %d counts like an epoch, and tells more than the stamps of column %d", i+1, old+1)
		return
	}
}

// details takes down what the sample says of a column beside its role.
func (l *Layout) details(d *draft, opt Options) {
	l.markLast()
	for i := range l.Columns {
		c, s := &l.Columns[i], &d.shapes[i]
		c.stamped = s.stampCells() > 0
		c.zoned = s.stampCells() > 0 && s.zoned == s.stampCells()
		c.seconds = s.stampCells() > 0 && s.seconds == s.stampCells()
		if zone, ok := zoneOf(c.Name); ok && c.Role.isStamp() {
			l.zoneByHeading, l.headingZone = true, zone
		}
		if c.Role != Time || s.numbers <= s.stamps {
			continue
		}
		if _, form := parseStamp(d.rows[0].fields[i], Auto); form {
			continue // 20270802070000
		}
		c.Scale = l.scaleOf(d, i)
		if c.counts = c.Scale == 0 && l.has(Clock) < 0 && (opt.Starts != nil || s.countsUp(true, false) > 0); c.Scale == 0 && !c.counts {
			c.Role = Skip
			l.because("column %d holds numbers that are no instants from 2000 to 2100", i+1)
		}
	}
}

// byName reads the headings; what a column holds must not contradict them.
func (l *Layout) byName(d *draft) {
	type claim struct{ column, rank int }
	claims := map[Role][]claim{}
	for i := range l.Columns {
		s := &d.shapes[i]
		if l.Columns[i].Role != Skip || s.text > s.numbers || s.stampCells() > s.numbers {
			if role, _, _ := meaning(l.Columns[i].Name); role == Light && s.text > 0 {
				l.because("column %d, %q, is not read: it holds words, or numbers with more than one unit behind them", i+1, l.Columns[i].Name)
			}
			continue
		}
		role, rank, _ := l.Columns[i].meaningOf()
		if role == Light && anyOf([]string{"2", "b"}, tokens(l.Columns[i].Name)) || equalFold(l.Columns[i].Name, "light2") || equalFold(l.Columns[i].Name, "lux2") {
			rank++ // the first of a pair comes first
		}
		if role != Skip && role != Time {
			claims[role] = append(claims[role], claim{i, rank})
		}
	}
	for role := Lat; role < roleCount; role++ {
		c := claims[role]
		slices.SortStableFunc(c, func(a, b claim) int { return a.rank - b.rank })
		if len(c) == 0 {
			continue
		}
		l.Columns[c[0].column].Role = role
		if role != Light {
			l.because("column %d is %v, by %q", c[0].column+1, role, l.Columns[c[0].column].evidence())
			continue
		}
		if c[0].rank >= voltsRank && l.unheaded(d) {
			l.Columns[c[0].column].Role = Skip
			l.because("column %d, %q, may be a battery's: another could be light", c[0].column+1, l.Columns[c[0].column].Name)
			continue
		}
		if by := &l.Columns[c[0].column]; by.suffix != "" && saysNothing(by.Name) {
			l.because("column %d is light, by %q in its cells", c[0].column+1, by.suffix)
		} else {
			l.because("column %d is light, by its heading %q", c[0].column+1, by.Name)
		}
		for i, other := range c[1:] {
			if i == 0 && other.rank <= c[0].rank+1 {
				l.Columns[other.column].Role = Light2
				l.because("column %d, %q, is the second light", other.column+1, l.Columns[other.column].Name)
				continue
			}
			l.because("column %d, %q, could be light too", other.column+1, l.Columns[other.column].Name)
		}
	}
}
