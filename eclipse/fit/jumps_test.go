package fit

import (
	"slices"
	"testing"
)

func jumpProblem(at []float64, jumps ...int) *problem {
	p := &problem{t: at, jump: make([]float64, len(at))}
	for _, k := range jumps {
		p.jump[k] = 1
	}
	return p
}

func everyTen(n int) []float64 {
	out := make([]float64, n)
	for k := range out {
		out[k] = 10 * float64(k)
	}
	return out
}

// An edge that takes several readings is one event; two shadows' edges close
// together are weather.
func TestWeatherIsNotFreed(t *testing.T) {
	for _, tt := range []struct {
		name  string
		jumps []int
		kept  bool
	}{
		{"one edge", []int{50}, true},
		{"one slow edge", []int{50, 51, 52, 53}, true},
		{"in and out of one shadow", []int{40, 55}, true},
		{"three edges in ten minutes", []int{40, 50, 60}, false},
	} {
		p := jumpProblem(everyTen(120), tt.jumps...)
		p.isolate()
		got := slices.ContainsFunc(p.jump, func(j float64) bool { return j > 0 })
		if got != tt.kept {
			t.Errorf("%s: freed %v, want %v", tt.name, got, tt.kept)
		}
	}
}

// Edges far apart do not make weather of one another.
func TestDistantEdgesStayEvents(t *testing.T) {
	p := jumpProblem(everyTen(400), 50, 150, 250, 350)
	p.isolate()
	for _, k := range []int{50, 150, 250, 350} {
		if p.jump[k] == 0 {
			t.Errorf("the edge at %d is gone", k)
		}
	}
}

func TestEdgesAreSoft(t *testing.T) {
	p := jumpProblem(everyTen(20), 10)
	p.blur()
	for k, want := range map[int]float64{5: 0, 6: 0.25, 9: 0.25, 10: 1, 11: 0.25, 14: 0.25, 15: 0} {
		if p.jump[k] != want {
			t.Errorf("reading %d is freed by %g, want %g", k, p.jump[k], want)
		}
	}
}
