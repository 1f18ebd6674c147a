package fit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
)

// However far the first look is off, which a bank of cloud over totality sees to, the readings
// that the fit ends with are laid closely around both inner contacts: were they laid around one
// of them for the other, seconds would be asked of means of a quarter of a minute.
func TestWindowIsLaidAroundTheContacts(t *testing.T) {
	_, l := realLight(t, time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), sun.Site{Lat: 36.3, Lon: -5.6})
	fitted := 0
	for seed := range uint64(24) {
		p, shift, err := l.near(context.Background(), banked(l, seed), 0)
		if errors.As(err, new(*Refusal)) {
			continue
		}
		require.NoError(t, err)
		fitted++
		for _, contact := range []float64{l.c2, l.c3} {
			widest := 0.0
			for k := 1; k < len(p.t); k++ {
				if math.Abs(p.t[k]-shift-contact) <= fine.sharp-relay {
					widest = math.Max(widest, p.t[k]-p.t[k-1])
				}
			}
			if !(widest > 0 && widest <= 1.5*bankedCadence) {
				t.Errorf("log %d: beside the contact at %+.0f s readings stand %g s apart, %g is the log's cadence", seed, contact, widest, bankedCadence)
			}
		}
	}
	if fitted < 16 {
		t.Errorf("only %d logs are fitted", fitted)
	}
}

const bankedCadence = 2.0 // s

// banked is a log of the light through a bank of cloud over maximum whose depth wanders.
func banked(l *light, seed uint64) *series {
	rng := rand.New(rand.NewPCG(seed, 11))
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	from, to, soft := -60*between(8, 35), 60*between(8, 35), between(60, 280)
	depth, wander := between(0.4, 1.6), between(0.002, 0.012) // natural logarithm; of that, in the root of a second
	off := between(-100, 100)
	rise := func(x float64) float64 { return 1 / (1 + math.Exp(-4*x/soft)) }
	var s []Sample
	for t := l.c1 - aside; t < l.c4+aside; t += bankedCadence {
		depth += wander * math.Sqrt(bankedCadence) * rng.NormFloat64()
		cloud := math.Exp(-math.Max(0, depth) * rise(t-from) * rise(to-t))
		value := (math.Exp(l.clear.at(t))*l.flux(t) + 4) * cloud * (1 + 1e-3*rng.NormFloat64())
		at := l.curve.Circumstances().Max.UTC.Add(time.Duration((t + off) * float64(time.Second)))
		s = append(s, Sample{Time: at, Value: math.Round(value / 8)}) // a step is 8 lx
	}
	out := newSeries(s, l.curve.Observer().Scale(), l.max, false)
	return &out
}
