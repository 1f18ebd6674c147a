package air

import "math"

// A Column is the air, real or imagined, between a barometer and the sea. The zero
// value is a barometer at the sea in dry air of 0 degrees Celsius. Safe to copy and share.
type Column struct {
	HeightM   float64 // the barometer's, geopotential metres above the sea, [-500, 9000]
	TempC     float64 // of the air at the barometer, degrees Celsius, [-90, 60]; a mean over 12 h is better
	VapourHPa float64 // at the barometer, [0, 200]; 0 is dry air, and 10 hPa of it change 0.5 hPa at 1000 m
}

// vapourKelvin is what a hPa of vapour adds to the column's temperature, K/hPa.
// Source: WMO-No. 8, part I, chapter 3, reduction to mean sea level (from memory).
const vapourKelvin = 0.12

// logRatio is ln(p at the sea/p at the barometer). The lower half of the column is
// as much warmer than the barometer as the standard lapse makes it.
func (c Column) logRatio() (float64, error) {
	for _, err := range []error{
		within("Column.HeightM", c.HeightM, -500, 9000, "m"),
		within("Column.TempC", c.TempC, -90, 60, "degrees Celsius"),
		within("Column.VapourHPa", c.VapourHPa, 0, 200, "hPa"),
	} {
		if err != nil {
			return 0, err
		}
	}
	mean := zeroC + c.TempC + lapse*c.HeightM/2 + vapourKelvin*c.VapourHPa
	return gravity * c.HeightM / (dryGas * mean), nil
}

// SeaLevel reduces the pressure at the barometer, hPa, [200, 1200], to the sea:
//
//	p0 = p exp(g H/(R (T + 0.0065 H/2 + 0.12 e)))
//
// Source: WMO-No. 8, part I, chapter 3. One kelvin of error costs 0.04 hPa at
// 100 m and 0.4 hPa at 1000 m; services use it up to about 750 m (from memory).
func (c Column) SeaLevel(stationHPa float64) (float64, error) {
	ln, err := c.logRatio()
	if err != nil {
		return 0, err
	}
	if err := within("station pressure", stationHPa, 200, 1200, "hPa"); err != nil {
		return 0, err
	}
	return stationHPa * math.Exp(ln), nil
}

// Station undoes SeaLevel: the pressure, hPa, that a barometer reads where a
// weather map has seaHPa, [850, 1100]. The error is a *RangeError, for that or a field.
func (c Column) Station(seaHPa float64) (float64, error) {
	ln, err := c.logRatio()
	if err != nil {
		return 0, err
	}
	if err := within("sea-level pressure", seaHPa, 850, 1100, "hPa"); err != nil {
		return 0, err
	}
	return seaHPa * math.Exp(-ln), nil
}
