package course

import (
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The course has a row for each program, builds them all, and its links lead somewhere.
func TestCourseLeadsThroughAllChapters(t *testing.T) {
	b, err := os.ReadFile(examples + "/README.md")
	require.NoError(t, err)
	var rows []string
	for _, m := range regexp.MustCompile(`(?m)^\| \d+ \| \[(\w+)\]\((\w+)/main\.go\) \|`).FindAllStringSubmatch(string(b), -1) {
		require.Equal(t, m[1], m[2], "a row's name and link")
		rows = append(rows, m[1])
	}
	built := regexp.MustCompile(`(?m)^go build .*$`).FindString(string(b))
	for _, name := range chapters(t) {
		if !regexp.MustCompile(` \./examples/` + name + `\b`).MatchString(built) {
			t.Errorf("examples/README.md does not build %s: %q", name, built)
		}
	}
	for _, name := range programs(t) {
		if !slices.Contains(rows, name) {
			t.Errorf("examples/README.md has no row for %s", name)
		}
	}
	for _, m := range regexp.MustCompile(`\]\(([^):]+)\)`).FindAllStringSubmatch(string(b), -1) {
		if _, err := os.Stat(examples + "/" + m[1]); err != nil {
			t.Errorf("examples/README.md links to %s: %v", m[1], err)
		}
	}
}
