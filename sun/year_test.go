package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// sundial counts a year of transits over a site, day by day in UTC.
func sundial(t *testing.T, s Site, year int) (byCount [3]int) {
	t.Helper()
	for day := 1; day <= 365; day++ {
		d := dayAt(t, s, time.Date(year, 1, day, 0, 0, 0, 0, time.UTC))
		byCount[len(d.Transits())]++
		if n := len(d.meridian(math.Pi)); n != 1 { // the sundial's midnight, 12 hours away from the trouble
			t.Errorf("%d passages of the lower meridian on day %d", n, day)
		}
	}
	return byCount
}

// Where the zone's midnight is the sundial's noon, a noon slips over midnight four
// times a year, as the equation of time passes zero: twice a day is left without,
// twice one has two. None is lost over the year.
func TestNoonAtMidnight(t *testing.T) {
	got := sundial(t, Site{Lon: 180}, 2026)
	if got[0] != 2 || got[2] != 2 {
		t.Errorf("%d days without a transit, %d with two; want 2 and 2", got[0], got[2])
	}
}

// Day after day the crossings of a level alternate, up and down, none lost at
// midnight and none met twice: sites near the poles, where the Sun skims levels,
// and zones that put midnight anywhere.
func TestCrossingsAlternateOverTheYear(t *testing.T) {
	for _, c := range []struct {
		site  Site
		level float64
		hours int
	}{
		{Site{Lat: 70.5, Lon: -123.052}, Sunrise, -8}, {Site{Lat: 66.7}, Sunrise, 0}, {Site{Lat: -67.4, Lon: 180}, Sunrise, 12},
		{Site{Lat: 89.95, Lon: 40}, Sunrise, 3}, {Site{Lat: 89.8, Lon: 40}, CivilTwilight, 3}, {Site{Lat: -89.9}, NauticalTwilight, 0},
		{Site{Lat: 90}, Sunrise, 0}, {Site{Lat: -90}, AstronomicalTwilight, 0},
		{Site{Lat: 0, Lon: -180}, AstronomicalTwilight, 14}, {Site{Lat: 23.44, Lon: 100}, 89.9, 7}, {Site{Lat: 54.6}, NauticalTwilight, -12},
	} {
		loc := time.FixedZone("", c.hours*3600)
		var last *Crossing
		wasAbove, n := false, 0
		for day := 1; day <= 365; day++ {
			d := dayAt(t, c.site, time.Date(2026, 1, day, 0, 0, 0, 0, loc))
			p := d.Passage(c.level)
			if day > 1 && (p.Course == StaysAbove && !wasAbove || p.Course == StaysBelow && wasAbove) {
				t.Errorf("%+v, %g degrees, day %d: %v, but above was %t at midnight", c.site, c.level, day, p.Course, wasAbove)
			}
			for _, x := range p.Crossings {
				n++
				if last != nil && (x.Rising == last.Rising || !(x.TT > last.TT)) {
					t.Errorf("%+v, %g degrees: rising %t at %v follows rising %t at %v", c.site, c.level, x.Rising, x.Time, last.Rising, last.Time)
				}
				if x.Time.Before(d.Start()) || !x.Time.Before(d.End()) || x.Time.Location() != loc {
					t.Errorf("%v is not in the day from %v to %v", x.Time, d.Start(), d.End())
				}
				last = &x
			}
			wasAbove = d.Position(d.to).Alt >= c.level
		}
		t.Logf("%+v: %d crossings of %g degrees", c.site, n, c.level)
		if (c.site.Lat == 90 || c.site.Lat == -90) && n != 2 {
			t.Errorf("%d crossings a year at a pole, want 2", n)
		}
	}
}

// Every crossing is at its level by the full computation, and a plain walk through
// the day, a minute a step, sees the same ones.
func TestCrossingsByWalkingThroughTheDay(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 9))
	walked := 0
	for i := range 240 {
		s := Site{Lat: 180*rng.Float64() - 90, Lon: 360*rng.Float64() - 180, Height: 4000 * rng.Float64()}
		if i%3 == 0 {
			s.Lat = math.Copysign(65+25*rng.Float64(), s.Lat)
		}
		d := dayAt(t, s, time.Date(1901, 1, 1+rng.IntN(73048), 0, 0, 0, 0, time.FixedZone("", 900*(rng.IntN(97)-48))))
		for _, level := range []float64{Sunrise, CivilTwilight, -20 + 60*rng.Float64()} {
			p := d.Passage(level)
			for _, c := range p.Crossings {
				if h := d.observer.Position(c.TT); !(math.Abs(h.Alt-level) <= 1e-6) || h.Az != c.Sun.Az && !(apart(h, c.Sun) <= 1e-6) {
					t.Errorf("%+v: at %v the Sun is at %.7f, want %g", s, c.Time, h.Alt, level)
				}
				if (c.Rate > 0) != c.Rising {
					t.Errorf("%+v: rising %t at %.3f degrees an hour", s, c.Rising, c.Rate)
				}
			}
			n, above, nearest := 0, d.Position(d.from).Alt >= level, math.Inf(1)
			for tt := d.from; tt < d.to; {
				tt = min(tt+60, d.to)
				alt := d.Position(tt).Alt
				nearest = math.Min(nearest, math.Abs(alt-level))
				if now := alt >= level; now != above {
					above = now
					n++
				}
			}
			if len(p.Crossings) > 0 {
				nearest = 0
			}
			if !(math.Abs(p.Margin-nearest) <= 0.13) { // half a minute's climb
				t.Errorf("%+v, %v: %v %g by %.4f degrees, a walk says %.4f", s, d.Start(), p.Course, level, p.Margin, nearest)
			}
			walked += n
			short := 0 // crossings and re-crossings between two steps
			for i := 1; i < len(p.Crossings); i++ {
				if p.Crossings[i].TT-p.Crossings[i-1].TT < 60 {
					short += 2
				}
			}
			if n != len(p.Crossings) && n != len(p.Crossings)-short {
				t.Errorf("%+v, %v: %d crossings of %.3f, a walk sees %d", s, d.Start(), len(p.Crossings), level, n)
			}
		}
	}
	if walked < 900 {
		t.Errorf("only %d crossings walked over", walked)
	}
}

// Between two neighbouring turns the Sun only climbs or only sinks, also where noon
// or midnight of the sundial slips over that of the zone.
func TestTurnsDivideTheDay(t *testing.T) {
	for day := 1; day <= 365; day += 2 {
		for _, s := range []Site{{Lat: 20, Lon: 180}, {Lat: -70, Lon: 0.5}, {Lat: 89.93, Lon: 10}} {
			d := dayAt(t, s, time.Date(2026, 1, day, 0, 0, 0, 0, time.UTC))
			if d.turns[0].t != d.from || d.turns[len(d.turns)-1].t != d.to {
				t.Fatalf("%+v, day %d: turns from %v to %v, want %v to %v", s, day, d.turns[0].t, d.turns[len(d.turns)-1].t, d.from, d.to)
			}
			for i, b := range d.turns[1:] {
				a := d.turns[i]
				up := b.alt > a.alt
				for last := a; last.t < b.t; {
					next := d.turnAt(min(last.t+97, b.t))
					if (next.alt > last.alt) != up && !(math.Abs(next.alt-last.alt) <= 1e-9) {
						t.Fatalf("%+v, day %d: turns at %.0f s of the day, between %.0f and %.0f", s, day, float64(last.t-d.from), float64(a.t-d.from), float64(b.t-d.from))
					}
					last = next
				}
				if !(b.t > a.t) {
					t.Errorf("%+v, day %d: turns at %.0f s and then at %.0f", s, day, float64(a.t-d.from), float64(b.t-d.from))
				}
			}
		}
	}
}
