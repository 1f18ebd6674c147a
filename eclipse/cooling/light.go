package cooling

import (
	"iter"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// A Light is the eclipse at the site: an [eclipse.Curve], or that of the Moon's
// real limb.
type Light interface {
	Circumstances() eclipse.Circumstances
	Observer() *eclipse.Observer
	All(step time.Duration) iter.Seq[eclipse.Point]
}

// drives is in how many ways lost light is counted: by the part of the Sun that is
// hidden, by the insolation that is lost, and half-way between (geometric mean).
const drives = 3

// A day is what drives the air: the light that the Moon takes, and the insolation
// of a day without it.
type day struct {
	since func(time.Time) float64
	utc   func(float64) time.Time
	c1    float64
	c4    float64
	lost  [drives]course
	sunny course // clear-sky insolation, of its greatest value in the window
	warm  course // the same, as ground with a memory of two hours has felt it
	kinds []kind // of the air's answer
}

// window is how long before first and after last contact readings are used, s. The
// day's course bends, and what is farther says little about the eclipse's hours.
const window = 7200.0

func newDay(l Light) (*day, error) {
	o, circ := l.Observer(), l.Circumstances()
	if circ.Seen == eclipse.None {
		return nil, refuse(NotSeen, "the Sun is below the horizon throughout, or the Moon's shadow passes the site by")
	}
	scale, max := o.Scale(), circ.Max.TT
	d := &day{
		since: func(t time.Time) float64 { return float64(scale.TT(t) - max) },
		c1:    float64(circ.C1.TT - max), c4: float64(circ.C4.TT - max),
	}
	at := circ.Max.UTC
	d.utc = func(x float64) time.Time { return at.Add(time.Duration(x * 1e9)).Round(time.Millisecond) }
	s, err := sun.NewObserver(o.Site(), scale)
	if err != nil {
		return nil, err
	}
	const memory = 6 * 3600 // s of Sun before the window, for the ground
	from, to := d.c1-window-memory, d.c4+window+tick
	n := int((to-from)/tick) + 2
	d.sunny = newCourse(from, n, 1)
	var civil *sun.Day // of the instant at hand
	end := max         // of that day
	for i := range n {
		t := scale.TT(d.utc(from + tick*float64(i)))
		if civil == nil || t >= end {
			if civil, err = s.Day(scale.UTC(t)); err != nil {
				return nil, err
			}
			end = scale.TT(civil.End())
		}
		h := civil.Position(t)
		d.sunny.v[i] = sun.Sky{}.Illuminance(h.Alt, h.Distance).Global
	}
	most, _ := d.sunny.most(0)
	for i := range d.sunny.v {
		d.sunny.v[i] /= most
	}
	d.warm = d.sunny.lagged(7200)
	d.shade(l, n, 1e3/most)
	return d, nil
}

// shade fills what is lost. Of the Sun's light below a thousand lux nothing is
// lost: it warms nothing.
func (d *day) shade(l Light, n int, dusk float64) {
	flux := newCourse(d.sunny.from, n, 1)
	for p := range l.All(time.Duration(tick * 1e9)) {
		if i := int(math.Round((d.since(p.UTC) - flux.from) / tick)); i >= 0 && i < n {
			flux.v[i] = 1 - p.Flux
		}
	}
	// Before first contact nothing is lost, and a course stays where it begins.
	first := max(0, int((d.c1-flux.from)/tick)-1)
	for k := range d.lost {
		d.lost[k] = newCourse(flux.from+tick*float64(first), n-first, 1)
	}
	for i, f := range flux.v[first:] {
		sunny := d.sunny.v[first+i]
		d.lost[0].v[i] = f * math.Min(1, sunny/dusk)
		d.lost[1].v[i] = f * sunny
		d.lost[2].v[i] = math.Sqrt(d.lost[0].v[i] * d.lost[1].v[i])
	}
}
