package main

import (
	"errors"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// The prediction as a table of integers for a microcontroller, and how it is read there.
const (
	coarseStep = 20 * time.Second // of the whole table
	fineStep   = time.Second      // around the central phase, where light falls by decades
	fineMargin = 90 * time.Second // before second and after third contact: the last two decades of light

	perWhole  = 10000 // units of obscuration in the whole Sun
	perDecade = 1000  // units of light in a decade
	// dimmest and brightest are what a table of light may hold, lx: 16 bits have room for more.
	dimmest, brightest = 1e-6, 1e6
)

// A grating is obscuration and light at equal steps, with the error of reading it.
type grating struct {
	begin       time.Duration // after the epoch
	step        time.Duration
	obscuration []int16 // 1/10000 of the Sun's area
	light       []int16 // 1000 log10(lx)
	// obscurationErr and lightErr are the largest differences to the curve of what read
	// returns, in the units above, rounding included.
	obscurationErr, lightErr float64
}

// A firmware is all that is compiled in.
type firmware struct {
	epoch    time.Time // a whole minute, UTC
	coarse   grating
	fine     *grating // nil without a central phase
	contacts []moment
}

// compile makes the firmware; nil where there is nothing to record.
func (p *plan) compile() (*firmware, error) {
	from, until, ok := p.hours()
	if !ok {
		return nil, nil
	}
	o := p.edge.moon.Observer()
	light, err := p.curve(o)
	if errors.Is(err, eclipse.ErrNoEclipse) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	scale := o.Scale()
	up := func(t time.Time) bool { return light.At(scale.TT(t)).Alt > 0 }
	for ; from.Before(until) && !up(from); from = from.Add(time.Minute) {
	}
	for ; from.Before(until) && !up(until); until = until.Add(-time.Minute) {
	}
	if !from.Before(until) {
		return nil, nil
	}
	v := p.advice()
	f := &firmware{epoch: from, contacts: p.moments(v.second, v.third)}
	at := func(d time.Duration) eclipse.Point { return light.At(scale.TT(from) + timescale.TT(d.Seconds())) }
	whole := until.Sub(from)
	var begin, end time.Duration
	if v.second.Exists {
		begin = max(0, v.second.UTC.Sub(from)-fineMargin).Truncate(fineStep)
		end = min(whole, v.third.UTC.Sub(from)+fineMargin).Truncate(fineStep)
	}
	if begin < end {
		fine := ruled(at, begin, end, fineStep)
		fine.measure(at, func(time.Duration) bool { return true })
		f.fine = &fine
	}
	f.coarse = ruled(at, 0, whole, coarseStep)
	f.coarse.measure(at, func(d time.Duration) bool { return d < begin || d >= end })
	return f, nil
}

// ruled reads a curve at equal steps.
func ruled(at func(time.Duration) eclipse.Point, begin, end, step time.Duration) grating {
	g := grating{begin: begin, step: step}
	for d := begin; d <= end; d += step {
		obscuration, light := units(at(d))
		g.obscuration = append(g.obscuration, int16(math.Round(obscuration)))
		g.light = append(g.light, int16(math.Round(light)))
	}
	return g
}

// units is a point of the curve in the table's units, not yet rounded.
func units(pt eclipse.Point) (obscuration, light float64) {
	lux := math.Min(math.Max(pt.Lux, dimmest), brightest) // NaN does not occur: the curve has none
	return pt.Obscuration * perWhole, perDecade * math.Log10(lux)
}

// end is the last instant of the table.
func (g *grating) end() time.Duration {
	return g.begin + time.Duration(len(g.light)-1)*g.step
}

// read is what the C code does, with the same integers.
func (g *grating) read(row []int16, at time.Duration) int {
	ms := int((at - g.begin) / time.Millisecond)
	step := int(g.step / time.Millisecond)
	i, rest := ms/step, ms%step
	if i >= len(row)-1 {
		return int(row[len(row)-1])
	}
	a, b := int(row[i]), int(row[i+1])
	return a + (b-a)*rest/step
}

// measure reads the table at twenty places a step, where it is in use.
func (g *grating) measure(at func(time.Duration) eclipse.Point, used func(time.Duration) bool) {
	for d := g.begin; d <= g.end(); d += g.step / 20 {
		if !used(d) {
			continue
		}
		obscuration, light := units(at(d))
		g.obscurationErr = math.Max(g.obscurationErr, math.Abs(float64(g.read(g.obscuration, d))-obscuration))
		g.lightErr = math.Max(g.lightErr, math.Abs(float64(g.read(g.light, d))-light))
	}
}

// size is that of the tables, bytes.
func (f *firmware) size() int {
	const pair, contact = 2 * 2, 4 + 4
	n := pair*len(f.coarse.light) + contact*len(f.contacts)
	if f.fine != nil {
		n += pair * len(f.fine.light)
	}
	return n
}

// next is the first contact not yet past; ok is false after the last.
func (f *firmware) next(at time.Duration) (m moment, seconds int, ok bool) {
	for _, m := range f.contacts {
		if left := m.UTC.Sub(f.epoch) - at; left >= 0 {
			return m, int(left / time.Second), true
		}
	}
	return moment{}, 0, false
}

// each visits the rows in order of time: the coarse ones, with the fine ones in their places.
func (f *firmware) each(visit func(g *grating, i int)) {
	done := f.fine == nil
	fine := func() {
		for i := range f.fine.light {
			visit(f.fine, i)
		}
		done = true
	}
	for i := range f.coarse.light {
		at := f.coarse.begin + time.Duration(i)*f.coarse.step
		if !done && at >= f.fine.begin {
			fine()
		}
		if f.fine == nil || at < f.fine.begin || at > f.fine.end() {
			visit(&f.coarse, i)
		}
	}
	if !done {
		fine()
	}
}
