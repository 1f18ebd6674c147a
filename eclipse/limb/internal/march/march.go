// Package march finds the Moon's limb in a map of its heights: for each position
// angle it walks over the ground from this side of the limb to beyond it, and keeps
// what stands highest against the sky.
package march

import (
	"encoding/binary"
	"fmt"
	"math"
)

// The map is LDEM_4 of the laser altimeter's gridded data LRO-L-LOLA-4-GDR-V1.0 in
// simple cylindrical projection, as its label has it.
const (
	perDegree = 4
	columns   = 360 * perDegree // first sample 0.125 E, eastwards
	rows      = 180 * perDegree // first row 89.875 N, southwards
	unit      = 0.5e-3          // km

	// Radius of the sphere that heights are counted from, about the Moon's centre of
	// mass, km.
	Radius = 1737.4
	// Size of the file in bytes.
	Size = 2 * rows * columns
)

// A Map holds heights above the sphere of Radius.
type Map struct{ height []int16 }

// Read makes a map of a file's bytes, 16-bit integers, low byte first.
func Read(file []byte) (*Map, error) {
	if len(file) != Size {
		return nil, fmt.Errorf("march: the map has %d bytes, want %d", len(file), Size)
	}
	m := &Map{height: make([]int16, rows*columns)}
	for i := range m.height {
		m.height[i] = int16(binary.LittleEndian.Uint16(file[2*i:]))
	}
	return m, nil
}

// Height interpolates between the four samples around a place, km; degrees.
func (m *Map) Height(lat, lon float64) float64 {
	x, y := lon*perDegree-0.5, (90-lat)*perDegree-0.5
	i, j := math.Floor(x), math.Floor(y)
	fx, fy := x-i, y-j
	at := func(i, j int) float64 {
		if j < 0 || j >= rows { // over a pole
			i, j = i+columns/2, max(0, min(rows-1, j))
		}
		i = ((i % columns) + columns) % columns
		return float64(m.height[j*columns+i])
	}
	a, b := int(i), int(j)
	north := at(a, b)*(1-fx) + at(a+1, b)*fx
	south := at(a, b+1)*(1-fx) + at(a+1, b+1)*fx
	return unit * (north*(1-fy) + south*fy)
}

// Points is how many position angles a profile has, a fifth of a degree apart.
const Points = 1800

const (
	// distance of the observer, km: the mean of central eclipses, whose extremes move
	// the limb by 0.02 degrees.
	distance = 371e3
	// reach is how far before and beyond the limb a mountain can show, degrees: one of
	// ten kilometres is hidden 6.1 degrees behind a limb at the map's mean level.
	reach = 8.0
	// stride along the walk, degrees; the ground bends away by a metre within it.
	stride = 0.1

	deg = math.Pi / 180
)

// Profile is the limb for the observer at whose zenith on the Moon stand longitude l
// and latitude b, degrees: heights over the sphere of Radius, km, at position angles
// from the Moon's north pole through the sky's east. A height is that of the sphere
// whose limb would be seen where the highest ground is.
func (m *Map) Profile(l, b float64) []float64 {
	out := make([]float64, Points)
	sinl, cosl := math.Sincos(l * deg)
	sinb, cosb := math.Sincos(b * deg)
	here := [3]float64{cosb * cosl, cosb * sinl, sinb}
	north := [3]float64{-sinb * cosl, -sinb * sinl, cosb}
	east := [3]float64{sinl, -cosl, 0} // on the sky, which is west on the Moon
	horizon := math.Acos(Radius/distance) / deg
	for i := range out {
		sin, cos := math.Sincos(float64(i) * 360 / Points * deg)
		best := 0.0 // tangent of the angle from the Moon's centre
		for γ := horizon - reach; γ <= horizon+reach; γ += stride {
			sinγ, cosγ := math.Sincos(γ * deg)
			var p [3]float64
			for k := range p {
				p[k] = cosγ*here[k] + sinγ*(cos*north[k]+sin*east[k])
			}
			r := Radius + m.Height(math.Asin(p[2])/deg, math.Atan2(p[1], p[0])/deg)
			best = math.Max(best, r*sinγ/(distance-r*cosγ))
		}
		out[i] = distance*best/math.Hypot(1, best) - Radius
	}
	return out
}
