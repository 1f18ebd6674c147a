package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/sun"
)

// aired is what the test looks at of the air in the JSON form.
type aired struct {
	Cooling struct {
		Verdict string
		Drop    float64 `json:"drop_c"`
		DropU   float64 `json:"u_c"`
		Lag     float64 `json:"lag_s"`
		LagU    float64 `json:"u_lag_s"`
		Control bool
	}
	Shade []json.RawMessage `json:"control_shade"`
}

// Two rehearsed days as files, the second without eclipse, through the flags: the air's
// answer rests on the control day and holds the truth within three standard
// uncertainties, in JSON and on the page for people. Without -control it rests on none.
func TestControlDay(t *testing.T) {
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	dir := t.TempDir()
	var truth rehearsal.Truth
	for day, name := range []string{"eclipse.csv", "after.csv"} {
		l, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: sun.Site{Lat: 36, Lon: -5.6, Height: 10},
			Cadence: 15 * time.Second, Margin: 2 * time.Hour, Offset: -75, Day: day, Seed: 5})
		require.NoError(t, err)
		if day == 0 {
			truth = l.Truth
		}
		var text bytes.Buffer
		_, err = l.WriteTo(&text)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), text.Bytes(), 0o600))
	}
	base := []string{"-site", "36,-5.6,10", "-date", "2027-08-02"}
	log, control := filepath.Join(dir, "eclipse.csv"), []string{"-control", filepath.Join(dir, "after.csv")}
	for _, with := range []bool{false, true} {
		args := base
		if with {
			args = append(args[:len(args):len(args)], control...)
		}
		out, err := reduce(t, append(append([]string{"-json"}, args...), log)...)
		require.NoError(t, err)
		var v aired
		require.NoError(t, json.Unmarshal([]byte(out), &v))
		a := v.Cooling
		if a.Verdict != "found" || a.Control != with {
			t.Errorf("-control %v: %+v", with, a)
		}
		if !(math.Abs(a.Drop-truth.TempDrop) <= 3*a.DropU && math.Abs(a.Lag-truth.TempLag) <= 3*a.LagU) {
			t.Errorf("-control %v: %+v, truth %.2f degrees, %.0f s", with, a, truth.TempDrop, truth.TempLag)
		}
		if len(v.Shade) != 0 {
			t.Errorf("-control %v: shade %s under a clear sky", with, v.Shade)
		}
		page, err := reduce(t, append(args[:len(args):len(args)], log)...)
		require.NoError(t, err)
		want := map[bool]string{false: "colder than by the trend of a day without eclipse", true: "colder than by the control day"}[with]
		if !strings.Contains(page, want) {
			t.Errorf("-control %v: the page lacks %q", with, want)
		}
	}
	if _, err := reduce(t, append(append(base, "-control", filepath.Join(dir, "nowhere.csv")), log)...); err == nil || !strings.Contains(err.Error(), "nowhere.csv") {
		t.Errorf("a control that is not there: %v", err)
	}
}
