package dips

import (
	"context"
	"math"
	"slices"
	"testing"
)

// nights are lamps and rooms without a ball: each sets a bench up and says what part of its
// lamp is lit at an instant.
var nights = []struct {
	name string
	set  func(b *bench) func(t float64) float64
}{
	{"white noise", func(*bench) func(float64) float64 { return nil }},
	{"drift on every scale", func(b *bench) func(float64) float64 { b.drift = 0.05; return nil }},
	{"flicker of a fifth", func(b *bench) func(float64) float64 { b.flicker, b.noise = 0.2, 0.003; return nil }},
	{"warming up, ageing, spikes", func(b *bench) func(float64) float64 {
		b.drift, b.flicker, b.warm, b.age, b.spikes = 0.02, 0.05, 0.1, 0.05, 2e-4
		return nil
	}},
	{"thirty counts", func(b *bench) func(float64) float64 { b.level, b.noise, b.drift = 30, 0.02, 0.02; return nil }},
	{"forty counts, steady", func(b *bench) func(float64) float64 { b.level, b.noise, b.drift = 40, 0.002, 0.02; return nil }},
	{"four a minute", func(b *bench) func(float64) float64 {
		b.cadence, b.drift, b.flicker = 15, 0.02, 0.05
		return nil
	}},
	{"lamp lit half way", func(b *bench) func(float64) float64 {
		b.drift = 0.01
		return func(t float64) float64 {
			if t > 40000 {
				return 1
			}
			return 0.01
		}
	}},
	{"twelve steps of the light", func(b *bench) func(float64) float64 { b.drift = 0.01; return steps(b, 12) }},
}

// steps are levels that hold until somebody comes or goes.
func steps(b *bench, n int) func(t float64) float64 {
	var at, level []float64
	for range n {
		at, level = append(at, 86400*b.rng.Float64()), append(level, 0.3+b.rng.Float64())
	}
	slices.Sort(at)
	return func(t float64) float64 {
		i, _ := slices.BinarySearch(at, t)
		return level[max(0, i-1)]
	}
}

// No false dip in a day of lamp noise. With none in n days the rate is below 3/n a day at 95 %
// (the binomial bound). A flicker of a fifth that happens to wander over minutes is a dip to
// anything that knows no mains: hence the one allowed. NOONFALL_BENCHES runs forty days of each
// kind, a tenth of them at ten a second.
func TestNoFalseDip(t *testing.T) {
	days := uint64(3)
	switch {
	case long():
		days = 40
	case testing.Short():
		days = 1
	}
	total, lies := 0, 0
	for _, night := range nights {
		top := 0.0
		for seed := range days {
			b := newBench(1000 + seed)
			lamp := night.set(&b)
			if long() && seed%10 == 0 && b.cadence == 1 {
				b.cadence = 0.1
			}
			log := b.log(int(86400/b.cadence), nil, lamp)
			r, err := Find(context.Background(), log, Options{})
			if err != nil {
				t.Fatal(err)
			}
			total++
			lies += len(r.Dips)
			for _, d := range r.Dips {
				t.Logf("%s, seed %d: %v, depth %.3f, %v long, signal %.1f", night.name, 1000+seed, d.Least.Sub(benchDay), d.Depth, d.End.Sub(d.Start), d.Signal)
			}
			top = math.Max(top, strongest(t, log))
		}
		t.Logf("%s: the strongest at threshold 3 without a least depth stands out by %.1f", night.name, top)
	}
	t.Logf("%d false dips in %d days", lies, total)
	if most := 1 + total/150; lies > most {
		t.Errorf("%d false dips in %d days, at most %d are allowed", lies, total, most)
	}
}

// strongest is the greatest signal that a much lower threshold lets through.
func strongest(t *testing.T, log []Sample) float64 {
	t.Helper()
	r, err := Find(context.Background(), log, Options{Threshold: 3, MinDepth: 1e-6})
	if err != nil {
		t.Fatal(err)
	}
	top := 0.0
	for _, d := range r.Dips {
		top = math.Max(top, d.Signal)
	}
	return top
}
