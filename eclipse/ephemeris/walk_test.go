package ephemeris

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"sync"
	"testing"
	"time"

	published "github.com/soniakeys/meeus/v3/eclipse"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun/timescale"
)

// newYear is the first instant of a year on a clock that keeps TT, Gregorian.
func newYear(year int) timescale.TT {
	return timescale.TT(time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC).Unix() -
		time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC).Unix())
}

// walked collects a walk that must not fail.
func walked(t testing.TB, src Source, from, to timescale.TT) []*eclipse.Elements {
	t.Helper()
	var all []*eclipse.Elements
	for r, err := range Eclipses(context.Background(), src, from, to, Options{}) {
		require.NoError(t, err)
		all = append(all, r.Elements)
	}
	return all
}

// years is one walk for all tests, 1801 to 2200. NOONFALL_MILLENNIA makes it as
// long as LowPrecision reaches.
var years = sync.OnceValues(func() (span [2]timescale.TT, all []*eclipse.Elements) {
	span = [2]timescale.TT{newYear(1801), newYear(2201)}
	if os.Getenv("NOONFALL_MILLENNIA") != "" {
		span = [2]timescale.TT{newYear(1000), newYear(3000)}
	}
	for r, err := range Eclipses(context.Background(), LowPrecision{}, span[0], span[1], Options{}) {
		if err != nil {
			return span, nil
		}
		all = append(all, r.Elements)
	}
	return span, all
})

// ofYears returns those of the walk that are greatest from one New Year to another.
func ofYears(t testing.TB, from, to int) (some []*eclipse.Elements) {
	span, all := years()
	if newYear(from) < span[0] || newYear(to) > span[1] {
		t.Skip("needs NOONFALL_MILLENNIA")
	}
	require.NotEmpty(t, all)
	for _, e := range all {
		if g := e.Greatest().TT; g >= newYear(from) && g < newYear(to) {
			some = append(some, e)
		}
	}
	return some
}

// The formulae must find the catalogue's eclipses, no more and no fewer, each of
// the catalogue's type.
func TestEclipsesAreThoseOfTheCatalogue(t *testing.T) {
	catalogue, err := canon.Load()
	require.NoError(t, err)
	found := ofYears(t, 1901, 2101)
	require.Len(t, found, catalogue.Len())
	i := 0
	for want := range catalogue.All() {
		got := found[i]
		i++
		g, w := got.Greatest(), want.Greatest()
		if got.Date != want.Date || g.Type != w.Type || !(math.Abs(float64(g.TT-w.TT)) <= 35) { // the study's worst is 34.1
			t.Errorf("%s, %v, greatest at %.0f; the catalogue has %s, %v, %.0f", got.Date, g.Type, g.TT, want.Date, w.Type, w.TT)
		}
	}
}

// Another author's way from new Moon to new Moon: chapter 54 of J. Meeus,
// Astronomical Algorithms (2nd ed., 1998), series for instant and gamma. It is
// coarser than the walk, and may decide otherwise on a graze of the penumbra.
func TestEclipsesAgainstChapter54(t *testing.T) {
	const graze = 0.006 // Earth radii; twice the largest difference in gamma
	span, ours := years()
	require.NotEmpty(t, ours)
	var instants, gammas scatter
	for _, w := range chapter54(span[0], span[1]) {
		for len(ours) > 0 && ours[0].T0 < w.at-86400 {
			t.Errorf("chapter 54 has no eclipse on %s, the walk has one of magnitude %.3f", ours[0].Date, ours[0].Greatest().Magnitude)
			ours = ours[1:]
		}
		switch {
		case len(ours) > 0 && ours[0].T0 < w.at+86400:
			g := ours[0].Greatest()
			instants.add(float64(g.TT - w.at))
			gammas.add(math.Abs(g.Gamma) - math.Abs(w.gamma))
			ours = ours[1:]
		case w.margin > graze:
			t.Errorf("chapter 54 has an eclipse at %v, gamma %.4f, the walk has not", timescale.UT1(w.at).Time(), w.gamma)
		}
	}
	if len(ours) > 0 {
		t.Errorf("%d eclipses more than chapter 54 has, the first on %s", len(ours), ours[0].Date)
	}
	t.Logf("%d eclipses: greatest differs by %.0f s (rms), %.0f s at worst, gamma by %.4f and %.4f",
		len(instants), instants.rms(), instants.worst(), gammas.rms(), gammas.worst())
	if !(len(instants) > 900 && instants.worst() <= 180 && gammas.worst() <= 0.0031) {
		t.Error("that is not the same sky")
	}
}

// A meeting is a new Moon of chapter 54.
type meeting struct {
	at     timescale.TT
	gamma  float64
	margin float64 // by how much the penumbra reaches the Earth, Earth radii
}

// chapter54 lists the new Moons at which the penumbra touches the Earth or fails
// to by a hundredth of an Earth radius.
func chapter54(from, to timescale.TT) (all []meeting) {
	const month = 29.530588861 * 86400
	for k := math.Floor(float64(from)/month) - 2; k <= float64(to)/month+2; k++ {
		_, _, jde, gamma, u, _, _ := published.Solar(2000 + k/12.3685)
		m := meeting{timescale.FromJulianDate(jde, 0), gamma, 1.5433 + u - math.Abs(gamma)}
		if jde != 0 && m.margin > -0.01 && m.at >= from && m.at < to {
			all = append(all, m)
		}
	}
	return all
}

// How many of each type a century has, by the Five Millennium Canon of Solar
// Eclipses (NASA/TP-2006-214141), from memory. 1501-1600 is left out: the Canon
// counts it by the calendar of the time.
func TestTypesOfCenturies(t *testing.T) {
	for _, c := range []struct {
		from                            int
		partial, annular, total, hybrid int
	}{
		{1601, 89, 74, 61, 24},
		{1801, 87, 77, 63, 15},
		{1901, 78, 73, 71, 6},
		{2001, 77, 72, 68, 7},
		{2101, 79, 87, 65, 4},
	} {
		t.Run(strconv.Itoa(c.from), func(t *testing.T) {
			var n [4]int
			for _, e := range ofYears(t, c.from, c.from+100) {
				n[e.Greatest().Type]++
			}
			want := [4]int{
				eclipse.TypePartial: c.partial, eclipse.TypeAnnular: c.annular,
				eclipse.TypeTotal: c.total, eclipse.TypeHybrid: c.hybrid,
			}
			if n != want {
				t.Errorf("%v partial, annular, total, hybrid, want %v", n, want)
			}
		})
	}
}

// fenced has positions between two instants only, and counts what is asked.
type fenced struct {
	Source
	from, to timescale.TT
	asked    *int
}

func (f fenced) Sky(t timescale.TT) (Sky, error) {
	*f.asked++
	if err := within("instant", float64(t), float64(f.from), float64(f.to)); err != nil {
		return Sky{}, err
	}
	return f.Source.Sky(t)
}

// The source need not reach farther than the comment says, walks laid end to end
// are one walk, and an end falls on neither side twice.
func TestEclipsesAddUp(t *testing.T) {
	all := walked(t, LowPrecision{}, newYear(2026), newYear(2029))
	rapid.Check(t, func(r *rapid.T) {
		draw := func(name string) timescale.TT {
			if rapid.Bool().Draw(r, name+" at a greatest eclipse") {
				return all[rapid.IntRange(0, len(all)-1).Draw(r, name)].Greatest().TT
			}
			return timescale.TT(rapid.Float64Range(float64(newYear(2026)), float64(newYear(2029))).Draw(r, name))
		}
		a, b, c := draw("a"), draw("b"), draw("c")
		a, b, c = min(a, b, c), max(min(a, b), min(max(a, b), c)), max(a, b, c)
		var parts []*eclipse.Elements
		for _, span := range [][2]timescale.TT{{a, b}, {b, c}} {
			src := fenced{LowPrecision{}, span[0] - 6*3600, span[1] + 6*3600, new(int)}
			parts = append(parts, walked(t, src, span[0], span[1])...)
		}
		i := 0
		for _, e := range all {
			g := e.Greatest().TT
			if g < a || g >= c {
				continue
			}
			if i == len(parts) || parts[i].Date != e.Date {
				r.Fatalf("%.0f to %.0f to %.0f: the eclipse of %s is missing", a, b, c, e.Date)
			}
			i++
		}
		if i != len(parts) {
			r.Fatalf("%.0f to %.0f to %.0f: %d eclipses, want %d", a, b, c, len(parts), i)
		}
	})
}

// broken fails from the n-th question on.
type broken struct {
	Source
	left *int
}

var errBroken = errors.New("the disk is gone")

func (b broken) Sky(t timescale.TT) (Sky, error) {
	if *b.left--; *b.left < 0 {
		return Sky{}, errBroken
	}
	return b.Source.Sky(t)
}

// Whenever the source fails, the error comes last, once and alone, after what was
// found before.
func TestEclipsesErrorComesLast(t *testing.T) {
	from, to := newYear(2026), newYear(2028) // 2026 has two eclipses, 2027 too
	asked := 0
	require.Len(t, walked(t, fenced{LowPrecision{}, from - 86400, to + 86400, &asked}, from, to), 4)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 40 {
		left := rng.IntN(asked)
		n, failed := 0, 0
		for r, err := range Eclipses(context.Background(), broken{LowPrecision{}, &left}, from, to, Options{}) {
			switch {
			case failed > 0:
				t.Fatal("the walk went on after an error")
			case err != nil && (r != nil || !errors.Is(err, errBroken)):
				t.Fatalf("error %v beside %v, want the source's alone", err, r)
			case err != nil:
				failed++
			default:
				n++
			}
		}
		if failed != 1 || n > 4 {
			t.Errorf("%d errors and %d eclipses", failed, n)
		}
	}
}

func TestEclipsesStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	n := 0
	var last error
	for r, err := range Eclipses(ctx, LowPrecision{}, newYear(1001), newYear(2901), Options{}) {
		if last = err; err == nil && r != nil {
			n++
			cancel()
		}
	}
	if n != 1 || !errors.Is(last, context.Canceled) {
		t.Errorf("%d eclipses and %v after the first, want one and %v", n, last, context.Canceled)
	}
	for range Eclipses(context.Background(), LowPrecision{}, newYear(2000), newYear(2001), Options{}) {
		break // must not go on
	}
	year := Eclipses(context.Background(), LowPrecision{}, newYear(2000), newYear(2001), Options{})
	for range 2 { // four partial ones, and again
		n = 0
		for range year {
			n++
		}
		if n != 4 {
			t.Errorf("%d eclipses in 2000, want 4", n)
		}
	}
	if got := walked(t, LowPrecision{}, newYear(2000), newYear(2000)); len(got) != 0 {
		t.Errorf("%d eclipses in no time", len(got))
	}
}

func TestEclipsesRefuses(t *testing.T) {
	nan := timescale.TT(math.NaN())
	for _, c := range []struct {
		name     string
		from, to timescale.TT
		opt      Options
	}{
		{name: "to before from", from: 1, to: 0},
		{name: "from is not a number", from: nan},
		{name: "to is not a number", to: nan},
		{name: "without end", to: timescale.TT(math.Inf(1))},
		{name: "option", opt: Options{K1: 1}},
		{name: "beyond the source", from: newYear(3000), to: newYear(3001)},
	} {
		n := 0
		for r, err := range Eclipses(context.Background(), LowPrecision{}, c.from, c.to, c.opt) {
			n++
			if r != nil || !isRange(err) {
				t.Errorf("%s: %v, error %v, want a RangeError", c.name, r, err)
			}
		}
		if n != 1 {
			t.Errorf("%s: %d steps, want the error alone", c.name, n)
		}
	}
}

func BenchmarkEclipses(b *testing.B) {
	const years = 20
	i := 0
	for b.Loop() {
		walked(b, LowPrecision{}, newYear(1500+i), newYear(1500+i+years))
		i = (i + 7) % 1000
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)*100/years, "ms/century")
}
