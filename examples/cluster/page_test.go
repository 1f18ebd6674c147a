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

// The exercise: brackets show in the last digits of a sum.
func TestSumsMindTheirBrackets(t *testing.T) {
	var a pooled.Answer
	require.NoError(t, json.Unmarshal(given(t, demoScheme+"://*/"+demo.StationFile).answered(t), &a))
	var all []float64
	for _, p := range a.Curve {
		if p.N > 0 {
			all = append(all, p.Median, p.Low, p.High)
		}
	}
	require.Greater(t, len(all), 90)
	sum := func(x []float64) (total float64) {
		for _, v := range x {
			total += v
		}
		return total
	}
	sums := map[float64]bool{sum(all): true, sum(slices.Sorted(slices.Values(all))): true}
	for _, n := range []int{2, 3, 5} {
		var some []float64
		for chunk := range slices.Chunk(all, n) {
			some = append(some, sum(chunk))
		}
		sums[sum(some)] = true
	}
	if len(sums) < 2 {
		t.Errorf("all ways of adding give %v", sums)
	}
}
