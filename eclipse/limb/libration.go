package limb

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// A Libration is how the Moon's globe is turned towards an observer.
type Libration struct {
	// Lon and Lat are where on the Moon the observer stands at the zenith, degrees,
	// positive east (on the Moon) and north: optical and physical libration together.
	// The axes are those of inertia, on which Lat is 0.022 more than on maps.
	Lon, Lat float64
	// Axis is the position angle of the Moon's north pole on the sky, from north
	// through east, degrees in [-90, 90]; within 25 of zero as eclipses go.
	Axis float64
}

// Libration returns how the Moon is turned towards the site at an instant. The bulletins'
// tables are met within 0.025 degrees.
func (m Moon) Libration(t timescale.TT) Libration {
	if m.observer == nil {
		return Libration{}
	}
	r := newRotation(t)
	_, moon := m.observer.Places(t)
	return r.seen(moon)
}

// seen is the libration for the Moon's apparent place.
func (r *rotation) seen(moon eclipse.Place) Libration {
	sα, cα := math.Sincos(moon.RA * deg)
	sδ, cδ := math.Sincos(moon.Dec * deg)
	// To the ecliptic of date, (13.1) and (13.2).
	y := sα*cδ*r.cε + sδ*r.sε
	z := sδ*r.cε - sα*cδ*r.sε
	λ, β := math.Atan2(y, cα*cδ), math.Asin(z)
	l, b := r.libration(λ-r.Δψ, β)
	return Libration{Lon: l / deg, Lat: b / deg, Axis: r.axis(moon.RA*deg, b) / deg}
}
