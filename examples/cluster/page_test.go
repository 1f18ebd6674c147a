package main

import (
	"bytes"
	"context"
	"encoding/json"
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/examples/internal/pooled"
)

// The run on the page is what the program prints, but for what three points stand for.
func TestPageShowsWhatIsPrinted(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "main.go", nil, parser.PackageClauseOnly|parser.ParseComments)
	require.NoError(t, err)
	_, run, found := strings.Cut(file.Doc.Text(), "\n# A run\n")
	require.True(t, found)
	run, _, _ = strings.Cut(run, "\n# ")
	_, run, found = strings.Cut(run, "together:\n")
	require.True(t, found)
	o := given(t, demoScheme+"://*/"+demo.StationFile)
	o.JSON = false
	var out bytes.Buffer
	require.NoError(t, o.answer(context.Background(), &out))
	lines := 0
	for line := range strings.Lines(run) {
		line = strings.TrimSpace(line)
		if line == "" || line == "..." {
			continue
		}
		lines++
		if !slices.Contains(strings.Split(out.String(), "\n"), line) {
			t.Errorf("the page has %q, the program prints\n%s", line, out.String())
		}
	}
	require.Greater(t, lines, 3)
}

// The exercise: brackets show in the last digits of a mean, and a sum would not do.
func TestSumsMindTheirBrackets(t *testing.T) {
	var a pooled.Answer
	require.NoError(t, json.Unmarshal(given(t, demoScheme+"://*/"+demo.StationFile).answered(t), &a))
	var all []float64
	for _, s := range a.Stations {
		if s.Summary.Clock != nil {
			all = append(all, s.Summary.Clock.OffsetS)
		}
	}
	require.Greater(t, len(all), 9)
	sum := func(x []float64) (total float64) {
		for _, v := range x {
			total += v
		}
		return total
	}
	backwards := slices.Clone(all)
	slices.Reverse(backwards)
	means := map[float64]bool{sum(all): true, sum(backwards): true}
	for _, n := range []int{2, 3, 5} {
		var sums []float64
		for some := range slices.Chunk(all, n) {
			sums = append(sums, sum(some))
		}
		means[sum(sums)] = true
	}
	if len(means) < 2 {
		t.Errorf("all ways of adding give %v", means)
	}
}
