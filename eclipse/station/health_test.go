package station

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// fires says which rules gave advice, in their order.
func fires(h *Health) []string {
	out := []string{}
	for _, a := range h.Advice {
		out = append(out, a.Rule)
	}
	return out
}

// near fails the test where a figure is not what the log was made with.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %g, want %g +- %g", what, got, want, tol)
	}
}

func TestCleanLogIsFine(t *testing.T) {
	rep, _ := wholeDay().reduce(t)
	h := &rep.Health
	if len(h.Advice) != 0 || h.Ceiling != nil || h.Gaps.Count != 0 {
		t.Errorf("advice %v, ceiling %+v, gaps %+v on a clean log", h.Advice, h.Ceiling, h.Gaps)
	}
	if rep.Refusal == nil || rep.Refusal.Reason != NoEclipse {
		t.Errorf("refusal %v, want the health of a day without an eclipse", rep.Refusal)
	}
	if h.Records != 28800 || h.Samples != 28800 {
		t.Errorf("%d records, %d samples of 28800", h.Records, h.Samples)
	}
	near(t, "cadence", h.Steps.MedianS, 2, 0)
	near(t, "span", h.SpanH, 16, 0.001)
	near(t, "off share", h.Steps.OffShare+h.Steps.MissedShare+h.Steps.RepeatShare, 0, 0)
	// The quiet quarter of 60 triples lies 8 % or so below the middle.
	near(t, "noise in bright light", h.Noise.Bright.Relative, 0.003, 0.0004)
	near(t, "noise in the dark", h.Noise.Dark.Relative, 0.003, 0.0004)
	near(t, "light's noon", *h.Sky.NoonOffsetMin, 0, 2)
	near(t, "night", *h.Sky.NightToDay, 0, 1e-5)
	near(t, "highest Sun", h.Sky.HighestSunDeg, 90-36+1.0, 0.3) // declination 1.0 two days before the equinox, from memory
	if !(h.Range.Decades > 5) {
		t.Errorf("%.2f decades from noon into the night", h.Range.Decades)
	}
}

// What saturates is found, with the share that was made.
func TestCeiling(t *testing.T) {
	rail := func(lux float64, i int) float64 { // shakes by a count either way
		return math.Min(3000+float64(i*7%3), math.Round(lux/20))
	}
	for _, tt := range []struct {
		name    string
		reading func(float64, int) float64
		isFull  func(float64) bool
		least   float64
		wide    float64 // below it, as a part; a rail that shakes has no sharp end
		sure    string
	}{
		{"full scale of 12 bits", counts(20, 4095), func(v float64) bool { return v >= 4095 }, 4095, 0, SureFull},
		{"full scale of 10 bits, much too soon", counts(10, 1023), func(v float64) bool { return v >= 1023 }, 1023, 0, SureFull},
		{"another reading", counts(20, 4385), func(v float64) bool { return v >= 4385 }, 4385, 0, SureLikely},
		{"a rail that shakes", rail, func(v float64) bool { return v >= 3000 }, 3000, pileWidth, SureLikely},
		{"never", counts(20, 1e9), nil, 0, 0, ""},
		{"never, in steps of a twentieth", counts(5000, 1e9), nil, 0, 0, ""},
		{"never, in steps of a thousandth", counts(100, 1e9), nil, 0, 0, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := wholeDay()
			var readings []float64
			m.reading = func(lux float64, i int) float64 {
				v := tt.reading(lux, i)
				readings = append(readings, v)
				return v
			}
			rep, suns := m.reduce(t)
			c := rep.Health.Ceiling
			if tt.isFull == nil {
				if c != nil {
					t.Errorf("found a ceiling that is none: %+v", c)
				}
				return
			}
			if c == nil || c.Sure != tt.sure || !(c.Reading <= tt.least && c.Reading >= tt.least*(1-tt.wide)) {
				t.Fatalf("%+v, want %g, %s", c, tt.least, tt.sure)
			}
			top := math.Inf(-1)
			for _, s := range suns {
				top = math.Max(top, s.Alt)
			}
			full, all := 0, 0
			for i, s := range suns {
				if s.Alt > top/2 {
					all++
					if tt.isFull(readings[i]) {
						full++
					}
				}
			}
			near(t, "share around noon", *c.NoonShare, float64(full)/float64(all), 0.002)
			if !slices.Contains(fires(&rep.Health), "saturated") {
				t.Errorf("no advice: %v", rep.Health.Advice)
			}
		})
	}
}

// The density that is advised brings full Sun under the ceiling: 10 bits at 10 lx a
// count end at 10,230 lx.
func TestFilterIsEnough(t *testing.T) {
	m := wholeDay()
	m.reading = counts(10, 1023)
	rep, suns := m.reduce(t)
	top := math.Inf(-1)
	for _, s := range suns {
		top = math.Max(top, s.Alt)
	}
	i := slices.IndexFunc(rep.Health.Advice, func(a Advice) bool { return a.Rule == "saturated" })
	require.GreaterOrEqual(t, i, 0)
	var density float64
	_, words, _ := strings.Cut(rep.Health.Advice[i].Text, "optical density ")
	_, err := fmt.Sscan(words, &density)
	require.NoError(t, err)
	need := math.Log10(clearSky(top) / 10230)
	if !(density >= need && density < need+0.25) {
		t.Errorf("density %.1f, needed %.2f", density, need)
	}
}

func TestFloor(t *testing.T) {
	m := wholeDay()
	m.reading = counts(50, 65535)
	rep, _ := m.reduce(t)
	f := rep.Health.Floor
	if !f.Piled || f.Reading != 0 || f.Told != 1 || *f.Dark != 0 || *f.TwilightSteps != 0 {
		t.Errorf("%+v, want a pile of zeros and nothing told at civil dusk", f)
	}
	// Under 25 lx it rounds to nothing; half a degree of the Sun is a factor of 1.5.
	if !(*f.LostLux > 25/1.5 && *f.LostLux < 25*1.5) {
		t.Errorf("lost at %g lx, made to lose it at 25", *f.LostLux)
	}
	// An offset of 200 counts with a night that scatters by 3: what is told is three
	// times that above it.
	m.reading = func(lux float64, i int) float64 {
		return math.Round(200 + lux/5 + 3*math.Sqrt2*math.Sin(float64(i)*1.7))
	}
	rep, _ = m.reduce(t)
	f = rep.Health.Floor
	if f.Piled {
		t.Errorf("%+v: it still changes there", f)
	}
	near(t, "darkness", *f.Dark, 200, 1)
	near(t, "told", f.Told, 209, 6)
}
