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

// tick is the step of all courses inside, s. Answers take minutes.
const tick = 30.0

// A course is a function of time on a grid of ticks, before and after which it stays.
type course struct {
	from float64 // s from maximum
	v    []float64
}

func (c *course) at(t float64) float64 {
	u := math.Max(0, math.Min(float64(len(c.v)-1), (t-c.from)/tick))
	i := min(int(u), len(c.v)-2)
	f := u - float64(i)
	return c.v[i] + f*(c.v[i+1]-c.v[i])
}

// lagged is the answer of a first-order response to the course: tau dy/dt = x - y,
// exact for straight lines between ticks (as sensor/air has it), settled at the start.
func (c *course) lagged(tau float64) course {
	out := course{c.from, make([]float64, len(c.v))}
	if tau <= 0 {
		copy(out.v, c.v)
		return out
	}
	keep := math.Exp(-tick / tau)
	new := 1 - (tau/tick)*(1-keep) // weight of the newer end
	old := 1 - keep - new
	y := c.v[0]
	i := 0
	for ; i < len(c.v) && c.v[i] == y; i++ { // exactly: it has settled there, before first contact at nothing
		out.v[i] = y
	}
	for ; i < len(c.v); i++ {
		y = keep*y + new*c.v[i] + old*c.v[i-1]
		out.v[i] = y
	}
	return out
}

func (c *course) plus(o course, mine, theirs float64) course {
	out := course{c.from, make([]float64, len(c.v))}
	for i := range c.v {
		out.v[i] = mine*c.v[i] + theirs*o.v[i]
	}
	return out
}

// tilted grows by that part of itself in a second, none at maximum.
func (c *course) tilted(rate float64) course {
	out := course{c.from, make([]float64, len(c.v))}
	for i, v := range c.v {
		out.v[i] = v * math.Exp(rate*(c.from+tick*float64(i)))
	}
	return out
}

// most is the greatest value and where it is, with a parabola through its neighbours.
func (c *course) most() (value, at float64) {
	k := 0
	for i, v := range c.v {
		if v > c.v[k] {
			k = i
		}
	}
	value, at = c.v[k], c.from+tick*float64(k)
	if k > 0 && k < len(c.v)-1 {
		a, b := c.v[k-1], c.v[k+1]
		if d := a - 2*value + b; d < 0 {
			u := 0.5 * (a - b) / d
			return value - 0.25*(a-b)*u, at + tick*u
		}
	}
	return value, at
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
	d.sunny = course{from, make([]float64, n)}
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
	most, _ := d.sunny.most()
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
	flux := course{d.sunny.from, make([]float64, n)}
	for p := range l.All(time.Duration(tick * 1e9)) {
		if i := int(math.Round((d.since(p.UTC) - flux.from) / tick)); i >= 0 && i < n {
			flux.v[i] = 1 - p.Flux
		}
	}
	// Before first contact nothing is lost, and a course stays where it begins.
	first := max(0, int((d.c1-flux.from)/tick)-1)
	for k := range d.lost {
		d.lost[k] = course{flux.from + tick*float64(first), make([]float64, n-first)}
	}
	for i, f := range flux.v[first:] {
		sunny := d.sunny.v[first+i]
		d.lost[0].v[i] = f * math.Min(1, sunny/dusk)
		d.lost[1].v[i] = f * sunny
		d.lost[2].v[i] = math.Sqrt(d.lost[0].v[i] * d.lost[1].v[i])
	}
}
