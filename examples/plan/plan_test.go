package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/testdata/references"
)

func answerOf(t *testing.T, args ...string) (text string, parsed map[string]any) {
	t.Helper()
	return answerAt(t, "2027-01-01T00:00:00Z", args...)
}

// answerAt asks when the clock says so.
func answerAt(t *testing.T, now string, args ...string) (text string, parsed map[string]any) {
	t.Helper()
	at, err := time.Parse(time.RFC3339, now)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, runAt(context.Background(), &b, args, at))
	if strings.HasPrefix(b.String(), "{") {
		require.NoError(t, json.Unmarshal(b.Bytes(), &parsed))
	}
	return b.String(), parsed
}

// Goldens guard words and layout; the numbers are tested where they are computed
// and, once more, in TestAgainstABulletin.
func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		file string
		args []string
	}{
		{"total.txt", nil},
		{"sunset.txt", []string{"-site", "40.8,14.2", "-date", "2026-08-12"}},
		{"nothing.txt", []string{"-site", "-70,100"}},
		{"smooth.txt", []string{"-limb", "mean"}},
		{"ring.txt", []string{"-site", "37.5,-5.6,10", "-date", "2028-01-26"}},
		{"limit.txt", []string{"-site", "36.77,-5.6,10"}},
		{"total.json", []string{"-json"}},
	} {
		t.Run(tt.file, func(t *testing.T) {
			got, _ := answerOf(t, tt.args...)
			path := "testdata/" + tt.file
			if filepath.Ext(path) == ".json" {
				// The last of the six printed digits is at the mercy of rounding on other machines.
				golden.JSON(t, path, got, 1e-5)
			} else {
				golden.Page(t, path, got)
			}
		})
	}
}

func TestWhatProgramsRelyOn(t *testing.T) {
	_, j := answerOf(t, "-json")
	var names []string
	for _, c := range j["contacts"].([]any) {
		c := c.(map[string]any)
		names = append(names, c["name"].(string))
		for _, key := range strings.Fields("utc ut alt_deg az_deg p_deg v_deg above_horizon") {
			if c[key] == nil {
				t.Errorf("contact %v: %s is absent or null", c["name"], key)
			}
		}
		for _, key := range []string{"utc_limb", "u_limb_s"} {
			inner := c["name"] == "C2" || c["name"] == "C3"
			if v, ok := c[key]; !ok || (v != nil) != inner {
				t.Errorf("contact %v: %s is %v, want one at C2 and C3 only", c["name"], key, v)
			}
		}
		if utc := c["utc"].(string); len(utc) != len("2027-08-02T07:40:53.440Z") {
			t.Errorf("utc %q is not RFC 3339 with milliseconds", utc)
		}
	}
	if got := strings.Join(names, " "); got != "C1 C2 max C3 C4" {
		t.Errorf("contacts %q, want all five in order", got)
	}
	if j["version"] != 1.0 || j["geometry"] != "total" || j["seen"] != "total" {
		t.Errorf("version %v, geometry %v, seen %v", j["version"], j["geometry"], j["seen"])
	}
}

func TestNothingToSeeIsAnAnswer(t *testing.T) {
	_, j := answerOf(t, "-json", "-site", "-70,100")
	if j["geometry"] != "none" || j["seen"] != "none" {
		t.Errorf("geometry %v, seen %v, want none", j["geometry"], j["seen"])
	}
	if c, ok := j["contacts"].([]any); !ok || len(c) != 0 {
		t.Errorf("contacts %v, want an empty list", j["contacts"])
	}
	for _, key := range strings.Fields("magnitude obscuration diameter_ratio central_duration_s logger") {
		if v, ok := j[key]; !ok || v != nil {
			t.Errorf("%s is %v, want null", key, v)
		}
	}
	_, j = answerOf(t, "-json", "-site", "51.5,-0.1")
	if v, ok := j["central_duration_s"]; !ok || v != nil || j["magnitude"] == nil {
		t.Errorf("at a partial site: duration %v, magnitude %v, want null and a number", v, j["magnitude"])
	}
}

func TestADayEitherSideServes(t *testing.T) {
	want, _ := answerOf(t, "-json", "-date", "2027-08-02")
	for _, day := range []string{"2027-08-01", "2027-08-03"} {
		if got, _ := answerOf(t, "-json", "-date", day); got != want {
			t.Errorf("-date %s gives another answer", day)
		}
	}
	err := run(context.Background(), &bytes.Buffer{}, []string{"-date", "2027-08-04"})
	var none *canon.NoEclipseError
	if !errors.As(err, &none) || cli.Status(err) != 1 {
		t.Errorf("-date 2027-08-04: %v, want a *canon.NoEclipseError and status 1", err)
	}
}

// NASA RP 1398 (F. Espenak & J. Anderson, Total Solar Eclipse of 1999 August 11),
// table 21, with the bulletin's Delta T. It is printed to 0.1 s, from positions
// older than the catalogue's; the largest difference of the 39 is 0.39 s.
func TestAgainstABulletin(t *testing.T) {
	checked := 0
	for _, row := range references.Table(t, "local_circumstances.csv") {
		get := func(name string) string { return row.Text(t, name) }
		if get("source") != "NASA_RP1398_T21" {
			continue
		}
		_, j := answerOf(t, "-json", "-date", get("eclipse"), "-deltat", get("delta_t_s"),
			"-site", get("lat_deg")+","+get("lon_deg_east")+","+get("elev_m"))
		for _, c := range j["contacts"].([]any) {
			c := c.(map[string]any)
			name := strings.ToLower(c["name"].(string))
			want, err := time.Parse("2006-01-02 15:04:05.9", get("ut_date")+" "+get(name+"_ut"))
			require.NoError(t, err)
			got, err := time.Parse(time.RFC3339, c["ut"].(string))
			require.NoError(t, err)
			if d := got.Sub(want).Seconds(); !(math.Abs(d) <= 0.5) {
				t.Errorf("%s %s: UT %s, want %s ± 0.5 s", get("place"), name, c["ut"], get(name+"_ut"))
			}
			checked++
		}
	}
	if checked < 39 {
		t.Errorf("checked %d instants, want 39", checked)
	}
}

func TestMistakes(t *testing.T) {
	for _, args := range [][]string{{"-nosuchflag"}, {"-site", "91,0"}, {"-limb", "smooth"}, {"-limb", ""}, {"2027-08-02"}, {"-json", "extra"}} {
		err := run(context.Background(), &bytes.Buffer{}, args)
		if cli.Status(err) != 2 || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v with status %d, want one line and 2", args, err, cli.Status(err))
		}
	}
}

func TestOut(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	text, _ := answerOf(t, "-out", folder)
	object, _ := answerOf(t, "-json")
	for name, want := range map[string]string{"plan.txt": text, "plan.json": object} {
		got, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		if string(got) != want {
			t.Errorf("%s is not what was printed", name)
		}
	}
}

func TestTwoDigits(t *testing.T) {
	for v, want := range map[float64]string{4: "4.0", 0.0123: "0.012", 99.6: "100", 96512: "97000", 24128: "24000", 26.4: "26", 0: "0", 995: "1000"} {
		if got := twoDigits(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}
