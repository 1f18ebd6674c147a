package fit_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/internal/quantile"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sensor"
	"example.org/noonfall/testdata/study"
)

// samples turns a rehearsed log into what a station hands to the fit.
func samples(t testing.TB, l *rehearsal.Log, chain *sensor.Chain) []fit.Sample {
	t.Helper()
	out, err := converted(l, chain)
	require.NoError(t, err)
	return out
}

func converted(l *rehearsal.Log, chain *sensor.Chain) ([]fit.Sample, error) {
	var conv *sensor.Converter
	if chain != nil {
		var err error
		if conv, err = chain.Compile(); err != nil {
			return nil, err
		}
	}
	out := make([]fit.Sample, len(l.Samples))
	for i, s := range l.Samples {
		out[i] = fit.Sample{Time: s.Stamp, Value: s.Counts}
		if conv != nil {
			r := conv.Lux(s.Counts)
			out[i].Value, out[i].Status = r.Lux, r.Status
		}
	}
	return out, nil
}

// studied are the kinds of log that the study draws: every depth under every sky that
// an eclipse is seen through, and with the Sun rising or setting.
func studied() (out []rehearsal.Class) {
	for _, sky := range []rehearsal.Class{
		{Weather: rehearsal.Clear}, {Weather: rehearsal.Haze}, {Weather: rehearsal.Cirrus}, {Weather: rehearsal.Cumulus}, {Weather: rehearsal.Broken},
		{Weather: rehearsal.Veiled}, {Weather: rehearsal.Deck}, {Weather: rehearsal.Shade}, {Horizon: true},
	} {
		for _, sky.Depth = range []rehearsal.Depth{rehearsal.Total, rehearsal.Annular, rehearsal.Deep, rehearsal.Shallow} {
			out = append(out, sky)
		}
	}
	return out
}

// A tried is one rehearsed log fitted.
type tried struct {
	seed    uint64
	refused *fit.Refusal
	off     float64 // offset less truth, s
	half    float64 // of the interval, s
	u       float64
	covered bool
	err     error
}

// try rehearses a log and fits it.
func try(c rehearsal.Class, eclipses []*eclipse.Elements, seed uint64) tried {
	out := tried{seed: seed}
	var p rehearsal.Plan
	if p, out.err = c.Draw(eclipses, seed); out.err != nil {
		return out
	}
	var l *rehearsal.Log
	if l, out.err = rehearsal.Make(context.Background(), p); out.err != nil {
		return out
	}
	s, err := converted(l, p.Chain)
	if out.err = err; err != nil {
		return out
	}
	r, err := fit.Clock(context.Background(), s, l.Curve, fit.Options{})
	if errors.As(err, &out.refused) {
		return out
	}
	if out.err = err; err != nil {
		return out
	}
	out.off, out.u = r.Offset-l.Truth.Offset, r.OffsetU
	out.half = (r.CI95[1] - r.CI95[0]) / 2
	out.covered = r.CI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.CI95[1]
	return out
}

// A tally is what a class of logs came to.
type tally struct {
	class                    rehearsal.Class
	drawn, accepted, covered int
	offs, halves             []float64
	reasons                  map[fit.Reason]int
	missed                   []string // seeds whose interval misses the truth, and by how much
}

func tallied(c rehearsal.Class, all []tried) tally {
	k := tally{class: c, drawn: len(all), reasons: map[fit.Reason]int{}}
	for _, o := range all {
		if o.refused != nil {
			k.reasons[o.refused.Reason]++
			continue
		}
		k.accepted++
		if o.covered {
			k.covered++
		} else {
			k.missed = append(k.missed, fmt.Sprintf("%d: %+.1f of %.1f", o.seed, o.off, o.half))
		}
		k.offs, k.halves = append(k.offs, math.Abs(o.off)), append(k.halves, o.half)
	}
	return k
}

// String is the class's row of the table. The scatter is 1.4826 times the median error
// without its sign: the standard deviation where errors are normal. Where a few are far
// off, as under cloud, the errors' root mean square is much more; the second ratio is to that.
func (k tally) String() string {
	scatter, half := 1.4826*quantile.Median(k.offs), quantile.Median(k.halves)
	refused := ""
	for r := range fit.Reasons() {
		if n := k.reasons[r]; n > 0 {
			refused += fmt.Sprintf(" %d %v;", n, r)
		}
	}
	return fmt.Sprintf("| %-22v | %4d | %4d | %5.1f %% | %8.2f | %8.2f | %4.2f | %4.2f |%s", k.class, k.drawn, k.accepted,
		100*float64(k.covered)/math.Max(1, float64(k.accepted)), scatter, half, half/scatter, half/rms(k.offs), strings.TrimSuffix(refused, ";"))
}

// rms is the errors' standard deviation about nothing.
func rms(errors []float64) float64 {
	return floats.Norm(errors, 2) / math.Sqrt(float64(len(errors)))
}

// TestCoverage counts over rehearsed logs of every class how often the interval holds
// the truth. NOONFALL_LOGS sets how many of each class, NOONFALL_SEED the first seed,
// NOONFALL_CLASS a part of the class's name. Under a nominal clear sky 92 to 98 % are
// wanted, in every other class 92 % or more; chance is allowed two standard
// deviations of the count where a class has a hundred logs or more, and there the median
// half-width may be three times the errors' standard deviation. The ordinary
// test looks at few of each class, and pools them, with three deviations.
func TestCoverage(t *testing.T) {
	n, first := study.Size(t, 6, 2, 0)
	eclipses := study.Eclipses(t)
	var clear, clearHeld, other, otherHeld, all, fitted int
	t.Log("| class | logs | accepted | covered | scatter, s | half-width, s | ratio | to the rms | refused")
	for _, c := range studied() {
		if !strings.Contains(c.String(), os.Getenv("NOONFALL_CLASS")) {
			continue
		}
		k := tallyOf(t, c, eclipses, n, first)
		t.Log(k)
		if testing.Verbose() {
			t.Log("    missed: ", strings.Join(k.missed, ", "))
		}
		all, fitted = all+k.drawn, fitted+k.accepted
		nominal := c.Weather == rehearsal.Clear && !c.Horizon
		if nominal {
			clear, clearHeld = clear+k.accepted, clearHeld+k.covered
		} else {
			other, otherHeld = other+k.accepted, otherHeld+k.covered
		}
		if k.accepted < 100 {
			continue
		}
		if least := study.Least(k.accepted, 0.92, 2); !(float64(k.covered) >= least) {
			t.Errorf("%v: %d of %d intervals hold the truth, at least %.1f are wanted", c, k.covered, k.accepted, least)
		}
		// Width must not be bought for show: half of it is 1.96 deviations where errors are normal
		// and all of a kind.
		if wide := quantile.Median(k.halves) / rms(k.offs); !(wide <= 3) {
			t.Errorf("%v: the median half-width is %.2f times the errors' deviation, at most 3 are wanted", c, wide)
		}
		if missed := k.accepted - k.covered; nominal && !(float64(missed) >= study.Least(k.accepted, 0.02, 2)) {
			t.Errorf("%v: only %d of %d intervals miss the truth: they are wide for show", c, missed, k.accepted)
		}
	}
	for _, p := range []struct {
		name   string
		of, is int
		share  float64
	}{{"clear skies", clear, clearHeld, 0.95}, {"other skies", other, otherHeld, 0.93}} {
		if least := study.Least(p.of, p.share, 3); !(float64(p.is) >= least) {
			t.Errorf("%s: %d of %d intervals hold the truth, at least %.1f are wanted", p.name, p.is, p.of, least)
		}
	}
	if os.Getenv("NOONFALL_CLASS") == "" && !(fitted*10 >= 7*all) {
		t.Errorf("%d of %d logs are fitted", fitted, all)
	}
}

// tallyOf tries n logs of a class, on all processors.
func tallyOf(t *testing.T, c rehearsal.Class, eclipses []*eclipse.Elements, n, first int) tally {
	t.Helper()
	out := study.Each(n, first, func(seed uint64) tried { return try(c, eclipses, seed) })
	for _, o := range out {
		if o.err != nil {
			t.Errorf("%v, seed %d: %v", c, o.seed, o.err)
		}
	}
	return tallied(c, out)
}
