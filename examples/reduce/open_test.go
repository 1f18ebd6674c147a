package main

import (
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
)

// copied is the demo station's folder on disk, its description changed.
func copied(t *testing.T, old, new string) string {
	t.Helper()
	folder := t.TempDir()
	require.NoError(t, os.CopyFS(folder, demo.Station()))
	name := filepath.Join(folder, demo.StationFile)
	text, err := fs.ReadFile(demo.Station(), demo.StationFile)
	require.NoError(t, err)
	require.Contains(t, string(text), old)
	require.NoError(t, os.WriteFile(name, []byte(strings.Replace(string(text), old, new, 1)), 0o600))
	return name
}

// noted is the part of the answer that a station's file adds.
type noted struct {
	Clock struct {
		Offset float64 `json:"offset_s"`
		Set    *string
		SetU   *float64 `json:"u_set_s"`
	}
	Notes *struct {
		Offset     float64 `json:"offset_s"`
		U          float64 `json:"u_s"`
		Normalised *float64
		Drift      *float64 `json:"drift_ppm"`
		Notes      []struct{ Stamp, UTC string }
	} `json:"clock_notes"`
	Warnings []string
}

func askNoted(t *testing.T, args ...string) noted {
	t.Helper()
	out, err := reduce(t, append([]string{"-json"}, args...)...)
	require.NoError(t, err)
	var n noted
	require.NoError(t, json.Unmarshal([]byte(out), &n))
	return n
}

// The demo's notes go with its light and with its truth; mistyped by a minute they do not,
// and a station without any has a null.
func TestNotesBesideTheLight(t *testing.T) {
	truth, err := demo.Truth()
	require.NoError(t, err)
	n := askNoted(t)
	if n.Notes == nil || len(n.Notes.Notes) != 2 || n.Notes.Normalised == nil || n.Notes.Drift == nil || n.Clock.Set == nil || n.Clock.SetU == nil {
		t.Fatalf("%+v", n)
	}
	if !(math.Abs(n.Notes.Offset-truth.Offset) <= 3*n.Notes.U && math.Abs(*n.Notes.Normalised) <= 3 && *n.Clock.Set == "hand" && *n.Clock.SetU == 60) {
		t.Errorf("%+v %+v, truth %.1f s", n.Notes, n.Clock, truth.Offset)
	}
	n = askNoted(t, "-station", copied(t, "T06:30:42", "T06:31:42"))
	if !(*n.Notes.Normalised > 3) || !strings.Contains(strings.Join(n.Warnings, "\n"), "the notes of the clock say") {
		t.Errorf("a minute off: %+v, %q", n.Notes, n.Warnings)
	}
	text, err := fs.ReadFile(demo.Station(), demo.StationFile)
	require.NoError(t, err)
	from := strings.Index(string(text), `  "clock_set"`)
	to := strings.Index(string(text), `  "remarks"`)
	n = askNoted(t, "-station", copied(t, string(text[from:to]), ""))
	if n.Notes != nil || n.Clock.Set != nil || n.Clock.SetU != nil {
		t.Errorf("without notes: %+v", n)
	}
	page, err := reduce(t)
	require.NoError(t, err)
	for _, want := range []string{"It was set by hand, to 60 s as a rule on the day", "2 notes of it against a better clock", "standard uncertainties of both"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// What is wrong with a station's file is told in one line with file, line and key.
func TestStationFileIsRefusedByName(t *testing.T) {
	text, err := fs.ReadFile(demo.Station(), demo.StationFile)
	require.NoError(t, err)
	for _, tt := range []struct{ old, new, want string }{
		{`"clock_set"`, `"clock_sett"`, `station.json:LINE: clock_sett: there is no such key; is "clock_set" meant?`},
		{`20270802.csv`, `20270801.csv`, `station.json:LINE: files[0]: there is no "20270801.csv" beside this file`},
		{`"hand"`, `"foot"`, `clock_set: clock_set is "foot", want one of network, satellite, radio, phone, hand, unknown`},
	} {
		_, err := reduce(t, "-station", copied(t, tt.old, tt.new))
		line := 1 + strings.Count(string(text)[:strings.Index(string(text), tt.old)], "\n")
		want := strings.Replace(tt.want, "LINE", strconv.Itoa(line), 1)
		if err == nil || !strings.Contains(err.Error(), want) || cli.Status(err) != 1 {
			t.Errorf("%v, want %s and status 1", err, want)
		}
	}
}

// The flags stand over the station's file, the logs of the command line for those that it
// names, and what is not given stays as the file has it.
func TestFlagsOverTheStation(t *testing.T) {
	right := askNoted(t)
	name := copied(t, `"lat_deg": 36`, `"lat_deg": 35.6`)
	other := askNoted(t, "-station", name)
	back := askNoted(t, "-station", name, "-site", "36,-5.6,10")
	if !(math.Abs(other.Clock.Offset-right.Clock.Offset) > 1) || back.Clock.Offset != right.Clock.Offset {
		t.Errorf("-site: %.2f s at the site, %.2f elsewhere, %.2f put back", right.Clock.Offset, other.Clock.Offset, back.Clock.Offset)
	}
	later := askNoted(t, "-station", copied(t, `"eclipse"`, `"delta_t_s": 171, "eclipse"`)) // a Delta T of a hundred seconds more
	flag := askNoted(t, "-deltat", "171")
	if !(math.Abs(later.Clock.Offset-right.Clock.Offset) > 5) || later.Clock.Offset != flag.Clock.Offset {
		t.Errorf("delta_t_s: %.2f s, %.2f with the key, %.2f with the flag", right.Clock.Offset, later.Clock.Offset, flag.Clock.Offset)
	}
	log := filepath.Join(filepath.Dir(name), demo.LogFile)
	absent := copied(t, `20270802.csv`, `nowhere.csv`)
	if got := askNoted(t, "-station", absent, log); got.Clock.Offset != right.Clock.Offset {
		t.Errorf("a log named beside a station: %.2f s, want %.2f", got.Clock.Offset, right.Clock.Offset)
	}
}
