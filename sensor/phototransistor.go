package sensor

import "math"

// A Phototransistor gives a current in proportion to light into a load to
// ground, until the voltage across the load has used up the supply:
//
//	V = min(AmperesPerLux E LoadOhm, SupplyV - SaturationV)
//
// The zero value is refused: set SupplyV, LoadOhm and AmperesPerLux.
type Phototransistor struct {
	SupplyV       float64 `json:"supply_v"`        // volts, 0.5 to 60
	LoadOhm       float64 `json:"load_ohm"`        // emitter to ground, ohms, 1 to 1e9
	AmperesPerLux float64 `json:"amperes_per_lux"` // 1e-12 to 0.01; 0.5e-6 is common (from memory)
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
	SupplyU          float64 `json:"supply_u_v,omitempty"`           // standard uncertainty of SupplyV, volts
}

const usualLinearFraction = 0.9

func (p Phototransistor) rows() []row {
	return []row{
		{"phototransistor.load_ohm", p.LoadOhm, 1, 1e9, "the resistor from emitter to ground"},
		{"phototransistor.amperes_per_lux", p.AmperesPerLux, 1e-12, 0.01, "the transistor's sensitivity"},
		{"phototransistor.saturation_v", p.SaturationV, 0, 0.9 * p.SupplyV, ""},
		{"phototransistor.linear_fraction", orElse(p.LinearFraction, usualLinearFraction), 0.1, 1, ""},
		{"phototransistor.load_tolerance_fraction", p.LoadTolerance, 0, 0.5, ""},
		{"phototransistor.amperes_per_lux_ln_u", p.AmperesPerLuxLnU, 0, maxLnU, ""},
		{"phototransistor.supply_u_v", p.SupplyU, 0, 60, ""},
	}
}

// transistorLaw is a straight line up to a ceiling, in shares of full scale.
type transistorLaw struct {
	reference float64 // volts of full scale
	load      float64 // ohms, the converter's input included
	perShare  float64 // lx of a full-scale reading
	ceiling   float64 // share at which the supply is used up
	straight  float64 // lx, where the line ends
	variance  float64 // of ln E
}

func newTransistorLaw(p Phototransistor, a ADC) transistorLaw {
	share := 1 / (1 + p.LoadOhm*conductance(a.InputOhm)) // of ln load in ln(load in parallel with input)
	reference := a.ReferenceV
	variance := square(p.AmperesPerLuxLnU) + square(share*p.LoadTolerance/math.Sqrt(3)) + square((1-share)*a.InputLnU)
	if a.Ratiometric { // a current knows no supply, but now the converter does
		reference = p.SupplyV
		variance += square(p.SupplyU / p.SupplyV)
	}
	load := p.LoadOhm * share
	l := transistorLaw{
		reference: reference, load: load, perShare: reference / (p.AmperesPerLux * load),
		ceiling: (p.SupplyV - p.SaturationV) / reference, variance: variance,
	}
	l.straight = l.ceiling * l.perShare * orElse(p.LinearFraction, usualLinearFraction)
	return l
}

func (l *transistorLaw) lux(v float64) light {
	return light{lux: v * l.perShare, slope: 1 / v, variance: l.variance}
}

func (l *transistorLaw) share(lux float64) float64 { return math.Min(lux/l.perShare, l.ceiling) }
func (l *transistorLaw) rising() bool              { return true }
func (l *transistorLaw) maxLux() float64           { return l.straight }
