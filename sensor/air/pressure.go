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
	earthRadius = 6356766                    // m, of the same standard, for geopotential height

	lowestM  = -1000 // our limit; the standard goes deeper
	highestM = 11000 // the tropopause, where the formula ends
)

// StandardPressure is the pressure, hPa, at a geopotential height in metres,
// [-1000, 11000], of the standard atmosphere.
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
// hundreds of metres: only differences within hours mean anything.
func PressureHeight(pressureHPa float64) (float64, error) {
	if err := within("pressure", pressureHPa, standardPressure(highestM), standardPressure(lowestM), "hPa"); err != nil {
		return 0, err
	}
	return seaLevelK / lapse * (1 - math.Pow(pressureHPa/seaLevelHPa, 1/exponent)), nil
}

// Geopotential turns metres above the sea into geopotential metres, in which the
// weakening of gravity with height is counted: 1000 m are 999.84. The range is [-1000, 12000].
func Geopotential(metres float64) (float64, error) {
	if err := within("height", metres, lowestM, 12000, "m"); err != nil {
		return 0, err
	}
	return earthRadius * metres / (earthRadius + metres), nil
}

// VirtualTemperature returns the temperature, degrees Celsius, that dry air would
// need to be as light as this air is with its vapour: T/(1 - 0.378 e/p) in kelvin,
// WMO-No. 8 and any textbook. Temperature -90 to 60 degrees Celsius, pressure 200 to
// 1200 hPa, vapour 0 to 200 hPa and less than the pressure's quarter.
func VirtualTemperature(tempC, vapourHPa, pressureHPa float64) (float64, error) {
	if err := within("temperature", tempC, -90, 60, "degrees Celsius"); err != nil {
		return 0, err
	}
	if err := within("pressure", pressureHPa, 200, 1200, "hPa"); err != nil {
		return 0, err
	}
	if err := within("vapour pressure", vapourHPa, 0, min(200, pressureHPa/4), "hPa"); err != nil {
		return 0, err
	}
	return (tempC+zeroC)/(1-0.378*vapourHPa/pressureHPa) - zeroC, nil
}

// Thickness returns how many geopotential metres lie between two pressures, hPa,
// [200, 1200], in air whose mean virtual temperature is virtualC, [-90, 80] degrees
// Celsius. It is positive where upper is the smaller pressure (hypsometric equation).
func Thickness(lowerHPa, upperHPa, virtualC float64) (float64, error) {
	if err := within("lower pressure", lowerHPa, 200, 1200, "hPa"); err != nil {
		return 0, err
	}
	if err := within("upper pressure", upperHPa, 200, 1200, "hPa"); err != nil {
		return 0, err
	}
	if err := within("virtual temperature", virtualC, -90, 80, "degrees Celsius"); err != nil {
		return 0, err
	}
	return dryGas * (virtualC + zeroC) / gravity * math.Log(lowerHPa/upperHPa), nil
}
