package fit

import (
	"math"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A clearTable holds the clear sky around an eclipse, so that a day of shifts
// costs one table. It is made as far as it is asked for: a clock that is right to
// minutes needs the eclipse's own hours.
type clearTable struct {
	max      timescale.TT
	first    float64 // s from maximum
	days     []daytime
	from, to int       // steps that are made: from the one to before the other
	log      []float64 // of the illuminance, lx
	beam     []beam
}

// A daytime is a civil day and the instant at which it ends.
type daytime struct {
	day *sun.Day
	end timescale.TT
}

// A beam is what a clear sky's light does on a sensor that is not as the
// prediction thinks: derivatives with respect to what is unknown.
type beam struct {
	share float64 // part of the light that comes from the disc
	east  float64 // part that the disc's light gains for each radian by which the sensor leans east,
	north float64 // and north
	mass  float64 // air mass
	slant float64 // logarithm of the sine of the altitude
}

// Half a day's clock error, a zone and the log's own length lie within the
// table; its step is fine enough for the steep light of a rising Sun (cubic
// interpolation, worst error 2e-4 above one degree of altitude).
const (
	clearStep = 120.0
	clearSpan = 30 * 3600.0
)

func newClearTable(site sun.Site, scale timescale.Scale, max timescale.TT) (clearTable, error) {
	o, err := sun.NewObserver(site, scale)
	if err != nil {
		return clearTable{}, err
	}
	n := int(2*clearSpan/clearStep) + 1
	c := clearTable{max: max, first: -clearSpan, log: make([]float64, n), beam: make([]beam, n)}
	last := daytime{end: timescale.TT(math.Inf(-1))}
	for i := range n {
		t := c.instant(i)
		if t < last.end {
			continue
		}
		if last.day, err = o.Day(scale.UTC(t)); err != nil {
			return clearTable{}, err
		}
		last.end = scale.TT(last.day.End())
		c.days = append(c.days, last)
	}
	return c, nil
}

func (c *clearTable) instant(step int) timescale.TT {
	return c.max + timescale.TT(c.first+float64(step)*clearStep)
}

// reach makes the steps around a place, and all between them and what is made. It says
// whether they lie within the table.
func (c *clearTable) reach(place float64) bool {
	if !(place >= 1 && place < float64(len(c.log)-2)) { // false for NaN
		return false
	}
	i := int(place)
	if c.from == c.to {
		c.from, c.to = i, i
	}
	for ; c.to <= i+2; c.to++ {
		c.fill(c.to)
	}
	for ; c.from >= i; c.from-- {
		c.fill(c.from - 1)
	}
	return true
}

func (c *clearTable) fill(step int) {
	t := c.instant(step)
	d := 0
	for t >= c.days[d].end {
		d++
	}
	h := c.days[d].day.Position(t)
	var sky sun.Sky
	light := sky.Illuminance(h.Alt, h.Distance)
	c.log[step] = math.Log(math.Max(light.Global, darkest))
	c.beam[step] = newBeam(h, light)
}

func newBeam(h sun.Horizontal, light sun.Light) beam {
	const lowest = 0.035 // sine of two degrees: below, no light is used
	sin, cos := math.Sincos(h.Alt * deg)
	sin = math.Max(sin, lowest)
	east, north := math.Sincos(h.Az * deg)
	return beam{
		share: light.DirectHorizontal / math.Max(light.Global, darkest),
		east:  cos * east / sin, north: cos * north / sin,
		mass: sun.AirMass(h.Alt), slant: math.Log(sin),
	}
}

const deg = math.Pi / 180 // radians in a degree

// darkest keeps the logarithm of a night finite: a moonless clear night, lx
// (testdata/references/natural_illuminance.csv).
const darkest = 0.002

// at is the logarithm of the clear sky's lux, by Catmull and Rom's cubic; past
// the table it is night.
func (c *clearTable) at(t float64) float64 {
	x := (t - c.first) / clearStep
	i := int(x)
	if !(i > c.from && i < c.to-2) && !c.reach(x) {
		return math.Log(darkest)
	}
	x -= float64(i)
	a, b, d, e := c.log[i-1], c.log[i], c.log[i+1], c.log[i+2]
	return b + x/2*(d-a+x*(2*a-5*b+4*d-e+x*(3*(b-d)+e-a)))
}

// beamAt reads the beam by straight lines, which serve for a nuisance.
func (c *clearTable) beamAt(t float64) beam {
	x := (t - c.first) / clearStep
	i := int(x)
	if !(i > c.from && i < c.to-2) && !c.reach(x) {
		return beam{}
	}
	f := x - float64(i)
	a, b := &c.beam[i], &c.beam[i+1]
	mix := func(p, q float64) float64 { return p + f*(q-p) }
	return beam{mix(a.share, b.share), mix(a.east, b.east), mix(a.north, b.north), mix(a.mass, b.mass), mix(a.slant, b.slant)}
}

// A mount is how the sensor leans, radians east and north of the zenith.
type mount struct{ east, north float64 }

// A stance is what a mount does to one reading: the logarithm of the clear
// light's change, one over the change, and the derivatives of the former.
type stance struct{ change, over, east, north, air, slant float64 }

// stand lays a beam on a leaning sensor. Behind the sensor's plane the disc's
// light fades out without a step, as it does in a diffuser.
func (m mount) stand(b beam) stance {
	const rim = 0.1 // sine of the angle over which it fades; common practice, no source
	x := 1 + m.east*b.east + m.north*b.north
	r := math.Hypot(x, rim)
	q, dq := (x+r)/2, (1+x/r)/2
	light := b.share*q + 1 - b.share
	disc := b.share * q / light
	lean := b.share * dq / light
	return stance{change: math.Log(light), over: 1 / light, east: lean * b.east, north: lean * b.north, air: -disc * b.mass, slant: disc * b.slant}
}
