package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
)

// named are the explanations of a claims file, the first found first, with the groups they
// are said to hold in.
func named(t testing.TB, content string, besides ...string) (causes []string, text string) {
	t.Helper()
	path := written(t, content)
	for i := 0; i+1 < len(besides); i += 2 {
		require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(path), besides[i]), []byte(besides[i+1]), 0o666))
	}
	text = check(t, "-claims", path)
	for _, part := range strings.Split(text, "\n  If ")[1:] {
		cause, _, _ := strings.Cut(part, ":\n")
		causes = append(causes, strings.Join(strings.Fields(cause), " "))
	}
	return causes, text
}

// isNamed wants these explanations, in this order, and no others.
func isNamed(t testing.TB, content string, want ...string) {
	t.Helper()
	got, text := named(t, content)
	ok := len(got) == len(want)
	for i := range min(len(got), len(want)) {
		ok = ok && strings.HasPrefix(got[i], want[i])
	}
	if !ok {
		t.Errorf("named %q, want %q:\n%s", got, want, text)
	}
}

var (
	computedHere = maker{day: "1999-08-11"}
	universal    = maker{day: "1999-08-11", deltaT: 63.7, ut: true} // Delta T rounded from testdata/references/deltat.csv
)

func late(by time.Duration) func(p *printed) {
	return func(p *printed) {
		if !p.at.IsZero() {
			p.at = p.at.Add(by)
		}
	}
}

func called(from, to string) func(p *printed) {
	return func(p *printed) {
		if p.quantity == from {
			p.quantity = to
		}
	}
}

func without(rows []printed, quantity string) (out []printed) {
	for _, p := range rows {
		if p.quantity != quantity {
			out = append(out, p)
		}
	}
	return out
}

// A mistaken is a table with one mistake, and how the explanation begins that finds it.
type mistaken struct {
	name string
	rows []printed
	want string
}

func mistakes(t *testing.T) []mistaken {
	return []mistaken{
		{"west positive", spoilt(computedHere.rows(t), func(p *printed) { p.site.Lon *= -1 }), "the longitude has the other sign"},
		{"south positive", spoilt(computedHere.rows(t), func(p *printed) { p.site.Lat *= -1 }), "the latitude has the other sign"},
		{"exchanged", spoilt(computedHere.rows(t), func(p *printed) { p.site.Lat, p.site.Lon = p.site.Lon, p.site.Lat }), "latitude and longitude are exchanged"},
		{"two hours", spoilt(computedHere.rows(t), late(2*time.Hour)), "instants are local time, +2 h from UTC"},
		{"five and a half hours", spoilt(computedHere.rows(t), late(330*time.Minute)), "instants are local time, +5.5 h from UTC"},
		{"three and a half hours west", spoilt(computedHere.rows(t), late(-210*time.Minute)), "instants are local time, -3.5 h from UTC"},
		{"UT called UTC", spoilt(universal.rows(t), func(p *printed) { p.scale = "UTC" }), "instants called UTC are UT"},
		{"UTC called UT", spoilt(computedHere.rows(t), func(p *printed) { p.scale = "UT" }), "instants called UT are UTC"},
		{"obscuration for magnitude", spoilt(without(computedHere.rows(t), "obscuration"), called("magnitude", "obscuration")), "magnitude stands for obscuration"},
		{"magnitude for obscuration", spoilt(without(computedHere.rows(t), "magnitude"), called("obscuration", "magnitude")), "magnitude stands for obscuration"},
		{"ratio for magnitude", spoilt(without(computedHere.rows(t), "magnitude"), called("diameter_ratio", "magnitude")), "magnitude stands for the ratio of the diameters"},
		{"magnitude for ratio", spoilt(without(computedHere.rows(t), "diameter_ratio"), called("magnitude", "diameter_ratio")), "magnitude stands for the ratio of the diameters"},
		{"covered part inside", coveredInside(t), "magnitude inside the path is the covered part"},
		{"opposite limb", spoilt(computedHere.rows(t), func(p *printed) { p.v += 180 * float64(btoi(p.quantity == "p_deg@c1")) }), "angles are reckoned from the opposite side, 180 deg away, in 1 of 12 quantities (p_deg@c1)"},
		{"another delta_t_s stated", maker{day: "1999-08-11", deltaT: 71.7, said: 63.7, ut: true}.rows(t), "Delta T is larger by 8."},
		{"a smaller one stated", maker{day: "1999-08-11", deltaT: 60.2, said: 63.7, ut: true}.rows(t), "Delta T is smaller by 3."},
		{"stated, and not used", spoilt(computedHere.rows(t), func(p *printed) { p.deltaT = "70" }), "delta_t_s is not what the claims were made with"},
		{"one lunar radius", maker{day: "1999-08-11", k1: 0.2725076, k2: 0.2725076}.rows(t), "the Moon has a radius of 0.2725076"},
		{"the smaller radius", maker{day: "1999-08-11", k1: 0.272281, k2: 0.272281}.rows(t), "the Moon has a radius of 0.272281"},
		{"two lunar radii", maker{day: "1999-08-11", k1: 0.2725076, k2: 0.272281}.rows(t), "the Moon has radii of 0.2725076"},
		{"radii stated, and not used", spoilt(computedHere.rows(t), func(p *printed) { p.k = "0.2725076,0.2725076" }), "k1 and k2 are not what"},
	}
}

func TestMistakesAreNamed(t *testing.T) {
	for _, test := range mistakes(t) {
		t.Run(test.name, func(t *testing.T) {
			for seed := range uint64(3) {
				isNamed(t, seeded(test.rows, seed), test.want)
			}
		})
	}
}

// coveredInside claims the covered part of the diameter where it is total.
func coveredInside(t *testing.T) []printed {
	e := computedHere.elements(t)
	return spoilt(computedHere.rows(t), func(p *printed) {
		if p.quantity != "magnitude" || p.place >= 5 {
			return
		}
		o, err := eclipse.NewObserver(e, p.site, eclipse.Options{})
		require.NoError(t, err)
		c := o.Circumstances()
		a := o.Aspect(c.Max.TT)
		p.v = (a.SunRadius + a.MoonRadius - a.Separation) / (2 * a.SunRadius)
	})
}

// The radii of claims with elements of their own are tried too.
func TestRadiiOfOwnElements(t *testing.T) {
	own := computedHere.elements(t)
	text, err := json.Marshal(own)
	require.NoError(t, err)
	m := maker{day: "1999-08-11", own: own, named: "own.json", k1: 0.2725076, k2: 0.2725076}
	got, answer := named(t, file(m.rows(t)), "own.json", string(text))
	if len(got) != 1 || !strings.HasPrefix(got[0], "the Moon has a radius of 0.2725076") {
		t.Errorf("named %q:\n%s", got, answer)
	}
}

// Right claims need no explanation, and scattered ones of no kind get none.
func TestNothingIsMadeUp(t *testing.T) {
	for name, m := range map[string]maker{"as computed": computedHere, "universal": universal, "another": {day: "2027-08-02"}} {
		if _, text := named(t, file(m.rows(t))); strings.Contains(text, "What would explain") {
			t.Errorf("%s: right claims are explained:\n%s", name, text)
		}
	}
	i := 0
	wrong := spoilt(computedHere.rows(t), func(p *printed) {
		i++
		late(time.Duration(i*i%97-48) * 7 * time.Second)(p)
		p.v += 0.013 * float64(i*i%7-3)
	})
	got, text := named(t, file(wrong))
	if len(got) != 0 || !strings.Contains(text, "None of the usual mistakes") {
		t.Errorf("scattered claims are explained by %q:\n%s", got, text)
	}
}

// Two mistakes in different claims are both found, each with its own; two at once in the
// same claims together.
func TestSeveralMistakes(t *testing.T) {
	apart := spoilt(computedHere.rows(t), func(p *printed) {
		if p.place < 3 {
			late(2 * time.Hour)(p)
		} else if p.place > 5 {
			p.site.Lon *= -1
		}
	})
	isNamed(t, file(apart), "the longitude has the other sign (west positive), in 3 of 9 sites (", "instants are local time, +2 h from UTC, in 3 of 9 sites (")
	zones := spoilt(computedHere.rows(t), func(p *printed) {
		late([]time.Duration{time.Hour, 2 * time.Hour, 330 * time.Minute}[p.place%3])(p)
	})
	isNamed(t, file(zones), "instants are local time, +1 h from UTC, in 3 of 9 sites", "instants are local time, +2 h from UTC, in 3 of 9 sites", "instants are local time, +5.5 h from UTC, of what the above leave")
	eclipses := append(computedHere.rows(t), maker{day: "2027-08-02", deltaT: 75, ut: true}.rows(t)...)
	isNamed(t, file(spoilt(eclipses, func(p *printed) { p.deltaT = "" })), "Delta T is larger by 5")
	together := spoilt(computedHere.rows(t), func(p *printed) { p.site.Lon *= -1; late(2 * time.Hour)(p) })
	got, text := named(t, file(together))
	all := strings.Join(got, "; ")
	if !strings.Contains(all, "other sign") || !strings.Contains(all, "+2 h") || strings.Contains(text, "are left") {
		t.Errorf("named %q:\n%s", got, text)
	}
}

// An explanation that spoils more claims than it mends is none: three contacts late by the
// difference of UT and UTC, among right ones at the same sites and of the same kind.
func TestSpoilingIsNoExplanation(t *testing.T) {
	n := 0
	rows := spoilt(computedHere.rows(t), func(p *printed) {
		if p.quantity == "c1" && p.place%3 == 0 {
			n++
			late(480 * time.Millisecond)(p)
		}
	})
	got, text := named(t, file(rows))
	if n != 3 || len(got) != 0 || !strings.Contains(text, "None of the usual mistakes") {
		t.Errorf("%d rows moved, named %q:\n%s", n, got, text)
	}
}

// The sizes before and after stand with the explanation, and the whole table's are robust.
func TestSizesAreShown(t *testing.T) {
	_, text := named(t, file(spoilt(computedHere.rows(t), late(2*time.Hour))))
	for _, want := range []string{"seconds: median +7200.0", "off alike: local time"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q lacks in\n%s", want, text)
		}
	}
}

// A mistake that begins behind the first claims is found: the sample is spread.
func TestSampleIsSpread(t *testing.T) {
	var rows []printed
	for range 12 { // 1000 claims, wrong in the last half
		rows = append(rows, computedHere.rows(t)...)
	}
	for i := range rows {
		if i > len(rows)/2 {
			rows[i].site.Lon *= -1
		}
	}
	isNamed(t, file(rows), "the longitude has the other sign")
	s := thinned[int]{most: 400}
	for i := range 40_000 {
		s.add(i)
	}
	var eighths [8]int // of the whole, and by the remainder of seven
	var sevenths [7]int
	for _, i := range s.kept {
		eighths[i*8/40_000]++
		sevenths[i%7]++
	}
	if n := len(s.kept); n < 200 || n > 400 {
		t.Errorf("%d are kept, want 200 to 400", n)
	}
	for _, n := range append(eighths[:], sevenths[:]...) {
		if want := len(s.kept) / 8; n < want-8 || n > want+12 {
			t.Errorf("spread %v by eighths, %v by remainder of seven", eighths, sevenths)
			break
		}
	}
}
