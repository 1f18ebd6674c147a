package fit_test

import (
	"context"
	"errors"
	"math"
	"os"
	"slices"
	"sort"
	"strconv"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sensor"
)

func catalogue(t testing.TB) []*eclipse.Elements {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	var out []*eclipse.Elements
	for e := range c.All() {
		if e.Date > "2001" && e.Date < "2061" {
			out = append(out, e)
		}
	}
	require.NotEmpty(t, out)
	return out
}

// samples turns a rehearsed log into what a station hands to the fit.
func samples(t testing.TB, l *rehearsal.Log, chain *sensor.Chain) []fit.Sample {
	t.Helper()
	var conv *sensor.Converter
	if chain != nil {
		var err error
		conv, err = chain.Compile()
		require.NoError(t, err)
	}
	out := make([]fit.Sample, len(l.Samples))
	for i, s := range l.Samples {
		out[i] = fit.Sample{Time: s.Stamp, Value: s.Counts}
		if conv != nil {
			r := conv.Lux(s.Counts)
			out[i].Value, out[i].Status = r.Lux, r.Status
		}
	}
	return out
}

// An outcome is one rehearsed log fitted.
type outcome struct {
	plan    rehearsal.Plan
	err     error
	off, u  float64 // offset less truth; its uncertainty
	half    float64
	covered bool // by the interval with the limb's term
	res     *fit.Result
}

func rehearse(t testing.TB, eclipses []*eclipse.Elements, w rehearsal.Weather, seed uint64) outcome {
	t.Helper()
	p, err := rehearsal.Draw(eclipses, w, seed)
	require.NoError(t, err)
	l, err := rehearsal.Make(context.Background(), p)
	require.NoError(t, err)
	r, err := fit.Clock(context.Background(), samples(t, l, p.Chain), l.Curve, fit.Options{})
	o := outcome{plan: p, err: err}
	if err == nil {
		o.res = r
		o.off, o.u = r.Offset-l.Truth.Offset, r.OffsetU
		o.half = (r.CI95[1] - r.CI95[0]) / 2
		o.covered = r.CI95[0] <= l.Truth.Offset && l.Truth.Offset <= r.CI95[1]
	}
	return o
}

// nominal is the mixture of weather that the two hundred logs are drawn from.
var nominal = []rehearsal.Weather{
	rehearsal.Clear, rehearsal.Clear, rehearsal.Clear, rehearsal.Haze, rehearsal.Haze,
	rehearsal.Cumulus, rehearsal.Cumulus, rehearsal.Broken, rehearsal.Deck, rehearsal.Shade,
}

// TestCoverage counts over rehearsed logs how often the interval holds the truth. NOONFALL_LOGS sets how
// many; 200 is the usual study, fewer run with the ordinary tests.
func TestCoverage(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 20
	}
	if s := os.Getenv("NOONFALL_LOGS"); s != "" {
		var err error
		n, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	first := 0
	if s := os.Getenv("NOONFALL_SEED"); s != "" {
		var err error
		first, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	eclipses := catalogue(t)
	outcomes := make([]outcome, n)
	var wait sync.WaitGroup
	for worker := range 2 {
		wait.Go(func() {
			for i := worker; i < n; i += 2 {
				outcomes[i] = rehearse(t, eclipses, nominal[i%len(nominal)], uint64(i+first))
			}
		})
	}
	wait.Wait()
	type tally struct {
		logs, fitted, covered int
		scaled, halves, errs  []float64
	}
	by := map[rehearsal.Weather]*tally{}
	var all tally
	for i, o := range outcomes {
		w := o.plan.Weather
		if by[w] == nil {
			by[w] = &tally{}
		}
		for _, k := range []*tally{by[w], &all} {
			k.logs++
			if o.err != nil {
				continue
			}
			k.fitted++
			if o.covered {
				k.covered++
			}
			k.scaled = append(k.scaled, o.off/o.u)
			k.halves = append(k.halves, o.half)
			k.errs = append(k.errs, math.Abs(o.off))
		}
		var no *fit.Refusal
		switch {
		case o.err != nil && !errors.As(o.err, &no):
			t.Errorf("log %d: %v", i, o.err)
		case o.err != nil:
			t.Logf("log %3d %-8v %s magnitude %s: refused: %v", i, w, o.plan.Elements.Date, depth(t, o), o.err)
		case !o.covered || testing.Verbose() && os.Getenv("NOONFALL_LOGS") != "":
			t.Logf("log %3d %-8v %s magnitude %s every %v: off %+.2f s, u %.2f, half %.2f, cloud %.2f covered %v", i, w, o.plan.Elements.Date, depth(t, o), o.plan.Cadence, o.off, o.u, o.half, o.res.CloudFraction, o.covered)
		}
	}
	for w := range rehearsal.Shade + 1 {
		if k := by[w]; k != nil {
			t.Logf("%-8v %3d logs, %3d fitted, %3d covered; median half-width %.2f s, median error %.2f s, rms of error over uncertainty %.2f",
				w, k.logs, k.fitted, k.covered, median(k.halves), median(k.errs), rms(k.scaled))
		}
	}
	t.Logf("all: %d logs, %d fitted, %d covered", all.logs, all.fitted, all.covered)
	// Of 200 logs 183 to 192 are fitted and 177 to 190 covered (seeds 0, 200, 400,
	// 110000 and 130000, looked at only when the method was settled; 5000, 6000, 70000
	// and 90000, on which it was developed, lie between). What is refused is mostly
	// shallow and under cloud. With the usual 200 nine in ten of all logs must be covered, refusals
	// counted as misses; with fewer, chance is allowed three deviations.
	switch {
	case n == 200 && first == 0:
		if !(all.covered >= 180) {
			t.Errorf("%d of 200 intervals hold the truth", all.covered)
		}
	default:
		if least := leastOf(all.fitted, 0.95); !(float64(all.covered) >= least) {
			t.Errorf("%d of %d intervals hold the truth, at least %.1f are wanted", all.covered, all.fitted, least)
		}
		if least := leastOf(all.logs, 0.93); !(float64(all.fitted) >= least) {
			t.Errorf("%d of %d logs are fitted, at least %.1f are wanted", all.fitted, all.logs, least)
		}
	}
}

// leastOf is the number of n that happen with probability p, less three standard
// deviations (binomial).
func leastOf(n int, p float64) float64 {
	m := float64(n)
	return m*p - 3*math.Sqrt(m*p*(1-p))
}

func depth(t testing.TB, o outcome) string {
	obs, err := eclipse.NewObserver(o.plan.Elements, o.plan.Site, eclipse.Options{})
	require.NoError(t, err)
	c := obs.Circumstances()
	return strconv.FormatFloat(c.Magnitude, 'f', 2, 64) + " " + c.Geometry.String() + " alt " + strconv.Itoa(int(c.Max.Alt))
}

func median(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	s := slices.Clone(x)
	sort.Float64s(s)
	return s[len(s)/2]
}

func rms(x []float64) float64 {
	var s float64
	for _, v := range x {
		s += v * v
	}
	return math.Sqrt(s / float64(len(x)))
}
