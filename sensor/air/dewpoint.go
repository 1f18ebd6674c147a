package air

// maxHumidity, percent, leaves room for a sensor that reads over 100 in fog. No source.
const maxHumidity = 110

// RelativeHumidity returns how full the air is, percent: the vapour pressure over
// the saturation pressure at the air's temperature, both in hPa. Meteorology takes
// saturation over water also below freezing (WMO-No. 8, annex 4.B). Vapour is 0
// to 1100 hPa, saturation 1e-4 to 1100 hPa; a result over 110 % is a *RangeError too,
// for then the two do not belong together.
func RelativeHumidity(vapourHPa, saturationHPa float64) (float64, error) {
	if err := within("vapour pressure", vapourHPa, 0, 1100, "hPa"); err != nil {
		return 0, err
	}
	if err := within("saturation pressure", saturationHPa, 1e-4, 1100, "hPa"); err != nil {
		return 0, err
	}
	percent := 100 * vapourHPa / saturationHPa
	if err := within("relative humidity", percent, 0, maxHumidity, "%"); err != nil {
		return 0, err
	}
	return percent, nil
}

// Vapour returns the vapour pressure, hPa, in air of tempC degrees Celsius whose
// relative humidity is humidity percent, [0, 110].
func (f Formula) Vapour(tempC, humidity float64) (float64, error) {
	e, err := f.Saturation(tempC)
	if err != nil {
		return 0, err
	}
	if err := within("relative humidity", humidity, 0, maxHumidity, "%"); err != nil {
		return 0, err
	}
	return e * (humidity / 100), nil // in this order, so that 100 % changes no bit
}

// DewPoint returns the temperature, degrees Celsius, to which air of tempC must be
// cooled to be full, if its relative humidity is humidity percent. Both must refer
// to the same surface, water or ice. Air so dry that its dew point is below the
// formula's range is a *RangeError, and so is dry air of 0 %.
//
// The enhancement factor is on both sides, at one pressure, and cancels.
func (f Formula) DewPoint(tempC, humidity float64) (float64, error) {
	e, err := f.Vapour(tempC, humidity)
	if err != nil {
		return 0, err
	}
	return f.Temperature(e)
}

// Humidity undoes DewPoint: the relative humidity, percent, of air at tempC whose
// dew point is dewC, both in degrees Celsius. A dew point so far above the air's
// temperature that the humidity is over 110 % is a *RangeError.
func (f Formula) Humidity(tempC, dewC float64) (float64, error) {
	full, err := f.Saturation(tempC)
	if err != nil {
		return 0, err
	}
	e, err := f.Saturation(dewC)
	if err != nil {
		return 0, err
	}
	return RelativeHumidity(e, full)
}
