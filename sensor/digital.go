package sensor

import "math"

// A Digital sensor reports light itself; there is no ADC of ours. The zero value
// is refused: set LuxPerCount and MaxCounts.
type Digital struct {
	LuxPerCount float64 `json:"lux_per_count"` // 1 for a sensor that reports lux; 1e-6 to 1e6
	MaxCounts   float64 `json:"max_counts"`    // its ceiling; a count there is a bound
	// StepCounts is the step of the logged value, counts: 0.01 for two decimals;
	// 0 means 1. Less than half a step is TooDark.
	StepCounts     float64 `json:"step_counts,omitempty"`
	NoiseCounts    float64 `json:"noise_counts,omitempty"`       // standard deviation of one logged value beyond rounding, counts
	LuxPerCountLnU float64 `json:"lux_per_count_ln_u,omitempty"` // standard uncertainty of ln LuxPerCount
}

func (d Digital) step() float64 { return orElse(d.StepCounts, 1) }

func (d Digital) rows() []row {
	return []row{
		{"digital.lux_per_count", d.LuxPerCount, 1e-6, 1e6, "1 where the log has lux"},
		{"digital.max_counts", d.MaxCounts, 2 * d.step(), 1e12, "the largest count that it can report"},
		{"digital.step_counts", d.step(), 1e-6, 1e6, ""},
		{"digital.noise_counts", d.NoiseCounts, 0, 1e6, ""},
		{"digital.lux_per_count_ln_u", d.LuxPerCountLnU, 0, maxLnU, ""},
	}
}

// digitalLaw is the identity; its share is a count.
type digitalLaw struct{ perCount, variance float64 }

func (l *digitalLaw) lux(v float64) light {
	return light{lux: v * l.perCount, slope: 1 / v, variance: l.variance}
}
func (l *digitalLaw) blur() (dark, endless float64) { return 0, 0 }

func (l *digitalLaw) share(lux float64) float64 { return lux / l.perCount }
func (l *digitalLaw) rising() bool              { return true }
func (l *digitalLaw) maxLux() float64           { return math.Inf(1) }
