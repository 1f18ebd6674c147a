package fit_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sensor"
	"example.org/noonfall/testdata/study"
)

// An answer is a sensor that nobody has described: what it makes of lux, one reading after
// the other.
type answer struct {
	name string
	of   func(seed uint64, cadence float64) func(lux float64) (value float64, status sensor.Status)
	late func(cadence float64) float64 // s by which it lags, which the offset includes; nil for none
}

// law is an answer without memory, rounded to whole counts.
func law(f func(lux float64) float64) func(uint64, float64) func(float64) (float64, sensor.Status) {
	return func(uint64, float64) func(float64) (float64, sensor.Status) {
		return func(lux float64) (float64, sensor.Status) { return math.Round(f(lux)), 0 }
	}
}

// answers are made-up sensors. A cell is one of 12 kilohms at 10 lx and a gamma of 0.65.
func answers() []answer {
	cell := func(lux float64) float64 { return 12e3 * math.Pow(lux/10, -0.65) }
	return []answer{
		{name: "power 0.6", of: law(func(lux float64) float64 { return 30 * math.Pow(lux, 0.6) })},
		{name: "logarithmic amplifier", of: law(func(lux float64) float64 { return 300 * math.Log1p(lux/2) })},
		{name: "saturates softly", of: law(func(lux float64) float64 { return 60000 * lux / (lux + 60000) })},
		{name: "two slopes", of: law(func(lux float64) float64 { return 10 * math.Min(lux, 3000+0.3*lux) })},
		{name: "falling, 12 bits", of: law(func(lux float64) float64 { return 4095 * cell(lux) / (cell(lux) + 470) })},
		{name: "falling, 10 bits", of: law(func(lux float64) float64 { return 1023 * cell(lux) / (cell(lux) + 220) })},
		{name: "fifty steps", of: law(func(lux float64) float64 { return lux / 2000 })},
		{name: "clipped in full light", of: law(func(lux float64) float64 { return math.Min(4095, lux/5) })},
		{name: "clipped in the dark", of: law(func(lux float64) float64 { return math.Max(0, lux/10-40) })},
		{name: "lags by 2 s", of: lagging(2), late: func(h float64) float64 { return h / math.Expm1(h/2) }},
	}
}

// lagging answers in proportion, as a low pass of first order to which the light of a
// reading has shone since the one before: the coarser the cadence, the less it lags.
func lagging(tau float64) func(uint64, float64) func(float64) (float64, sensor.Status) {
	return func(_ uint64, cadence float64) func(float64) (float64, sensor.Status) {
		var held float64
		keep := math.Exp(-cadence / tau)
		return func(lux float64) (float64, sensor.Status) {
			if held == 0 {
				held = lux
			}
			held = lux + (held-lux)*keep
			return math.Round(held * 5), 0
		}
	}
}

// read is the log of such a sensor under a rehearsed sky: its own light, with the log's
// scatter.
func (a answer) read(l *rehearsal.Log, seed uint64) []fit.Sample {
	noise := rand.New(rand.NewPCG(seed, 9))
	of := a.of(seed, l.Plan.Cadence.Seconds())
	out := make([]fit.Sample, len(l.Samples))
	for i, s := range l.Samples {
		utc := s.Stamp.Add(-secondsOf(l.Truth.Offset + l.Truth.DriftPPM*1e-6*s.Stamp.Sub(l.Truth.Max).Seconds()))
		lux := l.Lux(utc) * math.Exp(l.Plan.Noise*noise.NormFloat64())
		out[i].Time = s.Stamp
		out[i].Value, out[i].Status = of(lux)
	}
	return out
}

// TestAnswers has logs of sensors that nobody describes, over which nothing but the shape
// of the eclipse is known: four in five are fitted, give or take chance, and the intervals hold the
// truth, 95 % less three standard deviations of the count. NOONFALL_LOGS sets how many.
func TestAnswers(t *testing.T) {
	n, first := study.Size(t, 10, 0, 100)
	eclipses := study.Eclipses(t)
	for _, a := range answers() {
		var tried, fitted, held, mistaken int
		var halves, errs []float64
		why := map[fit.Reason]int{}
		for i := range n {
			for _, depth := range []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep} {
				p, err := rehearsal.Class{Depth: depth}.Draw(eclipses, uint64(first+i))
				require.NoError(t, err)
				p.Chain = nil
				l, err := rehearsal.Make(context.Background(), p)
				require.NoError(t, err)
				tried++
				r, err := fit.Clock(context.Background(), a.read(l, uint64(i)), l.Curve, fit.Options{})
				if no := (*fit.Refusal)(nil); errors.As(err, &no) {
					why[no.Reason]++
					continue
				}
				require.NoError(t, err)
				fitted++
				truth := l.Truth.Offset
				if a.late != nil {
					truth += a.late(p.Cadence.Seconds())
				}
				halves, errs = append(halves, (r.CI95[1]-r.CI95[0])/2), append(errs, math.Abs(r.Offset-truth))
				if r.CI95[0] <= truth && truth <= r.CI95[1] {
					held++
				} else {
					t.Logf("%s, %v, seed %d: off %.1f, %.1f of it allowed", a.name, depth, first+i, r.Offset-truth, halves[len(halves)-1])
				}
				if falls := strings.HasPrefix(a.name, "falling"); r.Response.Falling != falls {
					mistaken++
				}
			}
		}
		t.Logf("| %-22s | %3d | %3d | %5.1f %% | %6.2f | %6.2f | %v", a.name, tried, fitted, 100*float64(held)/math.Max(1, float64(fitted)), middle(errs), middle(halves), why)
		if least := study.Least(fitted, 0.95, 3); !(float64(held) >= least) {
			t.Errorf("%s: %d of %d intervals hold the truth, at least %.1f are wanted", a.name, held, fitted, least)
		}
		if !(50*mistaken <= fitted) {
			t.Errorf("%s: %d of %d are taken for the other way up", a.name, mistaken, fitted)
		}
		if !(5*fitted >= 4*tried-2) {
			t.Errorf("%s: %d of %d are fitted: %v", a.name, fitted, tried, why)
		}
	}
}

func secondsOf(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
