package station_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
)

// A yardDay is a rehearsed log of a yard in the path of 2027, two hours and a half
// longer than the eclipse either way.
type yardDay struct {
	seed   uint64
	day    int
	change func(at time.Time, fields []string) // of a line; fields are lat,lon,time,light,temp
}

// write makes it, and its truth.
func (y yardDay) write(t *testing.T) ([]byte, *rehearsal.Log) {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	l, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6, Height: 10},
		Cadence: 10 * time.Second, Margin: 150 * time.Minute, Offset: 140, Day: y.day, Seed: y.seed})
	require.NoError(t, err)
	var text bytes.Buffer
	_, err = l.WriteTo(&text)
	require.NoError(t, err)
	if y.change == nil {
		return text.Bytes(), l
	}
	lines := strings.Split(text.String(), "\n")
	for i, line := range lines {
		fields := strings.Split(line, ",")
		if len(fields) != 5 {
			continue
		}
		if at, err := time.Parse(time.RFC3339, fields[2]); err == nil {
			y.change(at, fields)
			lines[i] = strings.Join(fields, ",")
		}
	}
	return []byte(strings.Join(lines, "\n")), l
}

func yard(t *testing.T, thermometer *station.Thermometer, day, control []byte) *station.Report {
	t.Helper()
	s := &station.Station{Version: station.Version, Code: "YARD-08", Site: station.Site{Lat: 36, Lon: -5.6, Height: 10}, Eclipse: "2027-08-02", Thermometer: thermometer}
	files := fstest.MapFS{"day.csv": {Data: day}}
	var opt station.Options
	if control != nil {
		files["control.csv"] = &fstest.MapFile{Data: control}
		opt.Control = station.FilesIn(files, "control.csv")
	}
	rep, err := station.Reduce(context.Background(), s, station.FilesIn(files, "day.csv"), opt)
	require.NoError(t, err)
	return rep
}

// The clock is 140 s fast, and the air's answer must come in true UTC: drop and lag within
// three standard uncertainties of what the rehearsal drew, with a control day and without.
// Eight values in all: one beyond three is a chance of one in fifty.
func TestAirOfRehearsedDays(t *testing.T) {
	for seed := range uint64(2) {
		day, l := yardDay{seed: seed}.write(t)
		control, _ := yardDay{seed: seed, day: 1}.write(t)
		for _, with := range []bool{false, true} {
			baseline := control
			if !with {
				baseline = nil
			}
			rep := yard(t, &station.Thermometer{TauS: l.Truth.TempTau, TauU: 0.2 * l.Truth.TempTau}, day, baseline)
			require.NotNil(t, rep.Cooling, "%+v", rep.CoolingRefusal)
			c := rep.Cooling
			if c.Control != with {
				t.Errorf("seed %d: control %v, want %v", seed, c.Control, with)
			}
			if !(math.Abs(c.Drop.Value-l.Truth.TempDrop) <= 3*c.Drop.U && math.Abs(c.Lag.Value-l.Truth.TempLag) <= 3*c.Lag.U) {
				t.Errorf("seed %d, control %v: drop %+v of %.2f, lag %+v of %.0f", seed, with, c.Drop, l.Truth.TempDrop, c.Lag, l.Truth.TempLag)
			}
			if !(c.Lag.U >= rep.Clock.OffsetU) {
				t.Errorf("seed %d: the lag's %.1f s hold no clock of %.1f s", seed, c.Lag.U, rep.Clock.OffsetU)
			}
			if d := rep.Cooling.Points[0].UTC; !(d.After(l.Truth.Max.Add(-5 * time.Hour))) {
				t.Errorf("seed %d: the picture begins at %v", seed, d)
			}
		}
	}
}

// Moved stamps move nothing: the same log with a clock 400 s slower has the same air.
func TestAirDoesNotAskTheClock(t *testing.T) {
	day, l := yardDay{seed: 1}.write(t)
	slow, _ := yardDay{seed: 1, change: func(at time.Time, f []string) { f[2] = at.Add(-400 * time.Second).Format(time.RFC3339) }}.write(t)
	a, b := yard(t, nil, day, nil), yard(t, nil, slow, nil)
	require.NotNil(t, a.Cooling)
	require.NotNil(t, b.Cooling)
	if d := a.Clock.Offset - b.Clock.Offset; !(math.Abs(d-400) <= 1) {
		t.Errorf("the clocks differ by %.2f s", d)
	}
	// A second of the clock, and bins that may begin at another record.
	if !(math.Abs(a.Cooling.Lag.Value-b.Cooling.Lag.Value) <= 10 && math.Abs(a.Cooling.Drop.Value-b.Cooling.Drop.Value) <= 0.02) {
		t.Errorf("drop %+v and %+v, lag %+v and %+v (truth %.2f, %.0f)", a.Cooling.Drop, b.Cooling.Drop, a.Cooling.Lag, b.Cooling.Lag, l.Truth.TempDrop, l.Truth.TempLag)
	}
}

func TestAirRefusals(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		temp       func(at time.Time) float64
	}{
		{"the power-on value", "failed thermometer", func(time.Time) float64 { return 85 }},
		{"stuck", "thermometer stuck", func(time.Time) float64 { return 21.5 }},
		{"a straight line", "no drop to be told from the trend", func(at time.Time) float64 {
			return 20 + float64(at.Hour()) + float64(at.Minute())/60 + 0.1*float64(at.Second()%3)
		}},
	} {
		day, _ := yardDay{seed: 1, change: func(at time.Time, f []string) { f[4] = fmt.Sprintf("%.2f", tt.temp(at)) }}.write(t)
		rep := yard(t, nil, day, nil)
		if rep.Cooling != nil || rep.CoolingRefusal == nil || rep.CoolingRefusal.Reason != tt.want {
			t.Errorf("%s: %+v, want %q", tt.name, rep.CoolingRefusal, tt.want)
		}
		if rep.Clock == nil {
			t.Errorf("%s: the light's verdict went with the air's: %v", tt.name, rep.Refusal)
		}
	}
}

// A wall's shade takes half of the light for twelve minutes at the same time of both days,
// after fourth contact; a cloud does on the control day alone, before first. Both must be
// found in true UTC, within two minutes, and told apart; a control day without any has
// none.
func TestShadeOfTheControlDay(t *testing.T) {
	const half, lasts = 0.5, 12 * time.Minute
	_, l := yardDay{seed: 1}.write(t)
	wall, cloud := l.Truth.Max.Add(100*time.Minute), l.Truth.Max.Add(-120*time.Minute)
	dim := func(days int, spans ...time.Time) func(time.Time, []string) {
		return func(at time.Time, f []string) {
			at = at.Add(-time.Duration(l.Truth.Clock*1e9)).AddDate(0, 0, -days)
			for _, from := range spans {
				if !at.Before(from) && at.Before(from.Add(lasts)) {
					v, err := strconv.ParseFloat(f[3], 64)
					require.NoError(t, err)
					f[3] = fmt.Sprintf("%.1f", half*v)
				}
			}
		}
	}
	day, _ := yardDay{seed: 1, change: dim(0, wall)}.write(t)
	control, _ := yardDay{seed: 1, day: 1, change: dim(1, wall, cloud)}.write(t)
	rep := yard(t, nil, day, control)
	require.NotNil(t, rep.Clock, "%v", rep.Refusal)
	require.Len(t, rep.Shade, 2)
	for i, want := range []struct {
		from  time.Time
		again bool
	}{{cloud, false}, {wall, true}} {
		got := rep.Shade[i]
		if !(got.From.Sub(want.from).Abs() <= 2*time.Minute && got.To.Sub(want.from.Add(lasts)).Abs() <= 2*time.Minute && math.Abs(got.Depth-half) <= 0.05 && got.Again == want.again) {
			t.Errorf("%+v, want from %v, half the light, again %v", got, want.from, want.again)
		}
	}
	if said := strings.Join(rep.Warnings, "\n"); !strings.Contains(said, "on the control day too") {
		t.Errorf("the wall is not said: %q", said)
	}
	clear, _ := yardDay{seed: 1, day: 1}.write(t)
	if rep := yard(t, nil, day, clear); len(rep.Shade) != 0 {
		t.Errorf("of a clear control day: %+v", rep.Shade)
	}
}
