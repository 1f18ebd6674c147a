package main

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/golden"
)

func told(t *testing.T, args ...string) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, run(context.Background(), &b, args))
	return b.String()
}

func answered(t *testing.T, args ...string) answer {
	t.Helper()
	return parsed(t, []byte(told(t, append([]string{"-json"}, args...)...)))
}

// parsed reads an answer back, but for its instants, which are only written.
func parsed(t *testing.T, text []byte) answer {
	t.Helper()
	var a struct {
		answer
		Eclipse json.RawMessage `json:"eclipse"`
	}
	require.NoError(t, json.Unmarshal(text, &a))
	return a.answer
}

// numbers are masked in the page's golden file: they are the fit's, and are held to the truth below.
var numbers = regexp.MustCompile(`[+-]?[0-9]+(\.[0-9]+)?`)

func TestGolden(t *testing.T) {
	page := numbers.ReplaceAllString(told(t, "-days", "1", "-sky", "haze"), "#")
	golden.Page(t, "testdata/demo.txt", regexp.MustCompile(` {2,}`).ReplaceAllString(page, "  "))
}

// By default each fear's clock is found and its interval holds the truth that was put in, or
// the day is refused. A wrong number on any of the thirty and more days fails.
func TestTruthComesBack(t *testing.T) {
	if testing.Short() {
		t.Skip("dozens of days, which the ordinary test has")
	}
	a := answered(t)
	if a.Version != 1 || !a.Invented || a.Seen != "total" || len(a.Fears) < 12 {
		t.Fatalf("version %d, invented %t, seen %s, %d fears", a.Version, a.Invented, a.Seen, len(a.Fears))
	}
	want := map[string]float64{"quiet": 0, "clock": 41.7, "zone": 7200, "power": 0, "all": 7241.7}
	missed, days := 0, 0
	for _, f := range a.Fears {
		if f.Verdict == "misled" {
			t.Errorf("%s: misled, %s", f.Key, f.Why)
		}
		for _, d := range f.Days {
			days++
			if put, ok := want[f.Key]; ok && float64(d.Truth) != put {
				t.Errorf("%s: the truth is %g, put in was %g", f.Key, d.Truth, put)
			}
			if d.Holds == nil {
				continue
			}
			if holds := d.CI95[0] <= d.Truth && d.Truth <= d.CI95[1]; holds != *d.Holds {
				t.Errorf("%s: %v holds %g: %t", f.Key, *d.CI95, d.Truth, *d.Holds)
			}
			if !*d.Holds {
				missed++
			}
		}
	}
	if missed > 6 { // of 36 at 95 %: more than six has a chance of 1 in 250
		t.Errorf("%d of %d intervals miss", missed, days)
	}
}

// A torn card loses the lines that were torn and no other.
func TestLinesAreCounted(t *testing.T) {
	for _, f := range answered(t, "-days", "1", "-sky", "none", "-clock", "0", "-drift", "0", "-zone", "0").Fears {
		d := f.Days[0]
		if d.Read != d.Written {
			t.Errorf("%s: %d of %d records read", f.Key, d.Read, d.Written)
		}
		if want := map[string]int{"quiet": 0, "power": 0, "card": 25, "all": 25}[f.Key]; d.Lost != want {
			t.Errorf("%s: %d lines refused, want %d", f.Key, d.Lost, want)
		}
		if (d.Outage > 0) != (f.Key == "power" || f.Key == "all") {
			t.Errorf("%s: %g s without power", f.Key, d.Outage)
		}
	}
}

// A logger that is dark for most of the eclipse is no success, and the page says what to change. A cut
// that is longer than the log cannot be tried, and the page does not say that it was survived.
func TestHopelessPlan(t *testing.T) {
	for _, tt := range []struct{ cuts, outage, not string }{{"2", "110m", "misled"}, {"1", "12h", "refused"}} {
		a := answered(t, "-days", "1", "-sky", "none", "-clock", "0", "-drift", "0", "-zone", "0", "-torn", "0", "-zeros", "0", "-cuts", tt.cuts, "-outage", tt.outage)
		for _, f := range a.Fears {
			if f.Key == "power" && (f.Verdict == "survived" || f.Verdict == tt.not || tt.outage == "12h" && f.Verdict != "untried") {
				t.Errorf("%s of %s: %s, %s", tt.cuts, tt.outage, f.Verdict, f.Why)
			}
		}
		if !slices.ContainsFunc(a.Change, func(s string) bool { return strings.HasPrefix(s, "power cuts: ") }) {
			t.Errorf("nothing is to be changed: %q", a.Change)
		}
	}
}

func TestJudge(t *testing.T) {
	right := day{ci: [2]float64{-1, 1}}
	wide := day{ci: [2]float64{-9, 9}}
	beside := day{ci: [2]float64{0.5, 2.5}}
	far := day{ci: [2]float64{5, 6}}
	no := day{refusal: &station.Refusal{Reason: "overcast"}}
	for _, tt := range []struct {
		days []day
		want string
	}{
		{[]day{right}, survived}, {[]day{right, wide}, blurred}, {[]day{right, no}, refused}, {[]day{right, right, beside}, survived},
		{[]day{beside, beside, right}, misled}, {[]day{right, far}, misled}, {[]day{no, far}, misled}, {[]day{no}, refused},
	} {
		if got := judge(tt.days, 5); got.word != tt.want || got.reason == "" {
			t.Errorf("%+v: %+v, want %s", tt.days, got, tt.want)
		}
	}
}

func TestNothingToSee(t *testing.T) {
	a := answered(t, "-site", "-40,170")
	if a.Seen != "none" || len(a.Fears) != 0 || len(a.Cautions) == 0 {
		t.Errorf("%+v", a)
	}
	if page := told(t, "-site", "-40,170"); !strings.Contains(page, "nothing to rehearse") || !strings.Contains(page, "ISO 12312-2") {
		t.Error(page)
	}
}

func TestOut(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	text := told(t, "-days", "1", "-sky", "haze", "-out", folder)
	read := func(name string) []byte {
		b, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		return b
	}
	if string(read("rehearse.txt")) != text {
		t.Error("rehearse.txt is not what was printed")
	}
	a := parsed(t, read("rehearse.json"))
	for _, f := range a.Fears {
		var truth rehearsal.Truth
		require.NoError(t, json.Unmarshal(read(f.Key+".truth.json"), &truth))
		if !bytes.HasPrefix(read(f.Key+".csv"), []byte(rehearsal.Invented)) || !(math.Abs(truth.Offset-float64(f.Days[0].Truth)) < 1e-6) {
			t.Errorf("%s: the log does not say that it is invented, or its truth is another", f.Key)
		}
	}
	s, err := station.Parse(read("station.json"))
	require.NoError(t, err)
	rep, err := station.Reduce(context.Background(), s, station.FilesIn(os.DirFS(folder), s.Files...), station.Options{})
	require.NoError(t, err)
	if rep.Records == 0 {
		t.Error("the log beside the station's file has no record")
	}
	for _, name := range []string{"day.svg", "fears.svg"} {
		golden.Picture(t, "testdata/"+name, string(read(name)))
	}
}

// Whatever is feared, the page comes out and no line is too long to read.
func TestOtherPlans(t *testing.T) {
	if testing.Short() {
		t.Skip("dozens of days, which the ordinary test has")
	}
	for _, args := range []string{
		"-site 60,-20 -sky cumulus", "-site 25,45 -date 2027-08-02 -cadence 10s", "-site 55.79,12.5 -date 2026-08-12", "-limb mean -deltat 72 -lag 2s",
		"-station ../internal/demo/data/station/station.json -clock -90 -zone -5",
	} {
		for _, line := range strings.Split(told(t, append(strings.Fields(args), "-days", "1", "-out", t.TempDir())...), "\n") {
			if len(line) > 130 || strings.HasSuffix(line, " ") || strings.Contains(line, "NaN") || strings.Contains(line, "%!") {
				t.Errorf("%s: %q", args, line)
			}
		}
	}
}

func TestMistakes(t *testing.T) {
	for _, tt := range []struct {
		args   string
		status int
		says   string
	}{
		{"-nosuch", 2, "-nosuch"}, {"log.csv", 2, "log.csv"}, {"-sky fog", 2, "fog"}, {"-days 0", 2, "-days"}, {"-cadence 1500ms", 2, "-cadence"},
		{"-zone 16", 2, "-zone"}, {"-clock NaN", 2, "-clock"}, {"-outage 13h", 2, "-outage"}, {"-within 0", 2, "-within"}, {"-sense up", 2, "-sense"}, {"-dark 3", 2, "-dark"}, {"-bench demo -tick h", 2, "-tick"},
		{"-bench nosuch.csv", 1, "nosuch.csv"}, {"-station nosuch.json", 1, "nosuch.json"}, {"-date 2027-08-12", 1, "2027-08-12"},
		{"-bench demo -light nosuch", 1, "-light"}, {"-bench demo -dark 4000 -sense falling", 1, "-dark"},
	} {
		var b bytes.Buffer
		err := run(context.Background(), &b, strings.Fields(tt.args))
		if cli.Status(err) != tt.status || !strings.Contains(err.Error(), tt.says) || b.Len() > 0 {
			t.Errorf("%s: status %d, %v, printed %q", tt.args, cli.Status(err), err, b.String())
		}
	}
}
