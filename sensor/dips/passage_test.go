package dips

import (
	"context"
	"math"
	"os"
	"slices"
	"testing"
)

func long() bool { return os.Getenv("NOONFALL_BENCHES") != "" }

// drawn are passes in a log of so many seconds, one every so often, lasting from shortest to
// longest.
func drawn(b *bench, span, every, shortest, longest float64) []pass {
	var out []pass
	for at := every; at < span-every/2; at += every {
		lasts := shortest * math.Pow(longest/shortest, b.rng.Float64())
		p := pass{least: at + (every/2-lasts/2)*(b.rng.Float64()-0.5), ball: 0.4 + 1.6*b.rng.Float64(), dark: b.rng.Float64(), lean: 0.5 * b.rng.Float64()}
		p.impact = (0.4 + p.ball) * b.rng.Float64()
		p.speed = 2 * math.Sqrt((1+p.ball)*(1+p.ball)-p.impact*p.impact) / lasts
		out = append(out, p)
	}
	return out
}

// pairs matches dips to passes by their least light.
func pairs(r *Result, passes []pass) (hits map[int]Dip, extra int) {
	hits, used := map[int]Dip{}, map[int]bool{}
	for i, p := range passes {
		a, e := p.contacts()
		for k, d := range r.Dips {
			if l := d.Least.Sub(benchDay).Seconds(); l > a && l < e && !used[k] {
				hits[i], used[k] = d, true
				break
			}
		}
	}
	return hits, len(r.Dips) - len(used)
}

var benches = []struct {
	name  string
	set   func(b *bench)
	span  float64
	every float64
	lasts [2]float64 // s
	least float64    // share of the passes to be found
}{
	{"one a second", func(b *bench) { b.drift, b.spikes = 0.003, 2e-4 }, 3600, 300, [2]float64{8, 80}, 0.99},
	{"ten a second", func(b *bench) { b.cadence, b.drift, b.spikes = 0.1, 0.003, 2e-4 }, 600, 30, [2]float64{1, 15}, 0.99},
	{"often", func(b *bench) { b.cadence = 0.2 }, 200, 10, [2]float64{2, 4}, 0.99},
	{"pendulum", func(b *bench) { b.cadence = 0.1 }, 120, 4, [2]float64{1.5, 1.6}, 0.99},
	{"flicker", func(b *bench) { b.flicker = 0.05 }, 3600, 300, [2]float64{10, 60}, 0.97},
	{"thirty counts", func(b *bench) { b.level, b.room, b.noise = 30, 1, 0.02 }, 3600, 300, [2]float64{10, 60}, 0.9},
	{"rising", func(b *bench) { b.rising, b.drift = 4095, 0.003 }, 3600, 300, [2]float64{8, 80}, 0.99},
	{"a few readings each", func(*bench) {}, 3600, 60, [2]float64{5, 10}, 0.93},
	{"short log", func(*bench) {}, 120, 60, [2]float64{8, 20}, 0.97},
	{"irregular", func(b *bench) { b.jitter = 1.8 }, 3600, 300, [2]float64{10, 80}, 0.99},
	{"slow log", func(b *bench) { b.cadence = 10 }, 36000, 3000, [2]float64{100, 900}, 0.97},
	{"long passes", func(b *bench) { b.cadence, b.drift = 5, 0.005 }, 36000, 9000, [2]float64{600, 2400}, 0.97},
	{"lit room", func(b *bench) { b.room = 1500; b.drift = 0.002 }, 3600, 300, [2]float64{10, 60}, 0.97},
	{"a day", func(b *bench) { b.drift, b.flicker, b.warm, b.age, b.spikes = 0.01, 0.02, 0.1, 0.05, 2e-4 }, 86400, 7200, [2]float64{10, 60}, 0.97},
}

// Every passage of a ball is found, and nothing else. The error bars hold the truth: at least
// 92 % of the 95 % intervals (1.96 U) for every quantity in every row of 50 passes or more.
func TestPassages(t *testing.T) {
	want := 120
	if long() {
		want = 1000
	}
	for _, tt := range benches {
		t.Run(tt.name, func(t *testing.T) {
			var z [4][]float64
			all, found, extra := 0, 0, 0
			for seed := uint64(1); all < want; seed++ {
				b := newBench(seed)
				tt.set(&b)
				passes := drawn(&b, tt.span, tt.every, tt.lasts[0], tt.lasts[1])
				if tt.name == "rising" {
					b.level = 3000
				}
				o := Options{}
				if b.rising > 0 {
					o.Dark = b.rising
				}
				r, err := Find(context.Background(), b.log(int(tt.span/b.cadence), passes, nil), o)
				if err != nil {
					t.Fatal(err)
				}
				hits, more := pairs(r, passes)
				all, found, extra = all+len(passes), found+len(hits), extra+more
				for i, p := range passes {
					if d, ok := hits[i]; ok {
						for k, v := range deviations(b, p, d) {
							z[k] = append(z[k], v)
						}
						continue
					}
					a, e := p.contacts()
					t.Logf("seed %d: missed one of %.1f s, depth %.3f; aside %v", seed, e-a, b.depth(p), r.Aside)
				}
			}
			t.Logf("%d of %d passes found, %d besides", found, all, extra)
			if float64(found) < tt.least*float64(all) || extra > all/200 {
				t.Errorf("%d of %d passes found, %d besides", found, all, extra)
			}
			for k, name := range []string{"start", "least", "end", "depth"} {
				cover(t, name, z[k])
			}
		})
	}
}

// deviations are those of start, least, end and depth, in standard uncertainties.
func deviations(b bench, p pass, d Dip) [4]float64 {
	start, end := p.contacts()
	return [4]float64{
		(d.Start.Sub(benchDay).Seconds() - start) / d.StartU.Seconds(),
		(d.Least.Sub(benchDay).Seconds() - p.least) / d.LeastU.Seconds(),
		(d.End.Sub(benchDay).Seconds() - end) / d.EndU.Seconds(),
		(d.Depth - b.depth(p)) / d.DepthU,
	}
}

func cover(t *testing.T, name string, z []float64) {
	t.Helper()
	in := 0
	for _, v := range z {
		if math.Abs(v) <= 1.96 {
			in++
		}
	}
	slices.Sort(z)
	share := float64(in) / float64(len(z))
	t.Logf("%-5s  95 %% interval holds %.1f %%; middle %+.2f U, 68 %% within %+.2f to %+.2f U", name, 100*share, z[len(z)/2], z[len(z)*16/100], z[len(z)*84/100])
	if !(share >= 0.92) {
		t.Errorf("%s: the 95 %% interval holds the truth in %.1f %% of %d", name, 100*share, len(z))
	}
}
