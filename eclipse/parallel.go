package eclipse

import (
	"math"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A Parallel watches one eclipse from sites of one latitude and height, one after
// the other: a row of a map. It remembers the last sites, so that neighbours, in
// steps of a degree or so, cost a few dozen nanoseconds each. At places it; the
// other methods then tell of that site what Circumstances would. It changes with
// each call of At and is not safe for concurrent use: make one for each row. The
// zero value is of no use: Prepared.Parallel makes one.
type Parallel struct {
	o    Observer // at the site; its passage is not worked out
	lons [3]float64
	mids [3]float64 // hours from T0 when the last sites were deepest, latest first
	past int        // how many of them are known

	clearLon, clearBy float64 // degrees: within this of that there is no eclipse

	kind  Kind    // None outside the penumbra
	top   float64 // maximum, hours from T0
	ratio float64 // of the radii at maximum
	apart float64 // the separation then, solar radii

	reach
	glimpse
}

// oneLook is how far from maximum, hours, a look serves: the parabola is off by a
// tenth of the cube, 1e-11 square solar radii.
const oneLook = 5e-4

// Parallel makes ready the one of a latitude, degrees north, [-90, 90], and a height, metres
// above the ellipsoid, [-500, 9000]. The error is a *sun.RangeError.
func (p *Prepared) Parallel(lat, height float64) (Parallel, error) {
	site := sun.Site{Lat: lat, Height: height}
	if err := site.Validate(); err != nil {
		return Parallel{}, err
	}
	r := Parallel{o: Observer{prep: p, site: site, k: p.k1}}
	r.o.sinφ, r.o.cosφ = math.Sincos(lat * deg)
	r.o.rhoSin, r.o.rhoCos = site.Geocentric()
	r.reach = r.o.reach()
	r.cosH = 1 // of a zero hour angle, from where to turn
	r.inverse1 = 1 / p.elements.TanF1[0]
	return r, nil
}

// At places the observer at an east longitude, degrees, whole turns ignored, and
// says whether the site enters the penumbra, be the Sun up or not. At NaN or an
// infinity nothing does.
//
// The instant is extrapolated from the neighbours and put right by the parabola of
// maximum, so that one look is enough for most. No answer rests on the neighbours: a
// least distance found inside the penumbra is the only one that there is (see
// passage), and outside is said only where the site cannot come back in, which also
// speaks for sites about it. What is neither is worked out from nothing.
func (r *Parallel) At(lon float64) bool {
	o := &r.o
	if o.site.Lon = lon; !(lon >= -180 && lon < 360) {
		o.site.Lon = math.Remainder(lon, 360)
	}
	o.lon = (o.site.Lon - o.prep.lag) * deg
	r.kind = None
	if math.Abs(lon-r.clearLon) < r.clearBy {
		return false
	}
	t := r.guess(lon)
	for range mostSteps {
		if !(math.Abs(t) <= o.prep.elements.Span) {
			break // no bound holds beyond the polynomials
		}
		r.look(o, t)
		where, off := r.approach(&r.glimpse, o.prep)
		switch where {
		case outOfReach:
			r.remember(lon, t+off)
			if free := r.clearance(&r.glimpse, o.prep); free > 0 {
				r.clearLon, r.clearBy = lon, free/o.rhoCos/deg
			}
			return false
		case near:
			d := r.maximum(o.prep)
			if off = d.off; math.Abs(off) <= oneLook {
				r.remember(lon, t+off)
				return r.settle(lon, t+off, &d)
			}
		case unclear:
			return r.cold(lon)
		}
		t += max(-1, min(1, off))
	}
	return r.cold(lon)
}

// guess is when the site should be deepest: by the neighbours' parabola where they
// stand in equal steps, by their line where not, by how far the shadow has to come
// along its track where there are none.
func (r *Parallel) guess(lon float64) float64 {
	const far = 10 // degrees: a neighbour no more
	if a, b := lon-r.lons[0], r.lons[0]-r.lons[1]; r.past >= 2 && math.Abs(a) < far && b != 0 {
		c := r.lons[1] - r.lons[2]
		if r.past == 3 && math.Abs(a-b) < 1e-9 && math.Abs(b-c) < 1e-9 { // degrees: rounded sums
			return 3*(r.mids[0]-r.mids[1]) + r.mids[2]
		}
		if math.Abs(a) <= 2*math.Abs(b) {
			return r.mids[0] + (r.mids[0]-r.mids[1])*(a/b)
		}
	}
	t := r.mids[0]
	for range mostSteps {
		var w view
		var m rate
		r.o.see(t, &w)
		r.o.move(t, &w, &m)
		step := r.o.alongTrack(&w, &m)
		t += step
		if math.Abs(step) < 0.5 {
			break
		}
	}
	return t
}

func (r *Parallel) remember(lon, t float64) {
	r.lons = [3]float64{lon, r.lons[0], r.lons[1]}
	r.mids = [3]float64{t, r.mids[0], r.mids[1]}
	r.past = min(3, r.past+1)
}

// settle takes over a maximum at t.
func (r *Parallel) settle(lon, t float64, d *deepest) bool {
	p := r.o.prep
	if math.Abs(t) > p.elements.Span-0.01 {
		return r.cold(lon) // the polynomials end here or near
	}
	r.top, r.ratio, r.apart = t, d.ratio, d.apart
	if r.u*r.u+r.v*r.v < r.umbra*r.umbra {
		var w view
		var m rate
		r.o.see(t, &w)
		r.o.move(t, &w, &m)
		inner := outside(&w, &m, w.l2, m.l2)
		switch g, _ := inner.least(); {
		case math.Abs(g) < 1e-9: // a foot from the limit
			return r.cold(lon)
		case g < 0:
			r.kind, r.ratio = inUmbra(&w), r.ratio*p.k2/p.k1
			return true
		}
	}
	switch over := 1 + r.ratio - r.apart; {
	case math.Abs(over) < 1e-6: // twice the magnitude; the cones' own rounding
		return r.cold(lon)
	case over > 0:
		r.kind = Partial
	}
	return r.kind != None
}

// inUmbra is the kind of a central eclipse.
func inUmbra(w *view) Kind {
	if w.l2 < 0 {
		return Total
	}
	return Annular
}

// cold works the site out from nothing, as Circumstances does.
func (r *Parallel) cold(lon float64) bool {
	r.kind, r.past = None, 0
	o, err := r.o.prep.Observer(r.o.site)
	if err != nil || !o.pass.seen {
		return false
	}
	var w view
	r.kind, r.top = Partial, o.pass.mid
	if o.pass.central {
		r.top = o.pass.inner
		o.see(r.top, &w)
		r.kind = inUmbra(&w)
	}
	r.top = o.maximum(r.top)
	o.see(r.top, &w)
	p := w.discs(o.prep.k1, o.k)
	r.ratio, r.apart = p.moon/p.sun, p.separation/p.sun
	r.remember(lon, r.top)
	r.look(&r.o, r.top)
	return true
}

// Elements returns the eclipse's elements.
func (r *Parallel) Elements() *Elements { return r.o.prep.elements }

// Site is where At has placed the observer.
func (r *Parallel) Site() sun.Site { return r.o.site }

// Circumstances are those of Observer.Circumstances at the site, bit for bit, and
// cost what they cost there.
func (r *Parallel) Circumstances() Circumstances {
	if r.kind != None {
		if o, err := r.o.prep.Observer(r.o.site); err == nil {
			return o.Circumstances()
		}
	}
	return r.o.Circumstances() // no passage: nothing takes place
}

// Geometry is the kind of the eclipse, the horizon ignored.
func (r *Parallel) Geometry() Kind { return r.kind }

// Max is the instant of maximum, within 0.02 s of that of Circumstances, and T0
// where there is no eclipse.
func (r *Parallel) Max() timescale.TT {
	if r.kind == None {
		return r.o.prep.elements.T0
	}
	return r.o.instant(r.top)
}

// Magnitude is that at maximum, the ratio of the diameters where the eclipse is
// central and 0 where there is none.
func (r *Parallel) Magnitude() float64 {
	switch r.kind {
	case None:
		return 0
	case Partial:
		return (1 + r.ratio - r.apart) / 2
	}
	return r.ratio
}

// Obscuration is the covered part of the Sun's area at maximum, be the Sun up or
// not: within 1e-7 of that of Circumstances.
func (r *Parallel) Obscuration() float64 {
	if r.kind == None {
		return 0
	}
	return disc.Overlap(r.ratio, r.apart)
}

// SunAlt is the altitude of the Sun's centre at maximum without refraction,
// degrees, and NaN where there is no eclipse.
func (r *Parallel) SunAlt() float64 {
	if r.kind == None {
		return math.NaN()
	}
	var w view
	r.o.see(r.top, &w)
	moonZ, apart := w.bodies(r.o.prep.k1)
	return r.o.sun(&w, moonZ+apart).altitude()
}
