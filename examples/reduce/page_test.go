package main

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/examples/internal/page/pagecheck"
)

// reported runs with -out and returns the page, which must have no fault.
func reported(t *testing.T, args ...string) string {
	t.Helper()
	dir := t.TempDir()
	_, err := reduce(t, append([]string{"-out", dir}, args...)...)
	require.NoError(t, err)
	b, err := os.ReadFile(filepath.Join(dir, "report.html"))
	require.NoError(t, err)
	for _, f := range pagecheck.Faults(string(b)) {
		t.Errorf("%v: %v", args, f)
	}
	return string(b)
}

// The demo's page to the letter; its pictures have golden files of their own.
func TestReportOfTheDemo(t *testing.T) {
	got := reported(t)
	golden.Page(t, "testdata/report.html", pagecheck.Bare(got))
	if n := strings.Count(got, "<svg "); n != 2 {
		t.Errorf("%d pictures, want light and air", n)
	}
}

// Every sentence of the verdict is the text's own.
func TestReportAgreesWithTheText(t *testing.T) {
	text, err := reduce(t)
	require.NoError(t, err)
	text = strings.Join(strings.Fields(strings.ReplaceAll(text, "+-", "\u00b1")), " ")
	_, verdict, found := strings.Cut(reported(t), `<p class="answer">`)
	require.True(t, found)
	verdict, _, _ = strings.Cut("<p>"+verdict, "</section>")
	for _, p := range strings.Split(pagecheck.Text("<x>"+verdict+"</x>"), "\n") {
		if !strings.Contains(text, p) {
			t.Errorf("the text has no %q", p)
		}
	}
}

// What was asked for by flags is said where it matters.
func TestReportSaysWhatWasAsked(t *testing.T) {
	got := pagecheck.Text(reported(t, "-limb", "mean", "-deltat", "71.5"))
	for _, want := range []string{"taken for a smooth disc", "the Moon's edge smooth", "as it was given: 71.5 s"} {
		if !strings.Contains(got, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// Where nothing can be told the page says why, without a picture or with the prediction alone.
func TestReportOfRefusals(t *testing.T) {
	log := write(t, "log.csv", twoLines)
	for _, tt := range []struct {
		args     []string
		says     string
		pictures int
	}{
		{[]string{"-site", "36,-5.6", "-date", "2027-09-20", log}, "no eclipse", 0},
		{[]string{"-site", "-70,100", "-date", "2027-08-02", log}, "not visible here", 0},
		{[]string{"-site", "36,-5.6", "-date", "2027-08-02", log}, "too few samples", 1},
		{[]string{"-site", "36,-5.6", "-date", "2027-08-02", write(t, "empty.csv", "")}, "no usable light", 0},
		{[]string{"-site", "36,-5.6", "-date", "2027-08-02", t.TempDir()}, "no file to read", 0},
	} {
		got := reported(t, tt.args...)
		if n := strings.Count(got, "<svg "); n != tt.pictures || !strings.Contains(got, tt.says) || !strings.Contains(got, "No verdict") || strings.Contains(got, "NaN") {
			t.Errorf("%v: %d pictures, wanted %d and %q:\n%s", tt.args, n, tt.pictures, tt.says, pagecheck.Text(got))
		}
	}
}

// The demo's log in hostile hands: whatever its headings, cells, torn lines and file names and the
// owner's words hold is text on the page, in its pictures too.
func TestReportOfAHostileLog(t *testing.T) {
	const evil = `"><img src=x onerror=alert(1)>`
	log, err := fs.ReadFile(demo.Station(), "20270802.csv")
	require.NoError(t, err)
	lines := strings.SplitAfter(string(log), "\n")
	for i, bad := range []string{
		"<script>alert(1)</script>", evil, "=HYPERLINK(\"javascript:alert(1)\")", "\u202egnp.exe,\x1b[31m,\x00", "</table></svg></title></style>", "2027-08-02T08:10:00,<!--", "{{.Title}}",
	} {
		at := 100 + 500*i
		lines[at] = bad + "\n" + lines[at]
	}
	dir := t.TempDir()
	const name = "<b>&'20270802.csv"
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(strings.Join(lines, "")), 0o600))
	text, err := fs.ReadFile(demo.Station(), demo.StationFile)
	require.NoError(t, err)
	var s map[string]any
	require.NoError(t, json.Unmarshal(text, &s))
	s["code"], s["files"], s["remarks"] = evil, []string{name}, "</blockquote><script>alert(2)</script>\n\u202ejavascript:alert(3)\u2066 \x07 '=1+1"
	text, err = json.Marshal(s)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, demo.StationFile), text, 0o600))
	got := reported(t, "-station", filepath.Join(dir, demo.StationFile))
	shown := pagecheck.Text(got)
	for _, want := range []string{
		"<script>alert(1)</script>", "How wrong was the clock of station " + evil, "'=HYPERLINK", `\u202egnp.exe,\x1b[31m,\x00`, "</table></svg></title></style>", name,
		"</blockquote><script>alert(2)</script>\n\\u202ejavascript:alert(3)\\u2066 \\a '=1+1", "{{.Title}}",
	} {
		if !strings.Contains(shown, want) {
			t.Errorf("the page does not show %q", want)
		}
	}
	if n := strings.Count(got, "<svg "); n != 2 {
		t.Errorf("%d pictures", n)
	}
}
