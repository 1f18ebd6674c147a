package rehearsal

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
)

func testAir(t *testing.T, seed uint64) (air, *eclipse.Observer) {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	for e := range c.All() {
		if e.Date != "2027-08-02" {
			continue
		}
		o, err := eclipse.NewObserver(e, sun.Site{Lat: 36, Lon: -5.6}, eclipse.Options{})
		require.NoError(t, err)
		a, err := newAir(newDice(seed, streamAir), o, o.Circumstances(), -12*3600, 12*3600)
		require.NoError(t, err)
		return a, o
	}
	t.Fatal("the catalogue lacks 2027-08-02")
	return air{}, nil
}

// The path between its points must be where the Sun is: within the sagitta of a
// minute's turn, 2.4e-6.
func TestPathFollowsTheSun(t *testing.T) {
	a, o := testAir(t, 1)
	s, err := sun.NewObserver(o.Site(), o.Scale())
	require.NoError(t, err)
	max := o.Circumstances().Max.TT
	for x := -12*3600.0 + 17; x < 12*3600; x += 997 {
		p := s.Position(after(max, x))
		want, got := towards(p.Alt, p.Az), a.toSun(x)
		for i := range want {
			if !(math.Abs(got[i]-want[i]) <= 2.5e-6) {
				t.Fatalf("%.0f s from maximum the Sun is towards %v, want %v", x, got, want)
			}
		}
	}
}

// A day's light has no step in it, by night or by day: at sunrise the 500 lx grow
// by 1.5 klx of sky and 1 klx of Sun a degree at most, and ten seconds bring a
// thirtieth of a degree, or a sixth more light; at any other time it is less. By noon it is what a clear
// day gives, 60 to 130 klx (testdata/references/natural_illuminance.csv has 32 to
// 100 klx for sunlight, 130 in other copies).
func TestLightOfADay(t *testing.T) {
	for seed := range uint64(10) {
		a, _ := testAir(t, seed)
		most := 0.0
		last := a.light(-12 * 3600)
		for x := -12*3600.0 + 10; x < 12*3600; x += 10 {
			v := a.light(x)
			if r := v / last; !(math.Abs(r-1) <= 1./6) {
				t.Fatalf("seed %d: %.1f lx and ten seconds later %.1f, %.0f s from maximum", seed, last, v, x)
			}
			most = math.Max(most, v)
			last = v
		}
		if !(most > 60e3 && most < 130e3) {
			t.Errorf("seed %d: %.0f lx at most", seed, most)
		}
	}
}

// By hand: the Sun 30 degrees high over a level sensor with a true cosine, air
// mass 1.99 as Kasten's formula has it, extinction 0.2: 133334 exp(-0.4) sin 30
// direct, half of the 0.33 that is lost comes down as sky light.
func TestLightByHand(t *testing.T) {
	d := towards(30-0.0095, 180) // apparent altitude 30 degrees
	a := air{
		sunlight: 133334, extinction: 0.2, skyPart: 0.5, normal: direction{0, 0, 1}, cosine: 1,
		path: []direction{d, d, d},
	}
	through := math.Exp(-0.2 * 1.993)
	want := 133334*through/2 + 0.5*133334*0.5*(1-through) + duskLux
	if got := a.light(30); !(math.Abs(got-want) <= 0.001*want) {
		t.Errorf("%.0f lx, want %.0f", got, want)
	}
}
