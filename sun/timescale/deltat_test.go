package timescale

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/testdata/references"
)

func TestObservedDeltaT(t *testing.T) {
	var s Scale
	n := 0
	for _, r := range references.Table(t, "deltat.csv") {
		if r["kind"] != "observed" {
			continue
		}
		n++
		day, err := time.Parse(time.DateOnly, r["date"])
		require.NoError(t, err)
		d := s.DeltaT(s.TT(day))
		if want := r.Number(t, "delta_t_s"); !(math.Abs(d.Seconds-want) <= 0.002) {
			t.Errorf("%s: %.4f s, want %.4f (%s)", r["date"], d.Seconds, want, r["series"])
		}
		if !(d.SecondsU > 0 && d.SecondsU <= 0.35) {
			t.Errorf("%s: uncertainty %.3f s", r["date"], d.SecondsU)
		}
	}
	if n < 175 {
		t.Fatalf("%d observed rows, want those of 1900 to 2026 at least, which are 175", n)
	}
	// Days between the rows, from the daily IERS series: this is what the stated
	// uncertainty must cover.
	var sum float64
	rows := references.Table(t, "ut1utc.csv")
	for _, r := range rows {
		day, err := time.Parse(time.DateOnly, r["utc_date"])
		require.NoError(t, err)
		d := s.DeltaT(s.TT(day))
		off := d.Seconds - r.Number(t, "delta_t_s")
		if !(math.Abs(off) <= 3*d.SecondsU) {
			t.Errorf("%s: off by %.4f s, stated %.4f (IERS finals2000A)", r["utc_date"], off, d.SecondsU)
		}
		sum += off * off
	}
	t.Logf("rms between rows %.4f s over %d days", math.Sqrt(sum/float64(len(rows))), len(rows))
}

// On the days of eclipses the table has the measured value, or nearly: 1973 June 30 lies beside a row.
func TestDeltaTOnEclipseDays(t *testing.T) {
	var s Scale
	n, sum := 0, 0.0
	for _, r := range references.Table(t, "ut1utc.csv") {
		if r["eclipse_day"] != "1" {
			continue
		}
		n++
		day, err := time.Parse(time.DateOnly, r["utc_date"])
		require.NoError(t, err)
		d := s.DeltaT(s.TT(day))
		off := d.Seconds - r.Number(t, "delta_t_s")
		sum += off * off
		if !(math.Abs(off) <= 0.004) { // the two series differ by as much in the 1970s
			t.Errorf("%s: %.4f s, want %s (IERS finals2000A)", r["utc_date"], d.Seconds, r["delta_t_s"])
		}
	}
	if n < 20 {
		t.Fatalf("%d eclipse days", n)
	}
	t.Logf("rms %.4f s over %d eclipse days", math.Sqrt(sum/float64(n)), n)
}

// The curve has no kinks: across each row the slope changes as a cubic's would.
func TestDeltaTIsSmooth(t *testing.T) {
	const h = 1e-5 // years
	for _, n := range observed[1 : len(observed)-1] {
		y := n.year()
		before, after := (interpolate(y)-interpolate(y-h))/h, (interpolate(y+h)-interpolate(y))/h
		if !(math.Abs(after-before) <= 1e-3) { // s a year
			t.Errorf("slope goes from %.4f to %.4f s a year at %.2f", before, after, y)
		}
	}
}
