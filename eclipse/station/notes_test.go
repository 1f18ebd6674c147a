package station

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
)

var notedMax = time.Date(2027, 8, 2, 8, 47, 0, 0, time.UTC)

// noteAt is a note of a clock that is fast by so much, hours from the maximum.
func noteAt(hours, offset, u float64) ClockNote {
	utc := notedMax.Add(time.Duration(hours * float64(time.Hour)))
	stamp := utc.Add(time.Duration(offset * float64(time.Second)))
	return ClockNote{Stamp: stamp.Format(time.RFC3339Nano), UTC: utc.Format(time.RFC3339Nano), U: u}
}

// notedOf is what a station's notes say beside a light that has the clock off by so much;
// a negative uncertainty is one that told nothing.
func notedOf(t *testing.T, zone string, offset, u float64, notes ...ClockNote) *Report {
	t.Helper()
	s := &Station{Version: Version, Zone: zone, Eclipse: "2027-08-02", Site: yard, ClockNotes: notes}
	require.NoError(t, s.Validate())
	r := &Report{Station: s}
	r.Circumstances.Max = eclipse.Contact{Exists: true}
	r.Circumstances.Max.UTC = notedMax
	if u >= 0 {
		r.Clock = &fit.Result{Offset: offset, OffsetU: u}
	}
	require.NoError(t, r.noted())
	return r
}

func TestNotes(t *testing.T) {
	for _, tt := range []struct {
		name       string
		zone       string
		offset, u  float64 // the light's
		notes      []ClockNote
		want, tol  float64 // at maximum
		wantU      float64 // within 1 %
		normalised float64 // within 0.05; NaN where there is nothing to compare
		drift      float64 // ppm, within 0.01; NaN for none
		warning    string  // empty for none
	}{
		{"one at maximum", "", 40, 0.3, []ClockNote{noteAt(0, 40.5, 0.4)}, 40.5, 1e-6, 0.4, 1, math.NaN(), ""},
		// 20 ppm for 10 h are 0.72 s
		{"one before", "", 40, 0.3, []ClockNote{noteAt(-10, 40.5, 0.4)}, 40.5, 1e-6, math.Hypot(0.4, 0.72), 0.5 / math.Sqrt(0.09+0.16+0.72*0.72), math.NaN(), ""},
		// the middle of two: u over the root of two, and 3 ppm for 10 h are 0.108 s
		{"two about it", "", 41, 0.3, []ClockNote{noteAt(10, 42, 0.5), noteAt(-10, 40, 0.5)}, 41, 1e-6, math.Hypot(0.5/math.Sqrt2, 0.108), 0, 1e6 * 2 / 72000, ""},
		// by hand: the line 10 h beyond its middle, 2 h from either end
		{"two before it", "", 46, 1, []ClockNote{noteAt(-12, 40, 0.1), noteAt(-8, 42, 0.1)}, 46, 1e-6, math.Hypot(0.1*math.Sqrt(0.5+0.5*25), 0.0864), 0, 1e6 * 2 / 14400, ""},
		{"two at one time are one", "", 40, 0.3, []ClockNote{noteAt(0, 40.4, 0.5), noteAt(0, 40.6, 0.5)}, 40.5, 1e-6, 0.5 / math.Sqrt2, 0.5 / math.Hypot(0.3, 0.5/math.Sqrt2), math.NaN(), ""},
		{"apart from the light", "", 40, 0.3, []ClockNote{noteAt(0, 43, 0.4)}, 43, 1e-6, 0.4, 6, math.NaN(), "6.0 of their standard uncertainties apart"},
		{"another zone", "", 40, 0.3, []ClockNote{noteAt(0, 40+7200, 0.4)}, 7240, 1e-6, 0.4, 7200 / 0.5, math.NaN(), "+2 h and +0.0 s: were their stamps read in another zone"},
		{"no light", "", 0, -1, []ClockNote{noteAt(0, 43, 0.4)}, 43, 1e-6, 0.4, math.NaN(), math.NaN(), ""},
		{"a stamp in the station's zone", "+02:00", 42, 0.3, []ClockNote{{Stamp: "2027-08-02T10:47:42", UTC: "2027-08-02T08:47:00Z", U: 0.4}}, 42, 1e-6, 0.4, 0, math.NaN(), ""},
		{"set between them", "", 40, 50, []ClockNote{noteAt(-1, 60, 0.4), noteAt(1, 20, 0.4)}, 40, 1e-6, math.Hypot(0.4/math.Sqrt2, 0.0108), 0, -40e6 / 7200, "which no crystal does"},
		{"one mistyped", "", 40, 50, []ClockNote{noteAt(-1, 40, 0.4), noteAt(0, 50, 0.4), noteAt(1, 40, 0.4)}, 130. / 3, 1e-6, 10 * math.Sqrt(2./3) / math.Sqrt(3), 0.07, 0, "contradict each other"},
	} {
		r := notedOf(t, tt.zone, tt.offset, tt.u, tt.notes...)
		n := r.Noted
		if !(math.Abs(n.Offset-tt.want) <= tt.tol && math.Abs(n.OffsetU-tt.wantU) <= 0.01*tt.wantU) {
			t.Errorf("%s: %.3f +- %.4f s, want %.3f +- %.4f", tt.name, n.Offset, n.OffsetU, tt.want, tt.wantU)
		}
		if got := n.Normalised; (got == nil) != math.IsNaN(tt.normalised) || got != nil && !(math.Abs(*got-tt.normalised) <= 0.05) {
			t.Errorf("%s: normalised %v, want %.2f", tt.name, got, tt.normalised)
		}
		if d := n.Drift; (d == nil) != math.IsNaN(tt.drift) || d != nil && !(math.Abs(d.PPM-tt.drift) <= 0.01) {
			t.Errorf("%s: drift %+v, want %.2f", tt.name, d, tt.drift)
		}
		if got := strings.Join(r.Warnings, "\n"); (got == "") != (tt.warning == "") || !strings.Contains(got, tt.warning) {
			t.Errorf("%s: warnings %q, want %q", tt.name, got, tt.warning)
		}
	}
}

// The interval of notes with normal errors, on a clock whose rate is its own and changes
// by what is allowed for, holds the truth in 95 of 100. Of 2000, 95 % +- 1.5 % is three
// standard deviations of a binomial.
func TestNotesCover(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	const runs = 2000
	held := 0
	for range runs {
		offset, ppm := 60*rng.NormFloat64(), 15*rng.NormFloat64()
		var notes []NotedOnce
		last := math.Inf(-1)
		for range 2 + rng.IntN(4) {
			hours := -24 + 23*rng.Float64()
			last = math.Max(last, hours)
			u := 0.2 + rng.Float64()
			utc := notedMax.Add(time.Duration(hours * float64(time.Hour)))
			notes = append(notes, NotedOnce{UTC: utc, Offset: offset + ppm*1e-6*3600*hours + u*rng.NormFloat64(), U: u})
		}
		truth := offset + steadyPPM*1e-6*3600*math.Abs(last)*rng.NormFloat64()
		sortByUTC(notes)
		n := &Noted{At: notedMax}
		n.line(notes)
		if math.Abs(n.Offset-truth) <= 1.96*n.OffsetU {
			held++
		}
	}
	if !(held >= runs*935/1000) || !(held <= runs*985/1000) { // widening by scatter can only make more
		t.Errorf("%d of %d held, want 93.5 to 98.5 %%", held, runs)
	}
	t.Logf("%d of %d held", held, runs)
}

// Notes of a stretch before the clock was moved say nothing of the one behind.
func TestNotesOfAMovedClock(t *testing.T) {
	before, after := &fit.Result{Offset: -30, OffsetU: 0.5}, &fit.Result{Offset: 5, OffsetU: 0.3}
	r := &Report{Station: &Station{ClockNotes: []ClockNote{noteAt(-2, -30, 0.5), noteAt(1, 5.2, 0.5)}}, Clock: after}
	r.Circumstances.Max = eclipse.Contact{Exists: true}
	r.Circumstances.Max.UTC = notedMax
	r.Segments = []fit.SegmentClock{
		{From: notedMax.Add(-3 * time.Hour), To: notedMax.Add(-time.Hour), Clock: before},
		{From: notedMax.Add(-time.Hour), To: notedMax.Add(2 * time.Hour), Clock: after},
	}
	require.NoError(t, r.noted())
	if n := r.Noted; len(n.Notes) != 2 || math.Abs(n.Offset-5.2) > 1e-6 || n.Normalised == nil || math.Abs(*n.Normalised) > 1 {
		t.Errorf("%+v", n)
	}
	if len(r.Warnings) != 1 || !strings.Contains(r.Warnings[0], "1 of 2 notes") {
		t.Errorf("%q", r.Warnings)
	}
	r.Station.ClockNotes, r.Warnings = r.Station.ClockNotes[:1], nil
	require.NoError(t, r.noted())
	if r.Noted.Normalised != nil || !strings.Contains(strings.Join(r.Warnings, ""), "not compared") {
		t.Errorf("%+v, %q", r.Noted, r.Warnings)
	}
}

// A clock that is said to be kept by a network and is off is doubted; one on local time
// by its seconds only, one set once never.
func TestDoubtSetting(t *testing.T) {
	for _, tt := range []struct {
		set    ClockSet
		offset float64
		zone   float64
		doubt  bool
	}{
		{SetByNetwork, -20, 0, true}, {SetByNetwork, 1, 0, false}, {SetBySatellite, 2.5, 0, true}, {SetByNetwork, 7200.4, 2, false},
		{SetByHand, -20, 0, false}, {SetByPhone, -20, 0, false}, {SetByRadio, -20, 0, false}, {SetUnknown, -20, 0, false}, {"", -20, 0, false},
	} {
		r := &Report{Station: &Station{ClockSet: tt.set}, Clock: &fit.Result{Offset: tt.offset, OffsetU: 0.3, ZoneH: tt.zone}}
		if r.doubtSetting(); len(r.Warnings) > 0 != tt.doubt {
			t.Errorf("%q %+g s: %q", tt.set, tt.offset, r.Warnings)
		}
	}
}
