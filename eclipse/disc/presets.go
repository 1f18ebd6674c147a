package disc

import (
	"fmt"
	"math"
)

// A published law of one wavelength.
type published struct {
	nm   float64 // wavelength, nm
	a    [6]float64
	mean float64 // mean brightness over the centre's, as printed beside it
}

// neckelLabs is the main coefficient table of H. Neckel & D. Labs, Solar Physics
// 153 (1994) 91, continuum, 303 to 1099 nm. The row for 365.875 nm is left out:
// as it has come down its coefficients add up to 0.998, where every other row
// adds up to 1 within 2e-5.
var neckelLabs = [...]published{
	{303.327, [6]float64{0.08011, 0.70695, 0.4991, -0.3108, -0.02177, 0.04642}, 0.6826},
	{310.843, [6]float64{0.0816, 0.71609, 0.69685, -0.87703, 0.47008, -0.0876}, 0.6883},
	{320.468, [6]float64{0.08833, 0.77285, 0.65382, -1.04647, 0.72921, -0.19775}, 0.6985},
	{329.897, [6]float64{0.09188, 0.92459, 0.19604, -0.39546, 0.23599, -0.05303}, 0.7116},
	{349.947, [6]float64{0.11012, 1.02168, -0.10924, -0.00055, -0.08688, 0.06487}, 0.7260},
	{374.086, [6]float64{0.12579, 0.85402, 0.54601, -1.15048, 0.88928, -0.26462}, 0.7288},
	{390.915, [6]float64{0.12995, 0.91836, -0.07566, 0.19149, -0.28712, 0.12298}, 0.7204},
	{401.97, [6]float64{0.12323, 1.08648, -0.43974, 0.45912, -0.32759, 0.0985}, 0.7303},
	{416.319, [6]float64{0.12814, 1.19947, -0.84407, 1.07201, -0.79537, 0.23982}, 0.7380},
	{427.93, [6]float64{0.14249, 1.28796, -1.19564, 1.68603, -1.36658, 0.44572}, 0.7495},
	{443.885, [6]float64{0.1622, 1.24893, -0.92165, 0.89978, -0.50148, 0.1122}, 0.7588},
	{445.125, [6]float64{0.15248, 1.38517, -1.49615, 1.99886, -1.48155, 0.44119}, 0.7596},
	{457.345, [6]float64{0.16604, 1.38544, -1.52275, 2.00232, -1.45969, 0.42864}, 0.7651},
	{477.427, [6]float64{0.19571, 1.30551, -1.25845, 1.50626, -1.05472, 0.3057}, 0.7751},
	{492.905, [6]float64{0.20924, 1.30798, -1.20411, 1.21505, -0.67196, 0.14381}, 0.7823},
	{519.93, [6]float64{0.23695, 1.29927, -1.28034, 1.3776, -0.85054, 0.21706}, 0.7925},
	{541.76, [6]float64{0.26073, 1.27428, -1.30352, 1.47085, -0.96618, 0.26384}, 0.8002},
	{559.95, [6]float64{0.26892, 1.34319, -1.58427, 1.91271, -1.3135, 0.37295}, 0.8061},
	{579.88, [6]float64{0.28392, 1.36896, -1.75998, 2.22154, -1.56074, 0.4463}, 0.8125},
	{610.975, [6]float64{0.30854, 1.3662, -1.83572, 2.33221, -1.63082, 0.45959}, 0.8221},
	{640.97, [6]float64{0.33644, 1.3059, -1.79238, 2.4504, -1.89979, 0.59943}, 0.8290},
	{669.4, [6]float64{0.34685, 1.37539, -2.04425, 2.70493, -1.9429, 0.55999}, 0.8360},
	{700.875, [6]float64{0.37885, 1.25553, -1.70908, 2.19647, -1.59554, 0.47378}, 0.8434},
	{748.71, [6]float64{0.40627, 1.22842, -1.67877, 2.05535, -1.39972, 0.38845}, 0.8524},
	{811.76, [6]float64{0.42977, 1.25182, -1.85164, 2.31949, -1.59101, 0.44155}, 0.8621},
	{869.6, [6]float64{0.45396, 1.25101, -2.02958, 2.7541, -2.02287, 0.59338}, 0.8701},
	{948.85, [6]float64{0.47855, 1.19813, -1.86296, 2.36939, -1.64367, 0.46056}, 0.8773},
	{1046.6, [6]float64{0.4987, 1.21429, -2.06976, 2.80703, -2.05247, 0.60221}, 0.8841},
	{1098.95, [6]float64{0.51149, 1.19354, -2.00174, 2.66936, -1.94981, 0.57715}, 0.8890},
}

// NeckelLabs is the fifth-order law of Neckel & Labs 1994 at a wavelength in
// nm, between rows of the table by linear interpolation of its coefficients.
// Outside 303.327 to 1098.95 nm it is a *RangeError.
func NeckelLabs(nm float64) (Law, error) {
	t := neckelLabs[:]
	if !(nm >= t[0].nm && nm <= t[len(t)-1].nm) {
		return Law{}, &RangeError{NM: nm, Min: t[0].nm, Max: t[len(t)-1].nm}
	}
	i := 0
	for i+2 < len(t) && t[i+1].nm <= nm {
		i++
	}
	f := (nm - t[i].nm) / (t[i+1].nm - t[i].nm)
	var a [6]float64
	for k := range a {
		a[k] = t[i].a[k] + f*(t[i+1].a[k]-t[i].a[k])
	}
	return Polynomial(a)
}

// A RangeError is a wavelength for which nothing was published.
type RangeError struct{ NM, Min, Max float64 }

func (e *RangeError) Error() string {
	return fmt.Sprintf("disc: no limb darkening at %g nm, the table runs from %g to %g nm", e.NM, e.Min, e.Max)
}

// Handbook550 is the quadratic law at 550 nm of A. N. Cox (ed.), Allen's
// Astrophysical Quantities, 4th ed. (2000), section 14.7:
// I = 0.30 + 0.93 mu - 0.23 mu^2.
func Handbook550() Law { return must(Polynomial([6]float64{0.30, 0.93, -0.23})) }

// PierceSlaughter552 is the quadratic law at 552.2 nm of A. K. Pierce & C. D.
// Slaughter, Solar Physics 51 (1977) 25, equation 10.
func PierceSlaughter552() Law { return must(Polynomial([6]float64{0.29462, 0.98032, -0.27494})) }

// HestrofferMagnan is the power law mu^alpha of D. Hestroffer & C. Magnan, A&A
// 333 (1998) 338, equation 5: alpha = -0.023 + 292/nm, for 417 to 1100 nm.
func HestrofferMagnan(nm float64) (Law, error) {
	if !(nm >= 417 && nm <= 1100) {
		return Law{}, &RangeError{NM: nm, Min: 417, Max: 1100}
	}
	return Power(-0.023 + 292/nm)
}

// Visible is the law for sensors that see as the eye does, peaked near 550 nm:
// Neckel & Labs at that wavelength.
func Visible() Law { return must(NeckelLabs(550)) }

// must serves the presets, whose coefficients a test has seen to be valid.
func must(l Law, err error) Law {
	if err != nil {
		return Law{kind: uniform, scale: math.NaN()}
	}
	return l
}
