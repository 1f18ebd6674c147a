package disc

import (
	"fmt"
	"iter"
)

// A Preset is a law as somebody published it.
type Preset struct {
	Name   string  // unique, for people and files
	NM     float64 // wavelength, nm
	Law    Law     // scaled to 1 at the centre
	Mean   float64 // mean brightness of the disc over the centre's as printed beside it, 0 where none is
	Source string  // publication and table or equation
	Note   string  // what a careful user should know, mostly nothing
}

// Presets yields all published laws: Neckel & Labs by wavelength, Hestroffer &
// Magnan likewise, and the quadratic ones.
func Presets() iter.Seq[Preset] {
	return func(yield func(Preset) bool) {
		for _, r := range neckelLabs {
			name := fmt.Sprintf("neckel-labs-%.3f", r.nm)
			if !yield(Preset{name, r.nm, normalised(r.a), r.mean, neckelLabsSource, r.note}) {
				return
			}
		}
		for _, r := range hestrofferMagnan {
			name := fmt.Sprintf("hestroffer-magnan-%.3f", r.nm)
			law := Law{kind: power, a: [6]float64{r.alpha}, scale: 1 / (r.alpha + 2)}
			if !yield(Preset{name, r.nm, law, 0, hestrofferMagnanSource, "fitted to the data of " + r.data}) {
				return
			}
		}
		for _, r := range quadratics {
			if !yield(Preset{r.name, r.nm, normalised(r.a), 0, r.source, ""}) {
				return
			}
		}
	}
}

// NeckelLabs is the fifth-order law of H. Neckel & D. Labs, Solar Physics 153
// (1994) 91, at a wavelength in nm, between the 30 rows of their table by linear
// interpolation of the coefficients; across the Balmer jump, from 365.875 to
// 374.086 nm, that is a mere bridge. Outside 303.327 to 1098.95 nm the error is
// a *RangeError. The row at 365.875 nm, whose coefficients do not add up to 1 as
// handed down, is divided by their sum like any other. The authors saw changes of 1 %, at times 2 %, from day to day.
func NeckelLabs(nm float64) (Law, error) {
	t := neckelLabs[:]
	if last := len(t) - 1; !(nm >= t[0].nm && nm <= t[last].nm) {
		return Law{}, &RangeError{Law: "Neckel & Labs", NM: nm, Min: t[0].nm, Max: t[last].nm}
	}
	return normalised(between(nm)), nil
}

// between interpolates the table of Neckel & Labs within its range.
func between(nm float64) (a [6]float64) {
	t := neckelLabs[:]
	i := 0
	for i+2 < len(t) && t[i+1].nm <= nm {
		i++
	}
	f := (nm - t[i].nm) / (t[i+1].nm - t[i].nm)
	for k := range a {
		a[k] = (1-f)*t[i].a[k] + f*t[i+1].a[k]
	}
	return a
}

// HestrofferMagnan is the power law mu^alpha of D. Hestroffer & C. Magnan, A&A
// 333 (1998) 338, equation 5: alpha = -0.023 + 292/nm, for 417 to 1100 nm. It
// follows the exponents of their table 2 within 0.023, but not in the table's first
// row, at 416.3 nm just below the range. Outside it the error is a *RangeError.
func HestrofferMagnan(nm float64) (Law, error) {
	const from, to = 417, 1100
	if !(nm >= from && nm <= to) {
		return Law{}, &RangeError{Law: "Hestroffer & Magnan", NM: nm, Min: from, Max: to}
	}
	return Power(-0.023 + 292/nm)
}

// Visible is the law for sensors that see as the eye does, with their peak near
// 550 nm: Neckel & Labs at that wavelength.
func Visible() Law { return normalised(between(550)) }

// Handbook550 is the quadratic law at 550 nm of A. N. Cox (ed.), Allen's
// Astrophysical Quantities, 4th ed. (2000), section 14.7:
// I = 0.30 + 0.93 mu - 0.23 mu^2.
func Handbook550() Law { return normalised(quadratics[0].a) }

// PierceSlaughter552 is the quadratic law at 552.2 nm of A. K. Pierce & C. D.
// Slaughter, Solar Physics 51 (1977) 25, equation 10:
// I = 0.29462 + 0.98032 mu - 0.27494 mu^2.
func PierceSlaughter552() Law { return normalised(quadratics[1].a) }

// A RangeError is a wavelength for which nothing was published.
type RangeError struct {
	Law          string  // whose table it is
	NM, Min, Max float64 // nm
}

// Error names the law and the wavelengths, nm, that it is published for.
func (e *RangeError) Error() string {
	return fmt.Sprintf("disc: no %s limb darkening at %g nm, it runs from %g to %g nm", e.Law, e.NM, e.Min, e.Max)
}
