package canon

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon/internal/packed"
	"example.org/noonfall/sun/timescale"
)

func loaded(t testing.TB) *Catalogue {
	c, err := Load()
	require.NoError(t, err)
	return c
}

// F. Espenak and J. Meeus, Five Millennium Canon of Solar Eclipses
// (NASA/TP-2006-214141), counts by century and type.
func TestCountsOfTheCanon(t *testing.T) {
	centuries := []struct {
		name string
		want map[eclipse.Type]int
	}{
		{"1901-2000", map[eclipse.Type]int{eclipse.TypePartial: 78, eclipse.TypeAnnular: 73, eclipse.TypeTotal: 71, eclipse.TypeHybrid: 6}},
		{"2001-2100", map[eclipse.Type]int{eclipse.TypePartial: 77, eclipse.TypeAnnular: 72, eclipse.TypeTotal: 68, eclipse.TypeHybrid: 7}},
	}
	got := []map[eclipse.Type]int{{}, {}}
	for e := range loaded(t).All() {
		i := 0
		if e.Date > "2000-12-31" {
			i = 1
		}
		got[i][e.Greatest().Type]++
	}
	for i, c := range centuries {
		for kind, want := range c.want {
			if got[i][kind] != want {
				t.Errorf("%s: %d %v eclipses, want %d", c.name, got[i][kind], kind, want)
			}
		}
	}
	if n := loaded(t).Len(); n != 228+224 {
		t.Errorf("%d eclipses, want 228 + 224", n)
	}
}

func TestOrderAndDates(t *testing.T) {
	var before timescale.TT
	n := 0
	for e := range loaded(t).All() {
		require.NoError(t, e.Validate())
		if n > 0 && !(e.T0-before >= 29*86400) { // two new Moons
			t.Errorf("%s follows after %.1f days", e.Date, float64(e.T0-before)/86400)
		}
		before = e.T0
		n++
		g := e.Greatest().TT
		if day := timescale.UT1(g).Time().Format(time.DateOnly); day != e.Date {
			t.Errorf("greatest on %s, dated %s", day, e.Date)
		}
		if apart := float64(g - e.T0); !(apart >= -1801 && apart <= 1801) { // T0 is the whole hour nearest
			t.Errorf("%s: greatest %v s from T0, want half an hour at most", e.Date, apart)
		}
	}
	if n != loaded(t).Len() {
		t.Errorf("All gives %d eclipses, Len says %d", n, loaded(t).Len())
	}
	for range loaded(t).All() {
		break // leaving early must be possible
	}
}

func TestOn(t *testing.T) {
	tokyo := time.FixedZone("UTC+9", 9*3600)
	for _, c := range []struct {
		name string
		date time.Time
		want string // empty: no eclipse
	}{
		{"the day", time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), "2027-08-02"},
		{"its last second", time.Date(2027, 8, 2, 23, 59, 59, 0, time.UTC), "2027-08-02"},
		{"the day before", time.Date(2027, 8, 1, 12, 0, 0, 0, time.UTC), "2027-08-02"},
		{"the day after", time.Date(2027, 8, 3, 23, 0, 0, 0, time.UTC), "2027-08-02"},
		{"two days before", time.Date(2027, 7, 31, 23, 59, 59, 0, time.UTC), ""},
		{"two days after", time.Date(2027, 8, 4, 0, 0, 0, 0, time.UTC), ""},
		{"a zone ahead, whose midnight is the day before in UTC", time.Date(2027, 8, 2, 0, 0, 0, 0, tokyo), "2027-08-02"},
		{"a zone ahead, still two days before in UTC", time.Date(2027, 8, 1, 8, 0, 0, 0, tokyo), ""},
		{"the first", time.Date(1901, 5, 18, 0, 0, 0, 0, time.UTC), "1901-05-18"},
		{"before the first", time.Date(1900, 5, 28, 0, 0, 0, 0, time.UTC), ""},
		{"the last", time.Date(2100, 9, 4, 0, 0, 0, 0, time.UTC), "2100-09-04"},
		{"after the last", time.Date(2101, 2, 28, 0, 0, 0, 0, time.UTC), ""},
		{"so late that 32 bits take it for the day", time.Unix(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC).Unix()+secondsPerDay<<32, 0), ""},
		{"no date", time.Time{}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			e, err := loaded(t).On(c.date)
			if c.want == "" {
				if _, ok := errors.AsType[*NoEclipseError](err); !ok || e != nil {
					t.Errorf("got %v, %v, want a NoEclipseError", e, err)
				}
				return
			}
			if err != nil || e.Date != c.want {
				t.Errorf("got %v, %v, want %s", e, err, c.want)
			}
		})
	}
}

func TestNoEclipseErrorNamesNeighbours(t *testing.T) {
	for _, c := range []struct {
		date time.Time
		want NoEclipseError
		text string
	}{
		{time.Date(2027, 7, 1, 0, 0, 0, 0, time.UTC),
			NoEclipseError{"2027-07-01", "2027-02-06", "2027-08-02", "1901-05-18", "2100-09-04"},
			"canon: no eclipse within a day of 2027-07-01: the one before is on 2027-02-06, the next on 2027-08-02 (catalogue 1901-05-18 to 2100-09-04)"},
		{time.Date(1850, 1, 1, 0, 0, 0, 0, time.UTC),
			NoEclipseError{"1850-01-01", "", "1901-05-18", "1901-05-18", "2100-09-04"},
			"canon: no eclipse within a day of 1850-01-01: the catalogue runs from 1901-05-18 to 2100-09-04"},
		{time.Date(2150, 1, 1, 0, 0, 0, 0, time.UTC),
			NoEclipseError{"2150-01-01", "2100-09-04", "", "1901-05-18", "2100-09-04"},
			"canon: no eclipse within a day of 2150-01-01: the catalogue runs from 1901-05-18 to 2100-09-04"},
	} {
		_, err := loaded(t).On(c.date)
		e, ok := errors.AsType[*NoEclipseError](err)
		require.True(t, ok)
		if *e != c.want {
			t.Errorf("%+v, want %+v", *e, c.want)
		}
		if e.Error() != c.text {
			t.Errorf("%s\nwant\n%s", e, c.text)
		}
	}
}

// Every eclipse is found on its own day by every hour of it, and on no day that
// is not next to it.
func TestOnFindsAll(t *testing.T) {
	all := slices.Collect(loaded(t).All())
	var scale timescale.Scale
	rapid.Check(t, func(r *rapid.T) {
		e := all[rapid.IntRange(0, len(all)-1).Draw(r, "eclipse")]
		day := scale.UTC(e.Greatest().TT).Truncate(24 * time.Hour)
		off := rapid.Int64Range(-20*86400, 20*86400).Draw(r, "seconds from the day's beginning")
		got, err := loaded(t).On(day.Add(time.Duration(off) * time.Second))
		if want := off >= -86400 && off < 2*86400; want != (err == nil) || (want && got.Date != e.Date) {
			r.Fatalf("%s asked %+d s from its day's beginning: %v, %v", e.Date, off, got, err)
		}
	})
}

// What one caller does to its elements must not reach another.
func TestCopies(t *testing.T) {
	day := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	a, err := loaded(t).On(day)
	require.NoError(t, err)
	x, y := a.X[0], a.Y[0]
	_ = append(a.X, 1e9) // must not run into Y
	if a.Y[0] != y {
		t.Error("append to X changed Y")
	}
	a.X[0], a.Date = 99, "spoilt"
	b, err := loaded(t).On(day)
	require.NoError(t, err)
	if b.X[0] != x || b.Date != "2027-08-02" {
		t.Errorf("the catalogue was changed through a copy: %s, x0 = %v", b.Date, b.X[0])
	}
	for e := range loaded(t).All() {
		e.Mu[0] = -1
	}
	for e := range loaded(t).All() {
		if e.Mu[0] == -1 {
			t.Fatalf("%s: the catalogue was changed through All", e.Date)
		}
	}
}

func TestElementsCarryTheirOrigin(t *testing.T) {
	e, err := loaded(t).On(time.Date(2024, 4, 8, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	if !strings.Contains(e.Source, "DE431") || !(e.TimeU > 0 && e.TimeU < 0.1) || e.Span != 3.5 {
		t.Errorf("source %q, uncertainty %v s, span %v h", e.Source, e.TimeU, e.Span)
	}
	if want := (timescale.Scale{}).DeltaT(e.T0).Seconds; e.DeltaT != want {
		t.Errorf("Delta T %v s, want the library's own %v s", e.DeltaT, want)
	}
	if p := loaded(t).Provenance(); len(p.SHA256) != 64 || !strings.HasPrefix(p.Command, "go run ") {
		t.Errorf("provenance %+v", p)
	}
}

// Damage gives an error that says so, never a panic and never a catalogue.
func TestDamagedData(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		spoilt := slices.Clone(file)
		if rapid.Bool().Draw(r, "cut") {
			spoilt = spoilt[:rapid.IntRange(0, len(spoilt)-1).Draw(r, "length")]
		} else {
			spoilt[rapid.IntRange(0, len(spoilt)-1).Draw(r, "at")] ^= byte(rapid.IntRange(1, 255).Draw(r, "bits"))
		}
		c, err := read(spoilt)
		if c != nil || !errors.Is(err, packed.ErrDamaged) {
			r.Fatalf("got %v, %v, want an error for damage", c, err)
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := read(file); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkOn asks for the day of one eclipse after another.
func BenchmarkOn(b *testing.B) {
	c := loaded(b)
	var days []time.Time
	for e := range c.All() {
		day, err := time.Parse(time.DateOnly, e.Date)
		require.NoError(b, err)
		days = append(days, day)
	}
	i := 0
	for b.Loop() {
		if _, err := c.On(days[i]); err != nil {
			b.Fatal(err)
		}
		i = (i + 1) % len(days)
	}
}

func BenchmarkAll(b *testing.B) {
	c := loaded(b)
	b.ReportAllocs()
	for b.Loop() {
		for e := range c.All() {
			_ = e
		}
	}
}
