package sensor

import "math"

// A Phototransistor gives a current in proportion to light, and a small one in
// darkness, into a load to ground, until the voltage across the load has used up
// the supply:
//
//	V = min((DarkAmperes + AmperesPerLux E) LoadOhm, SupplyV - SaturationV)
//
// The zero value is refused: set SupplyV, LoadOhm and AmperesPerLux.
type Phototransistor struct {
	SupplyV       float64 `json:"supply_v"`        // volts, 0.5 to 60
	LoadOhm       float64 `json:"load_ohm"`        // emitter to ground, ohms, 1 to 1e9
	AmperesPerLux float64 `json:"amperes_per_lux"` // 1e-12 to 0.01; 0.5e-6 is common (from memory)
	// DarkAmperes is its current without light, amperes, 0 to 0.01; below 1e-7 at room
	// temperature and twice that every 10 K (from memory).
	DarkAmperes float64 `json:"dark_amperes,omitempty"`
	// SaturationV is what is left across the transistor when it is fully on, volts;
	// 0.4 is common (from memory).
	SaturationV float64 `json:"saturation_v,omitempty"`
	// LinearFraction is the part of the swing up to which the line is straight; a
	// reading above it is Saturated. 0 means 0.9 (from memory).
	LinearFraction float64 `json:"linear_fraction,omitempty"`
	// LoadTolerance is the load's printed tolerance as a fraction; rectangular
	// (GUM 4.3.7).
	LoadTolerance    float64 `json:"load_tolerance_fraction,omitempty"`
	AmperesPerLuxLnU float64 `json:"amperes_per_lux_ln_u,omitempty"` // standard uncertainty of ln AmperesPerLux; bins spread by a factor of two (from memory)
	DarkAmperesU     float64 `json:"dark_amperes_u,omitempty"`       // standard uncertainty of DarkAmperes, amperes
	// DarkR is the correlation of ln AmperesPerLux and DarkAmperes, -1 to 1, where one
	// calibration gave both (GUM 5.2.2).
	DarkR   float64 `json:"dark_r,omitempty"`
	SupplyU float64 `json:"supply_u_v,omitempty"` // standard uncertainty of SupplyV, volts
}

const usualLinearFraction = 0.9

func (p Phototransistor) rows() []row {
	return append(p.transistorRows(), []row{
		{"phototransistor.load_ohm", p.LoadOhm, 1, 1e9, "the resistor from emitter to ground"},
		{"phototransistor.saturation_v", p.SaturationV, 0, 0.9 * p.SupplyV, ""},
		{"phototransistor.linear_fraction", orElse(p.LinearFraction, usualLinearFraction), 0.1, 1, ""},
		{"phototransistor.load_tolerance_fraction", p.LoadTolerance, 0, 0.5, ""},
		{"phototransistor.supply_u_v", p.SupplyU, 0, 60, ""},
	}...)
}

// transistorRows are those of the part itself, without its circuit.
func (p Phototransistor) transistorRows() []row {
	return []row{
		{"phototransistor.amperes_per_lux", p.AmperesPerLux, 1e-12, 0.01, "the transistor's sensitivity"},
		{"phototransistor.dark_amperes", p.DarkAmperes, 0, 0.01, ""},
		{"phototransistor.dark_amperes_u", p.DarkAmperesU, 0, 0.01, ""},
		{"phototransistor.dark_r", p.DarkR, -1, 1, ""},
		{"phototransistor.amperes_per_lux_ln_u", p.AmperesPerLuxLnU, 0, maxLnU, ""},
	}
}

// transistorLaw is a straight line up to a ceiling, in shares of full scale:
//
//	E = (v - dark) perShare
type transistorLaw struct {
	reference float64 // volts of full scale
	load      float64 // ohms, the converter's input included
	perShare  float64 // lx of a full-scale reading
	dark      float64 // share without light
	ceiling   float64 // share at which the supply is used up
	ceilVar   float64 // of ceiling
	straight  float64 // lx, where the line ends

	// Variances of the causes, each with the factor that it has in ln E.
	sensitivityVar float64 // of ln AmperesPerLux: -1
	scaleVar       float64 // of ln volts a load's ampere: -v/(v-dark)
	darkVar        float64 // of dark: -1/(v-dark)
	darkBoth       float64 // twice the covariance of the first and the third
}

func newTransistorLaw(p Phototransistor, a ADC) transistorLaw {
	share := 1 / (1 + p.LoadOhm*conductance(a.InputOhm)) // of ln load in ln(load in parallel with input)
	reference := a.ReferenceV
	scaleVar := square(share*p.LoadTolerance/math.Sqrt(3)) + square((1-share)*a.InputLnU)
	if a.Ratiometric { // a current knows no supply, but now the converter does
		reference = p.SupplyV
		scaleVar += square(p.SupplyU / p.SupplyV)
	}
	load := p.LoadOhm * share
	darkU := p.DarkAmperesU * load / reference
	l := transistorLaw{
		reference: reference, load: load, perShare: reference / (p.AmperesPerLux * load),
		dark: p.DarkAmperes * load / reference, ceiling: (p.SupplyV - p.SaturationV) / reference,
		sensitivityVar: square(p.AmperesPerLuxLnU), scaleVar: scaleVar,
		darkVar: square(darkU), darkBoth: 2 * p.DarkR * p.AmperesPerLuxLnU * darkU,
	}
	if !a.Ratiometric {
		l.ceilVar = square(p.SupplyU / reference)
	}
	l.straight = (l.ceiling*orElse(p.LinearFraction, usualLinearFraction) - l.dark) * l.perShare
	return l
}

func (l *transistorLaw) lux(v float64) light {
	net := v - l.dark
	inverse := 1 / net
	variance := l.sensitivityVar + square(v*inverse)*l.scaleVar + inverse*(inverse*l.darkVar+l.darkBoth)
	return light{lux: net * l.perShare, slope: inverse, variance: variance}
}

func (l *transistorLaw) blur() (dark, endless float64) {
	return l.darkVar + square(l.dark)*l.scaleVar, l.ceilVar
}

func (l *transistorLaw) share(lux float64) float64 {
	return math.Min(l.dark+lux/l.perShare, l.ceiling)
}
func (l *transistorLaw) rising() bool    { return true }
func (l *transistorLaw) maxLux() float64 { return l.straight }
