package air

import (
	"errors"
	"fmt"
	"math"
)

// zeroC is the freezing point in kelvin, exact by definition of the Celsius scale.
const zeroC = 273.15

// A Formula is a published formula for the vapour pressure at which air over
// water or ice is saturated. The zero value is the one that meteorological
// services use over water.
type Formula uint8

// The formulas, all of Magnus' form A exp(B t/(C+t)).
const (
	WMOWater              Formula = iota // -45 to 60 degrees Celsius
	WMOIce                               // -65 to 0
	AlduchovEskridgeWater                // -40 to 50
	AlduchovEskridgeIce                  // -80 to 0
)

var magnus = []struct {
	name     string
	a        float64 // hPa
	b        float64
	c        float64 // degrees Celsius
	min, max float64 // degrees Celsius
	source   string
}{
	WMOWater: {"WMO over water", 6.112, 17.62, 243.12, -45, 60, "WMO-No. 8 (CIMO guide), part I, annex 4.B; D. Sonntag, Z. Meteorol. 40 (1990) 340"},
	WMOIce:   {"WMO over ice", 6.112, 22.46, 272.62, -65, 0, "WMO-No. 8 (CIMO guide), part I, annex 4.B; D. Sonntag, Z. Meteorol. 40 (1990) 340"},
	AlduchovEskridgeWater: {"Alduchov and Eskridge over water", 6.1094, 17.625, 243.04, -40, 50,
		"O. A. Alduchov, R. E. Eskridge, J. Appl. Meteorol. 35 (1996) 601"},
	AlduchovEskridgeIce: {"Alduchov and Eskridge over ice", 6.1121, 22.587, 273.86, -80, 0,
		"O. A. Alduchov, R. E. Eskridge, J. Appl. Meteorol. 35 (1996) 601; the range from memory"},
}

// ErrFormula is returned by every method of a Formula that is none of the constants.
var ErrFormula = errors.New("air: unknown formula, use one of the package's constants")

// String names the authority and the surface, as in "WMO over water".
func (f Formula) String() string {
	if int(f) < len(magnus) {
		return magnus[f].name
	}
	return fmt.Sprintf("formula %d", uint8(f))
}

// Source is the publication that the formula is taken from; empty for an unknown one.
func (f Formula) Source() string {
	if int(f) < len(magnus) {
		return magnus[f].source
	}
	return ""
}

// raw is the formula without its range.
func (f Formula) raw(t float64) float64 {
	m := magnus[f]
	return m.a * math.Exp(m.b*t/(m.c+t))
}

// Saturation returns the vapour pressure, hPa, of pure water vapour over a plane
// surface at tempC degrees Celsius. Outside the formula's range it returns a
// *RangeError. Moist air at sea level holds 0.5 % more (WMO-No. 8, annex 4.B, from
// memory).
func (f Formula) Saturation(tempC float64) (float64, error) {
	if int(f) >= len(magnus) {
		return 0, ErrFormula
	}
	if err := within("temperature", tempC, magnus[f].min, magnus[f].max, "degrees Celsius"); err != nil {
		return 0, err
	}
	return f.raw(tempC), nil
}

// Temperature undoes Saturation: it returns the degrees Celsius at which vapour of
// a pressure in hPa saturates, which is the dew point, or over ice the frost point.
// A pressure that the formula does not reach in its range is a *RangeError.
func (f Formula) Temperature(vapourHPa float64) (float64, error) {
	if int(f) >= len(magnus) {
		return 0, ErrFormula
	}
	m := magnus[f]
	if err := within("vapour pressure", vapourHPa, f.raw(m.min), f.raw(m.max), "hPa"); err != nil {
		return 0, err
	}
	g := math.Log(vapourHPa / m.a)
	return min(max(m.c*g/(m.b-g), m.min), m.max), nil // the last bit may be outside
}
