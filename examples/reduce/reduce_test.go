package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
)

func reduce(t *testing.T, args ...string) (string, error) {
	t.Helper()
	var b bytes.Buffer
	err := run(context.Background(), &b, args)
	return b.String(), err
}

// verdict is what the tests look at of the JSON form.
type verdict struct {
	Records int
	Clock   struct {
		Verdict string
		Reason  *string
		Offset  *float64 `json:"offset_s"`
		U       *float64 `json:"u_s"`
		CI95    [2]*float64
	}
	Files []struct {
		Bytes    int64
		Problems int64
		By       map[string]int64 `json:"bytes_by"`
	}
}

func ask(t *testing.T, args ...string) verdict {
	t.Helper()
	out, err := reduce(t, append([]string{"-json"}, args...)...)
	require.NoError(t, err)
	var v verdict
	require.NoError(t, json.Unmarshal([]byte(out), &v))
	return v
}

// The demo's truth is written beside its log by the rehearsal that made it.
func TestDemoStationAgainstItsTruth(t *testing.T) {
	truth, err := demo.Truth()
	require.NoError(t, err)
	v := ask(t)
	if v.Clock.Verdict != "fitted" {
		t.Fatalf("%+v", v)
	}
	if !(math.Abs(*v.Clock.Offset-truth.Offset) <= 1) { // u is half a second
		t.Errorf("offset %.2f s, truth %.2f", *v.Clock.Offset, truth.Offset)
	}
	if v.Records != truth.Lines.Records || v.Files[0].Problems != int64(truth.Lines.Torn) {
		t.Errorf("%d records and %d problems, truth %+v", v.Records, v.Files[0].Problems, truth.Lines)
	}
	var sum int64
	for _, n := range v.Files[0].By {
		sum += n
	}
	if sum != v.Files[0].Bytes {
		t.Errorf("%d of %d bytes accounted for", sum, v.Files[0].Bytes)
	}
}

func TestPageForPeople(t *testing.T) {
	out, err := reduce(t)
	require.NoError(t, err)
	for _, want := range []string{"WHAT WAS READ", "torn line", "THE CLOCK", "s fast", "95 %", "THE EVIDENCE", "ISO 12312-2"} {
		if !strings.Contains(out, want) {
			t.Errorf("the page lacks %q:\n%s", want, out)
		}
	}
}

func TestOutWritesFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "made")
	_, err := reduce(t, "-out", dir)
	require.NoError(t, err)
	for _, name := range []string{"reduce.txt", "reduce.json", "light.svg", "air.svg", "report.html"} {
		b, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		if len(b) < 500 {
			t.Errorf("%s has %d bytes", name, len(b))
		}
	}
	svg, err := os.ReadFile(filepath.Join(dir, "light.svg"))
	require.NoError(t, err)
	for _, want := range []string{">C1<", ">C4<", ">UTC (hours and minutes)<", "10,000"} {
		if !bytes.Contains(svg, []byte(want)) {
			t.Errorf("the picture lacks %q", want)
		}
	}
}

func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

const twoLines = "time,light\n2027-08-02T08:00:00Z,500\n2027-08-02T08:00:01Z,501\n2027-08-02T08:00:02Z,502\n2027-08-02T08:00:03Z,502\n"

// What nature or the data decide is an answer.
func TestRefusalsAreAnswers(t *testing.T) {
	log := write(t, "log.csv", twoLines)
	for _, tt := range []struct {
		name   string
		args   []string
		reason string
	}{
		{"no eclipse", []string{"-site", "36,-5.6", "-date", "2027-09-20", log}, "no eclipse"},
		{"shadow passes by", []string{"-site", "-70,100", "-date", "2027-08-02", log}, "not visible here"},
		{"too little light", []string{"-site", "36,-5.6", "-date", "2027-08-02", log}, "too few samples"},
		{"empty file", []string{"-site", "36,-5.6", "-date", "2027-08-02", write(t, "empty.csv", "")}, "no usable light"},
	} {
		v := ask(t, tt.args...)
		if v.Clock.Verdict != "refused" || v.Clock.Reason == nil || *v.Clock.Reason != tt.reason {
			t.Errorf("%s: %+v, want refused for %q", tt.name, v.Clock, tt.reason)
		}
	}
}

// What cannot be read is an error that names the file and the remedy.
func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		name   string
		args   []string
		status int
		want   string
	}{
		{"missing", []string{"-site", "36,-5.6", "nowhere.csv"}, 1, "nowhere.csv"},
		{"picture", []string{"-site", "36,-5.6", write(t, "p.png", "\x89PNG\r\n\x1a\n\x00\x01\x02\x00\x00\x00")}, 1, "p.png"},
		{"day or month", []string{"-site", "36,-5.6", write(t, "d.csv", "time,light\n02/08/2027 08:00,5\n02/08/2027 08:01,6\n02/08/2027 08:02,6\n")}, 1, "-order"},
		{"latitude", []string{"-site", "91,0", write(t, "x.csv", twoLines)}, 2, "-site"},
		{"zone", []string{"-zone", "Mars/Olympus", write(t, "z.csv", twoLines)}, 2, "-zone"},
		{"columns", []string{"-columns", "time,colour", write(t, "c.csv", twoLines)}, 2, "-columns"},
		{"no files", []string{"-site", "36,-5.6"}, 2, "log files"},
		{"a flag behind a file", []string{"-site", "36,-5.6", write(t, "f.csv", twoLines), "-json"}, 2, "flags come before"},
	} {
		_, err := reduce(t, tt.args...)
		if err == nil || cli.Status(err) != tt.status || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: status %d, %v; want %d and %q", tt.name, cli.Status(err), err, tt.status, tt.want)
		}
	}
}

// Two files that overlap count their common records once in the fit.
func TestOverlap(t *testing.T) {
	a, b := write(t, "a.csv", twoLines), write(t, "b.csv", twoLines)
	out, err := reduce(t, "-site", "36,-5.6", "-date", "2027-08-02", a, b)
	require.NoError(t, err)
	if !strings.Contains(out, "4 records repeat") {
		t.Errorf("no word of the overlap:\n%s", out)
	}
}

// What has nothing to tell says so, and claims nothing else.
func TestNothingToTell(t *testing.T) {
	var same strings.Builder
	same.WriteString("time,light\n")
	for i := range 200 {
		fmt.Fprintf(&same, "2027-08-02 08:%02d:%02d,7\n", i/60, i%60)
	}
	for _, tt := range []struct {
		name, path, says string
		not              string
	}{
		{"empty folder", t.TempDir(), "there is no file to read", "readings"},
		{"header alone", write(t, "h.csv", "time,light\n"), "holds no data", "is empty"},
		{"nothing at all", write(t, "e.csv", ""), "e.csv is empty", "holds no data"},
		{"one reading", write(t, "s.csv", same.String()), "7 throughout", "still changing"},
	} {
		out, err := reduce(t, "-site", "36,-5.6", "-date", "2027-08-02", tt.path)
		require.NoError(t, err)
		if !strings.Contains(out, tt.says) || strings.Contains(out, tt.not) {
			t.Errorf("%s: wanted %q and no %q:\n%s", tt.name, tt.says, tt.not, out)
		}
	}
}

// A folder of many day files makes no long page.
func TestManyFilesStayShort(t *testing.T) {
	dir := t.TempDir()
	for day := 1; day <= 28; day++ {
		text := fmt.Sprintf("time,light\n2000-01-01 00:00:00,5\n2027-08-%02d 08:00:00,5\n2027-08-%02d 08:00:01,\n2027-08-%02d 08:00:02,6\n", day, day, day)
		require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("202708%02d.csv", day)), []byte(text), 0o600))
		if day <= 20 {
			require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("z%02d.csv", day)), nil, 0o600))
		}
	}
	out, err := reduce(t, "-site", "36,-5.6", "-date", "2027-08-02", dir)
	require.NoError(t, err)
	if n := strings.Count(out, "\n"); n > 100 || !strings.Contains(out, "and 27 more: stamps without a zone") || !strings.Contains(out, "and 27 more: 28 cells of light") ||
		!strings.Contains(out, "and 27 more: 28 records with the stamp of a clock that was not set; 28 put right") || !strings.Contains(out, "and 11 more; -json has them all") {
		t.Errorf("%d lines:\n%s", n, out)
	}
}
