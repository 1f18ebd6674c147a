package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/examples/internal/pooled"
)

func pool(t testing.TB, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), &out, args))
	return out.String()
}

func answered(t testing.TB, args ...string) (a pooled.Answer) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(pool(t, append([]string{"-json"}, args...)...)), &a))
	return a
}

func TestGolden(t *testing.T) {
	folder := t.TempDir()
	golden.Page(t, "testdata/demo.txt", pool(t, "-out", folder))
	golden.JSON(t, "testdata/demo.json", pool(t, "-json"), 1e-4)
	for _, name := range []string{"curve.svg", "map.svg"} {
		text, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		golden.Picture(t, "testdata/"+name, string(text))
	}
	goldenReport(t, folder)
	nothingPersonal(t, folder)
}

// nothingPersonal: no remark and no file's name leaves in a summary or in what is made of them.
func nothingPersonal(t *testing.T, folder string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err == nil && (bytes.Contains(text, []byte("somebody's watch")) || bytes.Contains(text, []byte(".csv"))) {
			t.Errorf("%s holds a remark or a file's name", path)
		}
		return err
	})
	require.NoError(t, err)
}

// The demo's story against its truth, which the pooling has not seen: clocks, the shared
// habit of eight seconds, the one that is misplaced, the one of another day.
func TestDemoAgainstItsTruth(t *testing.T) {
	ordinary(t)
	truths, err := demo.NetworkTruth()
	require.NoError(t, err)
	a := answered(t)
	if len(a.Stations) != 12 || len(a.Failed) != 0 {
		t.Fatalf("%d stations, failed %v", len(a.Stations), a.Failed)
	}
	held, told := 0, 0
	for i, m := range a.Stations {
		truth := truths[i]
		if m.Name != truth.Code {
			t.Fatalf("station %d is %s, the truth's %s", i, m.Name, truth.Code)
		}
		if m.Summary.Clock == nil || m.Name == "SCHOOL-08" {
			continue
		}
		told++
		// A second is what the interval's own 95 % may miss by.
		if c := m.Summary.Clock.CI95; c[0]-1 <= truth.Truth.Offset && truth.Truth.Offset <= c[1]+1 {
			held++
		} else {
			t.Logf("%s: %v, truth %.2f", m.Name, c, truth.Truth.Offset)
		}
	}
	if told != 10 || held < 9 {
		t.Errorf("%d of %d clocks hold the truth", held, told)
	}
	// The habit is -8 s; single clocks differ by some tenths.
	if !(math.Abs(float64(a.Shared.Offset)+8) <= 2*float64(a.Shared.U)) || a.Shared.N != 7 {
		t.Errorf("%+v", a.Shared)
	}
	if !(math.Abs(float64(a.Shadow.Speed-a.Shadow.Predicted)) <= 4*float64(a.Shadow.SpeedU)) || a.Shadow.N != 7 {
		t.Errorf("%+v", a.Shadow)
	}
	if !(math.Abs(float64(a.Moon.Km-a.Moon.Predicted)) <= 2*float64(a.Moon.U)) || a.Moon.N < 3 {
		t.Errorf("%+v", a.Moon)
	}
	clocks := ""
	for _, o := range a.Outliers {
		if o.What == "clock" {
			clocks += o.Name
		}
	}
	if clocks != "SCHOOL-08" {
		t.Errorf("off are %+v", a.Outliers)
	}
	if m := a.Stations[6]; m.Summary.Clock.ZoneH != 2 {
		t.Errorf("%s is on zone %g h", m.Name, m.Summary.Clock.ZoneH)
	}
	if m := a.Stations[7]; m.Summary.Misplaced != "the sign of the longitude" {
		t.Errorf("%s: %q", m.Name, m.Summary.Misplaced)
	}
	if m := a.Stations[10]; m.Summary.Refusal == nil {
		t.Errorf("%s has a clock: %+v", m.Name, m.Summary.Clock)
	}
}

// spread writes the demo's stations into a folder and names their descriptions.
func spread(t testing.TB, codes ...string) (folder string, names []string) {
	t.Helper()
	folder = t.TempDir()
	require.NoError(t, os.CopyFS(folder, demo.Network()))
	for _, c := range codes {
		names = append(names, filepath.Join(folder, c, demo.StationFile))
	}
	return folder, names
}

// ordinary tests reduce dozens of logs; the short ones leave that to them.
func ordinary(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("dozens of logs, which the ordinary test reduces")
	}
}

// A run that stops and goes on gives what one run gives; what was given twice, or by two
// ways, counts once; a summary does for its station.
func TestResume(t *testing.T) {
	ordinary(t)
	_, names := spread(t, "SCHOOL-01", "SCHOOL-02", "SCHOOL-10")
	want := pool(t, append([]string{"-json"}, names...)...)
	out := t.TempDir()
	pool(t, append([]string{"-out", out}, names[:2]...)...)
	kept, err := filepath.Glob(filepath.Join(out, "summaries", "*.json"))
	require.NoError(t, err)
	if len(kept) != 2 {
		t.Fatalf("%d summaries are kept of 2", len(kept))
	}
	// One is whole, one was cut off; half of a third lies about.
	require.NoError(t, os.Truncate(kept[1], 100))
	require.NoError(t, os.WriteFile(kept[0]+".part", []byte("{"), 0o600))
	before, err := os.Stat(kept[0])
	require.NoError(t, err)
	if got := pool(t, append([]string{"-json", "-out", out}, append(names, names[0], names[1])...)...); got != want {
		t.Errorf("resumed: %s\nat once: %s", got, want)
	}
	after, err := os.Stat(kept[0])
	require.NoError(t, err)
	if !after.ModTime().Equal(before.ModTime()) {
		t.Error("a summary that was whole was made again")
	}
	kept, err = filepath.Glob(filepath.Join(out, "summaries", "*.json"))
	require.NoError(t, err)
	if got := pool(t, append([]string{"-json"}, kept...)...); got != want {
		t.Errorf("from the summaries: %s\nfrom the logs: %s", got, want)
	}
}

// A log that has changed is reduced anew.
func TestResumeSeesChanges(t *testing.T) {
	ordinary(t)
	folder, names := spread(t, "SCHOOL-01", "SCHOOL-02")
	out := t.TempDir()
	pool(t, append([]string{"-out", out}, names...)...)
	path := names[0]
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), `"SCHOOL-01"`, `"RENAMED"`, 1)), 0o600))
	require.NoError(t, os.Remove(filepath.Join(folder, "SCHOOL-02", "20270802.csv.gz")))
	a := answered(t, append([]string{"-out", out}, names...)...)
	if len(a.Stations) != 1 || a.Stations[0].Name != "RENAMED" || len(a.Failed) != 1 || !strings.Contains(a.Failed[0].Reason, "20270802.csv.gz") {
		t.Errorf("%d stations, failed %v", len(a.Stations), a.Failed)
	}
}

// What cannot be read fails alone and is named; where nothing is left, so does the run.
func TestFailures(t *testing.T) {
	folder, names := spread(t, "SCHOOL-01", "SCHOOL-12", "ABSENT")
	bad := filepath.Join(folder, "bad.json")
	require.NoError(t, os.WriteFile(bad, []byte(`{"version": 1, "colour": "red"}`), 0o600))
	bare := filepath.Join(folder, "bare.json")
	require.NoError(t, os.WriteFile(bare, []byte(`{"version": 1, "code": "BARE", "site": {"lat_deg": 36, "lon_deg": -5.6}, "eclipse": "2027-08-02"}`), 0o600))
	a := answered(t, append(names, bad, bare)...)
	reasons := ""
	for _, f := range a.Failed {
		reasons += f.Reason + "\n"
	}
	for _, word := range []string{"ABSENT", "colour", "names no files"} {
		if !strings.Contains(reasons, word) {
			t.Errorf("no word of %q in %s", word, reasons)
		}
	}
	if len(a.Stations) != 2 || len(a.Failed) != 3 {
		t.Errorf("%d stations, %d failed", len(a.Stations), len(a.Failed))
	}
	if err := run(context.Background(), &bytes.Buffer{}, []string{bad}); err == nil || !strings.Contains(err.Error(), "colour") {
		t.Errorf("nothing but a bad one: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := run(ctx, &bytes.Buffer{}, nil); err == nil {
		t.Error("a context that has ended ends no run")
	}
	for _, args := range [][]string{{"-workers", "-1"}, {"-colour"}, {"-date", "Monday"}} {
		if got := cli.Status(run(context.Background(), &bytes.Buffer{}, args)); got != 2 {
			t.Errorf("%v: status %d, want 2", args, got)
		}
	}
	if err := run(context.Background(), &bytes.Buffer{}, []string{"-date", "2024-04-08"}); err == nil || !strings.Contains(err.Error(), "-date") {
		t.Errorf("no station of that day: %v", err)
	}
}

// The workers' number is no matter.
func TestWorkers(t *testing.T) {
	ordinary(t)
	_, names := spread(t, "SCHOOL-01", "SCHOOL-09", "SCHOOL-11", "SCHOOL-12")
	want := pool(t, append([]string{"-json", "-workers", "1"}, names...)...)
	if got := pool(t, append([]string{"-json", "-workers", "4"}, names...)...); got != want {
		t.Errorf("%s\n%s", got, want)
	}
}

// A folder stands for the description in it.
func TestFolders(t *testing.T) {
	ordinary(t)
	folder, names := spread(t, "SCHOOL-01")
	if got, want := pool(t, "-json", filepath.Join(folder, "SCHOOL-01")), pool(t, append([]string{"-json"}, names...)...); got != want {
		t.Errorf("%s\n%s", got, want)
	}
}
