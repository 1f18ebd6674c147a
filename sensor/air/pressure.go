package air

import "math"

// The standard atmosphere's troposphere: U.S. Standard Atmosphere 1976, tables 1
// and 2, and ISO 2533:1975, which agree up to 32 km.
const (
	seaLevelHPa = 1013.25
	seaLevelK   = 288.15
	lapse       = 0.0065    // kelvin a metre, falling
	gravity     = 9.80665   // m/s2, the standard value
	molarMass   = 0.0289644 // kg/mol
	gasConstant = 8.31432   // J/(mol K), the 1976 standard's own value, not today's
	dryGas      = gasConstant / molarMass
	exponent    = gravity / (dryGas * lapse) // 5.255876

	lowestM  = -1000 // our limit; the standard goes deeper
	highestM = 11000 // the tropopause, where the formula ends
)

// StandardPressure is the pressure, hPa, at a geopotential height in metres,
// [-1000, 11000], of the standard atmosphere. Geopotential metres count the weakening of
// gravity with height: 1000 m above the sea are 999.84 of them. The error is a *RangeError.
func StandardPressure(heightM float64) (float64, error) {
	if err := within("height", heightM, lowestM, highestM, "m"); err != nil {
		return 0, err
	}
	return standardPressure(heightM), nil
}

func standardPressure(heightM float64) float64 {
	return seaLevelHPa * math.Pow(1-lapse*heightM/seaLevelK, exponent)
}

// PressureHeight undoes StandardPressure: the geopotential height in metres at
// which the standard atmosphere has a pressure in hPa, [226.32, 1139.3]. What a
// barometer calls height. At sea level one hPa is 8.3 m, and the weather moves it by
// hundreds of metres: only differences within hours mean anything. The error is a *RangeError.
func PressureHeight(pressureHPa float64) (float64, error) {
	if err := within("pressure", pressureHPa, standardPressure(highestM), standardPressure(lowestM), "hPa"); err != nil {
		return 0, err
	}
	return seaLevelK / lapse * (1 - math.Pow(pressureHPa/seaLevelHPa, 1/exponent)), nil
}
