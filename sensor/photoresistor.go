package sensor

import "math"

// A Photoresistor is a cadmium sulphide cell. Its resistance falls with light as
// a power, with DarkOhm in parallel:
//
//	1/R = 1/DarkOhm + (E / 10 lx)^Gamma / R10Ohm
//
// The power law is straight over about 1 to 1000 lx and an extrapolation in full
// Sun; cells of one type differ by a factor of two (both from memory). The zero
// value is refused: set R10Ohm and Gamma.
type Photoresistor struct {
	R10Ohm float64 `json:"r10_ohm"` // at 10 lx, ohms, 10 to 1e8; catalogues 8 to 20 kohm (from memory)
	Gamma  float64 `json:"gamma"`   // 0.3 to 1.5; catalogues 0.5 to 0.9
	// DarkOhm is its resistance without light, ohms; 0 means infinite.
	DarkOhm float64 `json:"dark_ohm,omitempty"`
	// MaxLux is the light above which the power law is not to be believed, lx; a
	// brighter reading is Saturated there. 0 means 200,000 lx, more than the Sun gives.
	MaxLux float64 `json:"max_lux,omitempty"`

	R10LnU float64 `json:"r10_ln_u,omitempty"` // standard uncertainty of ln R10Ohm: 0.1 is about 10 %
	GammaU float64 `json:"gamma_u,omitempty"`  // standard uncertainty of Gamma
	// R10GammaR is the correlation of ln R10Ohm and Gamma, -1 to 1: a line fitted to
	// points far from 10 lx has it (GUM 5.2.2).
	R10GammaR float64 `json:"r10_gamma_r,omitempty"`
	DarkLnU   float64 `json:"dark_ln_u,omitempty"` // standard uncertainty of ln DarkOhm
	// R10DarkR and GammaDarkR are the correlations of ln DarkOhm with ln R10Ohm and with
	// Gamma, -1 to 1, where one calibration gave all three.
	R10DarkR   float64 `json:"r10_dark_r,omitempty"`
	GammaDarkR float64 `json:"gamma_dark_r,omitempty"`
}

const (
	lawLux = 10 // lx, the light that R10Ohm is quoted at
	// Outside the atmosphere sunlight is 127.5 klx (IES 1984) to 133.3 klx (S. Darula,
	// R. Kittler & C. Gueymard, Solar Energy 79 (2005) 559); the rest is for lit clouds.
	brightLux  = 200e3
	endlessLux = 1e12 // lx, stands for any light too bright to matter
)

// Ohms is the cell's resistance in a light of lux, ohms; +Inf in darkness where
// there is no DarkOhm. Light below 0 is darkness.
func (p Photoresistor) Ohms(lux float64) float64 {
	return 1 / (p.siemens(lux) + conductance(p.DarkOhm))
}

// Lux is the light in which the cell has a resistance of ohms, lx: 0 at DarkOhm
// and above, +Inf at 0 ohms. MaxLux does not cut it.
func (p Photoresistor) Lux(ohms float64) float64 {
	return lawLux * math.Pow(math.Max(0, p.R10Ohm*(1/ohms-conductance(p.DarkOhm))), 1/p.Gamma)
}

// siemens is the conductance that light alone makes.
func (p Photoresistor) siemens(lux float64) float64 {
	return math.Pow(math.Min(math.Max(0, lux), endlessLux)/lawLux, p.Gamma) / p.R10Ohm
}

func (p Photoresistor) maxLux() float64 { return orElse(p.MaxLux, brightLux) }

func (p Photoresistor) rows() []row {
	return []row{
		{"divider.cell.r10_ohm", p.R10Ohm, 10, 1e8, "the cell's resistance at 10 lx"},
		{"divider.cell.gamma", p.Gamma, 0.3, 1.5, "the cell's exponent"},
		{"divider.cell.dark_ohm", orElse(p.DarkOhm, 1e15), 1e3, 1e15, ""},
		{"divider.cell.max_lux", p.maxLux(), 1, 1e6, ""},
		{"divider.cell.r10_ln_u", p.R10LnU, 0, maxLnU, ""},
		{"divider.cell.gamma_u", p.GammaU, 0, 0.5, ""},
		{"divider.cell.r10_gamma_r", p.R10GammaR, -1, 1, ""},
		{"divider.cell.dark_ln_u", p.DarkLnU, 0, maxLnU, ""},
		{"divider.cell.r10_dark_r", p.R10DarkR, -1, 1, ""},
		{"divider.cell.gamma_dark_r", p.GammaDarkR, -1, 1, ""},
		{"divider.cell's correlations' determinant", p.determinant(), -1e-9, 1, ""}, // rounding of a real one may leave it below 0
	}
}

// determinant of the correlation matrix: three numbers that no three quantities
// can have as correlations make it negative.
func (p Photoresistor) determinant() float64 {
	a, b, c := p.R10GammaR, p.R10DarkR, p.GammaDarkR
	return 1 + 2*a*b*c - a*a - b*b - c*c
}

// conductance of a resistor whose zero means that it is not there, siemens.
func conductance(ohms float64) float64 {
	if ohms == 0 { // exactly: not set
		return 0
	}
	return 1 / ohms
}
