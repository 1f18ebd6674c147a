package eclipse

import (
	"math"
	"time"

	"example.org/noonfall/sun/timescale"
)

// A Contact is an instant of a local eclipse. The zero value is one that does
// not take place.
type Contact struct {
	Exists  bool // it takes place, the Sun up or not
	TT      timescale.TT
	UTC, UT time.Time // UT is TT - Delta T, as almanacs print it
	Alt, Az float64   // of the Sun's centre without refraction, degrees
	// P and V are position angles on the Sun from north and from the zenith,
	// through east, degrees [0, 360): to the touching point, at maximum to the
	// Moon's centre.
	P, V  float64
	Above bool // the Sun is up by the observer's Horizon
}

// Instant dresses any instant with the clocks and angles of a Contact: P and V
// point to the Moon's centre. It serves what has no name here, such as
// LeastAxisDistance.
func (o *Observer) Instant(t timescale.TT) (c Contact) {
	o.dress(&c, o.hours(t), towards)
	return c
}

// side says on which side of the Sun the discs touch.
type side float64

const (
	towards side = 1  // in the Moon's direction: outer contacts, annular inner ones
	away    side = -1 // opposite: the last bead of a total eclipse
)

// A look is what dressing a contact leaves behind.
type look struct {
	pair pair
	h    float64 // local hour angle of the axis, radians, not reduced to a turn
}

// dress gives an instant, hours from T0, its clocks and angles.
func (o *Observer) dress(c *Contact, t float64, s side) look {
	var w view
	o.see(t, &w)
	p := w.discs(o.prep.k1, o.k)
	d := o.sun(&w, p.sunZ)

	c.Exists, c.TT = true, o.instant(t)
	c.UTC, c.UT = o.prep.clocks(c.TT)
	c.Alt = d.altitude()
	c.Az = circle(math.Atan2(-d.west, -d.south) / deg)
	east, north := o.across(&w, p.sunZ)
	c.P = circle(math.Atan2(float64(s)*east, float64(s)*north) / deg)
	c.V = circle(c.P - o.parallactic(d)/deg)
	c.Above = c.Alt > o.rising(p.sun)
	return look{p, w.h}
}

// clocks reads UTC and UT. Before the leap seconds UTC is UT1 too, but with the
// slow change of Delta T, which UT leaves out: a millisecond at most.
func (p *Prepared) clocks(t timescale.TT) (utc, ut time.Time) {
	reading := float64(t) - p.deltaT.Seconds
	ut = timescale.UT1(reading).Time()
	if p.early {
		return timescale.UT1(reading - p.dtDrift*float64(t-p.elements.T0)).Time(), ut
	}
	return p.opt.Scale.UTC(t), ut
}

// across gives the direction of the Moon's centre from the Sun's, along east and
// north on the sky, to a common scale.
func (o *Observer) across(w *view, sunZ float64) (east, north float64) {
	sx, sy, sz := w.u, w.v, sunZ
	// East is pole x Sun with the pole (0, cos d, sin d), north is Sun x east.
	// Moon and Sun stand on one line along z, the Moon below: its offset across
	// the sight is that of -z.
	ex, ey, ez := w.cosd*sz-w.sind*sy, w.sind*sx, -w.cosd*sx
	nz := sx*ey - sy*ex
	return -ez * math.Sqrt(sx*sx+sy*sy+sz*sz), -nz
}

// parallactic is the Sun's parallactic angle: the position angle of the zenith,
// positive west of the meridian, radians.
func (o *Observer) parallactic(d sight) float64 {
	// The usual atan2(sin H cos phi, sin phi cos delta - sin delta cos phi cos H),
	// both times cos delta and the square of the distance.
	meridian, pole := d.up*o.cosφ+d.south*o.sinφ, d.up*o.sinφ-d.south*o.cosφ
	level := meridian*meridian + d.west*d.west
	return math.Atan2(d.west*o.cosφ*math.Sqrt(level+pole*pole), o.sinφ*level-pole*meridian*o.cosφ)
}

// circle brings degrees from (-540, 540) into [0, 360).
func circle(d float64) float64 {
	if d < 0 {
		d += 360
	}
	if d < 0 {
		d += 360
	}
	if d >= 360 { // also what the sum of 360 and a tiny negative rounds to
		d -= 360
	}
	return d
}
