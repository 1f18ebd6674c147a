package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

// Thin cloud that forgets itself within minutes must not be taken for a level that wanders
// for good, which would make the interval half as wide again in a shallow partial eclipse: there is no such level in these
// logs, and the walk's sizes are to say so.
func TestCloudIsNoWanderingLevel(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 50})
	for seed, tt := range []struct{ deviation, memory float64 }{{0.03, 60}, {0.03, 134}, {0.05, 134}, {0.03, 300}} {
		p, shift, err := l.near(context.Background(), hazy(l, tt.deviation, tt.memory, uint64(seed)), 0)
		require.NoError(t, err)
		p.deviance(shift)
		// Within the two hours of the eclipse less than this cloud: the root of 1e-7 times 7200 s
		// is 0.027.
		if most := math.Log(1e-7); !(p.temper[calmSize] < most) {
			t.Errorf("cloud of %g that forgets itself in %g s: the level gains a variance of e^%.1f a second, e^%.1f at most expected", tt.deviation, tt.memory, p.temper[calmSize], most)
		}
	}
}

// hazy is a log of the light itself through cloud whose optical depth has that standard
// deviation and memory in seconds.
func hazy(l *light, deviation, memory float64, seed uint64) *series {
	const cadence = 10.0 // s
	rng := rand.New(rand.NewPCG(seed, 7))
	keep := math.Exp(-cadence / memory)
	cloud := deviation * rng.NormFloat64()
	var s []Sample
	for t := l.c1 - aside; t < l.c4+aside; t += cadence {
		cloud = keep*cloud + deviation*math.Sqrt(1-keep*keep)*rng.NormFloat64()
		value := math.Exp(l.clear.at(t)+cloud) * l.flux(t) * (1 + 1e-4*rng.NormFloat64())
		at := l.curve.Circumstances().Max.UTC.Add(time.Duration(t * float64(time.Second)))
		s = append(s, Sample{Time: at, Value: value})
	}
	out := newSeries(s, l.curve.Observer().Scale(), l.max, false)
	return &out
}
