package main

import (
	"cmp"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/golden"
	"example.org/noonfall/examples/internal/page/pagecheck"
)

// report reads the page of a run, which must have no fault.
func report(t testing.TB, folder string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(folder, "report.html"))
	require.NoError(t, err)
	for _, f := range pagecheck.Faults(string(b)) {
		t.Error(f)
	}
	return string(b)
}

// goldenReport compares the demo's page to the letter; its pictures have golden files of their own.
func goldenReport(t testing.TB, folder string) {
	t.Helper()
	got := report(t, folder)
	golden.Page(t, "testdata/report.html", pagecheck.Bare(got))
	if n := strings.Count(got, "<svg "); n != 2 {
		t.Errorf("%d pictures, want map and curve", n)
	}
}

// Stations in hostile hands: what their names, summaries and file names hold is text on the page,
// in its pictures too.
func TestReportOfHostileStations(t *testing.T) {
	ordinary(t)
	const evil = `"><img src=x onerror=alert(1)>`
	folder, names := spread(t, "SCHOOL-01", "SCHOOL-10", "SCHOOL-11")
	rewrite(t, names[0], "code", evil)
	rewrite(t, names[1], "code", "=HYPERLINK(1)")
	rewrite(t, names[2], "code", "<script>x</script>\u202e\u2066")
	absent := filepath.Join(folder, "<svg onload=alert(1)>.json")
	out := t.TempDir()
	pool(t, append([]string{"-out", out}, append(names, absent)...)...)
	// A summary that somebody sent may hold what no description may.
	kept, err := filepath.Glob(filepath.Join(out, "summaries", "*.json"))
	require.NoError(t, err)
	// Their names go by the folder: let the first station's be the last, which stays as it is.
	slices.SortFunc(kept, func(a, b string) int { return cmp.Compare(holds(t, a, "onerror"), holds(t, b, "onerror")) })
	rewrite(t, kept[0], "code", "nul\x00bell\a</title>\u0085")
	rewrite(t, kept[1], "misplaced", "</li><script>alert(2)</script>javascript:alert(3)")
	pool(t, append([]string{"-out", out}, append(kept, names[0], absent)...)...)
	got := report(t, out)
	shown := pagecheck.Text(got)
	for _, want := range []string{evil, `nul\x00bell\a</title>\u0085`, "</li><script>alert(2)</script>javascript:alert(3)", "<svg onload=alert(1)>.json"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the page does not show %q:\n%s", want, shown)
		}
	}
}

// holds counts a word in a file.
func holds(t testing.TB, path, word string) int {
	t.Helper()
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return strings.Count(string(b), word)
}

// rewrite puts another text under a key of a JSON file.
func rewrite(t testing.TB, path, key, text string) {
	t.Helper()
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	var all map[string]any
	require.NoError(t, json.Unmarshal(b, &all))
	all[key] = text
	b, err = json.Marshal(all)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, b, 0o600))
}
