package logfile

// A dateOrder gathers the evidence of late dates, those that no year of four
// digits leads, for what comes first in them.
type dateOrder struct {
	seen   int
	orders [MDY + 1]orderCase
}

// An orderCase is how the dates look under one order.
type orderCase struct {
	dates             int   // that are dates at all
	nearest, farthest int64 // steps from one stamp to the next where the date changes, s
	last, midnight    int64 // the stamp before and its day, seconds since 1970
}

// see takes the next stamp of a file in its order.
func (d *dateOrder) see(s stamp) {
	if !s.late {
		return
	}
	var at [MDY + 1]int64
	var ok [MDY + 1]bool
	for o := YMD; o <= MDY; o++ {
		t := s
		t.arrange(o)
		// Two digits of a year at the front are written with dashes, after the
		// truncated form of ISO 8601:1988; elsewhere they are asked for.
		if ok[o] = t.valid() && (o != YMD || s.dashed); ok[o] {
			at[o] = t.midnight()
		}
	}
	if !ok[YMD] && !ok[DMY] && !ok[MDY] {
		return // a clock that was not set says nothing
	}
	d.seen++
	for o := YMD; o <= MDY; o++ {
		if c := &d.orders[o]; ok[o] {
			c.take(at[o], s.clock())
		}
	}
}

func (c *orderCase) take(midnight, clock int64) {
	if c.dates > 0 && midnight != c.midnight {
		step := midnight + clock - c.last
		step = max(step, -step)
		if c.farthest == 0 || step < c.nearest {
			c.nearest = step
		}
		c.farthest = max(c.farthest, step)
	}
	c.dates++
	c.midnight, c.last = midnight, midnight+clock
}

// decide returns the order and why, or false where two are as good.
func (d *dateOrder) decide() (Order, string, bool) {
	if d.seen == 0 {
		return YMD, "", true
	}
	var able []Order
	for o := YMD; o <= MDY; o++ {
		if d.orders[o].dates == d.seen {
			able = append(able, o)
		}
	}
	switch len(able) {
	case 0:
		// Some dates contradict each other: damage, or a clock gone wild. The order
		// that reads nearly all of them holds.
		for o := YMD; o <= MDY; o++ {
			if d.orders[o].dates*10 >= d.seen*9 && d.orders[o].dates > d.most(o) {
				return o, "dates are " + o.words() + ": nearly all can be nothing else", true
			}
		}
		return Auto, "", false
	case 1:
		return able[0], "dates are " + able[0].words() + ": one of them can be nothing else", true
	}
	// Over midnight the clock runs on and the day steps by one; read in a wrong
	// order, by a month or a year.
	const hour, day = 3600, 86400
	for _, o := range able {
		if c := &d.orders[o]; c.farthest > 0 && c.nearest <= hour && c.farthest <= 3*day {
			return o, "dates are " + o.words() + ": only so does the clock run on over midnight", true
		}
	}
	return Auto, "", false
}

// most is how many dates the best of the other orders reads.
func (d *dateOrder) most(but Order) int {
	n := 0
	for o := YMD; o <= MDY; o++ {
		if o != but {
			n = max(n, d.orders[o].dates)
		}
	}
	return n
}
