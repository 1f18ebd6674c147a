package air

// maxHumidity, percent, leaves room for a sensor that reads over 100 in fog. No source.
const maxHumidity = 110

// Vapour returns the vapour pressure, hPa, in air of tempC degrees Celsius whose
// relative humidity is humidity percent, [0, 110]. The error is a *RangeError.
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
// dew point is dewC, both in degrees Celsius. Meteorology takes saturation over water
// also below freezing (WMO-No. 8, annex 4.B). A dew point so far above the air's
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
	percent := 100 * e / full
	if err := within("relative humidity", percent, 0, maxHumidity, "%"); err != nil {
		return 0, err
	}
	return percent, nil
}
