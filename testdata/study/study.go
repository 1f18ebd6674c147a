// Package study is what tests that count over many made-up logs have in common: how many, from
// which eclipses, on all processors, and what chance allows.
package study

import (
	"math"
	"os"
	"runtime"
	"strconv"
	"sync"
	"testing"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
)

// Eclipses are those from which logs are drawn, of 60 years.
func Eclipses(t testing.TB) (all []*eclipse.Elements) {
	t.Helper()
	c, err := canon.Load()
	if err != nil {
		t.Fatal(err)
	}
	for e := range c.All() {
		if e.Date > "2001" && e.Date < "2061" {
			all = append(all, e)
		}
	}
	if len(all) == 0 {
		t.Fatal("no eclipse from 2001 to 2060")
	}
	return all
}

// Size is how many logs of each class a test looks at, and the first seed: NOONFALL_LOGS and
// NOONFALL_SEED, or what the ordinary test takes; or what the short one does, which with 0
// skips a test that has nothing but the count of many to say.
func Size(t testing.TB, usual, short, seed int) (logs, first int) {
	t.Helper()
	logs, first = usual, seed
	if testing.Short() {
		if logs = short; short == 0 {
			t.Skip("a count over many logs, which the ordinary test has")
		}
	}
	for name, to := range map[string]*int{"NOONFALL_LOGS": &logs, "NOONFALL_SEED": &first} {
		if s := os.Getenv(name); s != "" {
			n, err := strconv.Atoi(s)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			*to = n
		}
	}
	return logs, first
}

// Each does something with n seeds, on all processors, and returns what came of them in order.
func Each[T any](n, first int, try func(seed uint64) T) []T {
	out := make([]T, n)
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for worker := range workers {
		wait.Go(func() {
			for i := worker; i < n; i += workers {
				out[i] = try(uint64(first + i))
			}
		})
	}
	wait.Wait()
	return out
}

// Least is the number of n that happen with probability p, less some standard deviations
// (binomial).
func Least(n int, p, deviations float64) float64 {
	m := float64(n)
	return m*p - deviations*math.Sqrt(m*p*(1-p))
}
