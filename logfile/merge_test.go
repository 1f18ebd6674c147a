package logfile

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestMerge(t *testing.T) {
	rec := func(second int, light float64) Record {
		return Record{Line: second, Time: time.Unix(int64(second), 0).UTC(), Light: light, Temp: math.NaN()}
	}
	for _, tt := range []struct {
		name       string
		files      [][]Record
		want       string
		duplicates int
	}{
		{"nothing", nil, "[]", 0},
		{"one after the other", [][]Record{{rec(3, 3), rec(4, 4)}, {rec(1, 1), rec(2, 2)}}, "[1 1 2 2 3 3 4 4]", 0},
		{"overlapping", [][]Record{{rec(1, 1), rec(2, 2)}, {rec(2, 2), rec(3, 3)}}, "[1 1 2 2 3 3]", 1},
		{"one instant, other light", [][]Record{{rec(1, 1), rec(2, 2)}, {rec(2, 5), rec(2, 2)}}, "[1 1 2 2 2 5]", 1},
		{"missing light is as missing", [][]Record{{rec(1, math.NaN())}, {rec(1, math.NaN())}}, "[1 NaN]", 1},
		{"newest first", [][]Record{{rec(3, 3), rec(2, 7), rec(2, 6), rec(1, 1)}}, "[1 1 2 6 2 7 3 3]", 0},
	} {
		before := fmt.Sprint(tt.files)
		got, duplicates := Merge(tt.files...)
		text := []string{}
		for _, r := range got {
			text = append(text, fmt.Sprint(r.Time.Unix(), r.Light))
		}
		if fmt.Sprint(text) != tt.want || duplicates != tt.duplicates {
			t.Errorf("%s: %v, %d duplicates; want %v, %d", tt.name, text, duplicates, tt.want, tt.duplicates)
		}
		if fmt.Sprint(tt.files) != before {
			t.Errorf("%s: the files were changed", tt.name)
		}
	}
}

// Merging keeps every reading once, ascending, however they are shared out.
func TestMergeIsAUnion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type reading struct {
			second int64
			light  float64
		}
		n := rapid.IntRange(0, 4).Draw(t, "files")
		files := make([][]Record, n)
		want := map[reading]bool{}
		total := 0
		for i := range files {
			for range rapid.IntRange(0, 8).Draw(t, "records") {
				r := reading{rapid.Int64Range(0, 5).Draw(t, "second"), float64(rapid.IntRange(0, 2).Draw(t, "light"))}
				want[r] = true
				total++
				files[i] = append(files[i], Record{Time: time.Unix(r.second, 0), Light: r.light})
			}
		}
		got, duplicates := Merge(files...)
		if len(got) != len(want) || duplicates != total-len(want) {
			t.Fatalf("%d kept, %d duplicates of %d; want %d", len(got), duplicates, total, len(want))
		}
		if !slices.IsSortedFunc(got, func(a, b Record) int { return a.Time.Compare(b.Time) }) {
			t.Fatal("not ascending")
		}
		for _, r := range got {
			if !want[reading{r.Time.Unix(), r.Light}] {
				t.Fatalf("%+v was in no file", r)
			}
		}
	})
}
