package sensor

import (
	"fmt"
	"math"
	"sort"
)

// An AngularResponse is what a sensor makes of light from the side, as a part of
// what the same beam gives straight on. Lux is defined for a cosine receiver, and the
// zero value is one; a lens sees less from the side and reads less.
type AngularResponse struct {
	// HalfAngleDeg is the angle off the axis at which half is left, 5 to 85 degrees:
	//
	//	response = cos^n(angle), n = ln(1/2)/ln cos(HalfAngleDeg)
	//
	// 0 means 60, where n is 1: the cosine. Clear lenses of 15 degrees have n = 20.
	HalfAngleDeg float64 `json:"half_angle_deg,omitempty"`
	// Points are the sensor's own curve instead, from a catalogue or a turntable: angles
	// that rise from 0, straight lines between, nothing beyond the last.
	Points []AnglePoint `json:"points,omitempty"`
	LnU    float64      `json:"ln_u,omitempty"` // standard uncertainty of ln response, off the axis
}

// An AnglePoint is a part of an AngularResponse's curve.
type AnglePoint struct {
	OffAxisDeg float64 `json:"off_axis_deg"` // 0 to 90
	Response   float64 `json:"response"`     // 0 to 1.5; that at 0 degrees is 1
}

// A Beam is light from one direction, as the Sun's or a lamp's.
type Beam struct {
	OffAxisDeg float64 // between the light and the sensor's axis, 0 to 90 degrees
	OffAxisU   float64 // its standard uncertainty, degrees; 0 to 90
}

const (
	deg           = math.Pi / 180 // radians in a degree
	cosineHalfDeg = 60
)

// Response is what is left at an angle off the axis, degrees, either way: 1 at 0,
// and 0 from 90 on or beyond the last point. NaN gives NaN.
func (a AngularResponse) Response(offAxisDeg float64) float64 {
	off := math.Abs(offAxisDeg)
	switch {
	case math.IsNaN(off):
		return off
	case off >= 90:
		return 0
	case len(a.Points) > 0:
		return a.between(off)
	}
	n := math.Log(0.5) / math.Log(math.Cos(orElse(a.HalfAngleDeg, cosineHalfDeg)*deg))
	return math.Pow(math.Cos(off*deg), n)
}

func (a AngularResponse) between(off float64) float64 {
	i := sort.Search(len(a.Points), func(i int) bool { return a.Points[i].OffAxisDeg > off })
	switch last := a.Points[len(a.Points)-1]; {
	case i == len(a.Points) && off > last.OffAxisDeg:
		return 0
	case i == len(a.Points):
		return last.Response
	}
	p, q := a.Points[i-1], a.Points[i] // the first is at 0
	return p.Response + (q.Response-p.Response)*(off-p.OffAxisDeg)/(q.OffAxisDeg-p.OffAxisDeg)
}

// toFace is by how much a reading must be multiplied to be the light of a beam on
// the sensor's face; 0 where nothing of the beam is seen.
func (a AngularResponse) toFace(offAxisDeg float64) float64 {
	left := a.Response(offAxisDeg)
	if !(left > 0) {
		return 0
	}
	return math.Cos(offAxisDeg*deg) / left
}

// lnU is the standard uncertainty of ln toFace for a beam: the response's own, and
// that of the angle through the slope, as a difference over it.
func (a AngularResponse) lnU(b Beam) float64 {
	own := 0.0
	if b.OffAxisDeg != 0 { // on the axis it is 1 by definition
		own = a.LnU
	}
	if b.OffAxisU == 0 { // known
		return own
	}
	low, high := b.OffAxisDeg-b.OffAxisU, math.Min(b.OffAxisDeg+b.OffAxisU, 89.9)
	near, far := a.toFace(low), a.toFace(high)
	if !(near > 0 && far > 0) {
		return math.Inf(1) // it may as well not be seen
	}
	return math.Hypot(own, 0.5*math.Log(far/near))
}

// LuxFrom is Lux for a beam of known direction: the light, lx, that the beam makes on
// a flat surface where the sensor's face is. Divided by the cosine of the angle it is
// that on a surface facing the beam. A beam that the sensor does not see, or does
// perhaps not see, is Missing. With a cosine receiver, and on the axis, it is Lux.
//
// Calibrate was told light on the axis. Diffuse light, as a sky's, comes from
// everywhere, and no single factor mends it.
func (c *Converter) LuxFrom(counts float64, b Beam) Reading {
	r := c.Lux(counts)
	factor, u := c.angular.toFace(b.OffAxisDeg), c.angular.lnU(b)
	if !(factor > 0) || !(u <= maxLnU) {
		return Reading{Lux: math.NaN(), LuxU: math.NaN(), RandomU: math.NaN(), Status: Missing}
	}
	return r.scaled(factor, u)
}

// CountsFrom undoes LuxFrom: the value logged, not rounded, where a beam makes lux on
// the sensor's face; NaN where the beam is not seen.
func (c *Converter) CountsFrom(lux float64, b Beam) float64 {
	factor := c.angular.toFace(b.OffAxisDeg)
	if !(factor > 0) {
		return math.NaN()
	}
	return c.Counts(lux / factor)
}

func (a AngularResponse) rows() []row {
	rows := []row{
		{"angular.half_angle_deg", orElse(a.HalfAngleDeg, cosineHalfDeg), 5, 85, ""},
		{"angular.ln_u", a.LnU, 0, maxLnU, ""},
	}
	if len(a.Points) == 0 {
		return rows
	}
	rows[0] = row{"angular.half_angle_deg beside angular.points", a.HalfAngleDeg, 0, 0, ""}
	least, most := 0.0, 0.0
	for i, p := range a.Points {
		at := fmt.Sprintf("angular.points[%d]", i)
		response := row{at + ".response", p.Response, 0, 1.5, ""}
		if i == 0 {
			response.min, response.max = 1, 1
		}
		rows = append(rows, row{at + ".off_axis_deg", p.OffAxisDeg, least, most, ""}, response)
		least, most = p.OffAxisDeg+0.01, 90
	}
	return rows
}
