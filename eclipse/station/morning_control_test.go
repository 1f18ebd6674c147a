package station

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// measured is where logs of real days lie, beside the module; they are no part of it.
const measured = "../../../shared/data/eclipse"

// A radiometric station's minutes: global irradiance of the horizontal, W/m2.
func controlDay(t *testing.T, name string, o MorningOptions) *Morning {
	t.Helper()
	if _, err := os.Stat(filepath.Join(measured, name)); err != nil {
		t.Skipf("no measured log: %v", err)
	}
	s := &Station{Version: 1, Code: "CONTROL", Eclipse: "2024-06-25", Site: controlSite, Layout: Layout{Light: "GHI"}}
	m, err := CalibrateMorning(context.Background(), s, FilesIn(os.DirFS(measured), name), o)
	require.NoError(t, err)
	return m
}

var controlSite = Site{Lat: 55.79064, Lon: 12.52505, Height: 50} // data's sites.csv

// On a clear day the pyranometer, which is linear, is found to be, and the extinction
// is that of the instrument beside it which follows the Sun: Langley's line through its
// minutes from two to four air masses is a second method that shares nothing with the
// first but the Sun's place.
func TestMorningOfAClearDay(t *testing.T) {
	const name = "control_2024-06-25_lyngby_clear_irradiance_1min.csv"
	free := controlDay(t, name, MorningOptions{})
	require.Nil(t, free.Refusal)
	if !(math.Abs(free.Fit.Slope-1) <= 2*free.Fit.SlopeU && free.Fit.SlopeU <= 0.1) {
		t.Errorf("exponent %.3f, u %.3f: want 1, and u no more than 0.1", free.Fit.Slope, free.Fit.SlopeU)
	}
	known := controlDay(t, name, MorningOptions{Exponent: 1})
	require.Nil(t, known.Refusal)
	want := langley(t, filepath.Join(measured, name))
	t.Logf("exponent %.3f, u %.3f; extinction %.3f, u %.3f; with the exponent given %.3f, u %.3f; by the tracker %.3f",
		free.Fit.Slope, free.Fit.SlopeU, free.Fit.Extinction, free.Fit.ExtinctionU, known.Fit.Extinction, known.Fit.ExtinctionU, want)
	for _, f := range []*MorningFit{free.Fit, known.Fit} {
		if !(math.Abs(f.Extinction-want) <= 2*f.ExtinctionU && f.ExtinctionU <= 0.07) {
			t.Errorf("extinction %.3f, u %.3f: the tracker's line has %.3f", f.Extinction, f.ExtinctionU, want)
		}
	}
	// 4:03 UTC is when the thin cloud of dawn was over, as the tracker shows too.
	if from := known.Fit.From.Format("15:04"); from < "03:55" || from > "04:45" {
		t.Errorf("used from %s", from)
	}
}

// langley is the slope of the logarithm of the direct beam against air mass, by
// ordinary least squares.
func langley(t *testing.T, path string) float64 {
	t.Helper()
	o, err := sun.NewObserver(controlSite.Sun(), timescale.Scale{})
	require.NoError(t, err)
	var n, sx, sy, sxx, sxy float64
	for _, r := range references.File(t, path) {
		at, err := time.Parse(time.DateTime, r.Text(t, "Time(utc)"))
		require.NoError(t, err)
		h := o.Position(timescale.Scale{}.TT(at))
		x := sun.AirMass(h.Alt)
		if h.Az > 180 || x > 3.9 {
			continue
		}
		y := math.Log(r.Number(t, "DNI"))
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	require.Greater(t, n, 300.0)
	return -(sxy - sx*sy/n) / (sxx - sx*sx/n)
}

func TestMorningOfCloudyDays(t *testing.T) {
	for _, name := range []string{"control_2024-07-07_lyngby_broken_cloud_irradiance_1min.csv", "control_2024-04-08_lyngby_no_eclipse_irradiance_1min.csv"} {
		for _, exponent := range []float64{0, 1} {
			m := controlDay(t, name, MorningOptions{Exponent: exponent})
			if m.Fit != nil || m.Refusal == nil || m.Refusal.Reason != CloudyMorning {
				t.Errorf("%s: %v, want refused for cloud", name, m.Refusal)
			}
		}
	}
}
