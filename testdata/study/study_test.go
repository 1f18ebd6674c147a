package study

import (
	"math"
	"slices"
	"testing"
)

func TestEclipses(t *testing.T) {
	all := Eclipses(t)
	first, last := all[0].Date, all[len(all)-1].Date
	if first != "2001-06-21" || last != "2060-10-24" || len(all) < 120 {
		t.Errorf("%d eclipses from %s to %s", len(all), first, last)
	}
}

func TestSize(t *testing.T) {
	t.Setenv("NOONFALL_LOGS", "")
	t.Setenv("NOONFALL_SEED", "")
	usual := 7
	if testing.Short() {
		usual = 2
	}
	if n, first := Size(t, 7, 2, 5); n != usual || first != 5 {
		t.Errorf("%d from %d, want %d from 5", n, first, usual)
	}
	t.Setenv("NOONFALL_LOGS", "500")
	t.Setenv("NOONFALL_SEED", "9")
	if n, first := Size(t, 7, 2, 5); n != 500 || first != 9 {
		t.Errorf("%d from %d, want 500 from 9", n, first)
	}
	if testing.Short() {
		t.Run("short", func(t *testing.T) {
			t.Cleanup(func() {
				if !t.Skipped() {
					t.Error("not skipped")
				}
			})
			Size(t, 7, 0, 5)
		})
	}
}

func TestEach(t *testing.T) {
	got := Each(5, 10, func(seed uint64) uint64 { return seed * seed })
	if want := []uint64{100, 121, 144, 169, 196}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := Each(0, 10, func(seed uint64) uint64 { return seed }); len(got) != 0 {
		t.Errorf("%v of none", got)
	}
}

func TestLeast(t *testing.T) {
	// 100 of a fair coin: 50, deviation 5.
	if got := Least(100, 0.5, 2); !(math.Abs(got-40) <= 1e-12) {
		t.Errorf("%g, want 40", got)
	}
}
