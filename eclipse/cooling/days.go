package cooling

import (
	"context"
	"math"

	"gonum.org/v1/gonum/floats"
)

// A weighed is one kind of day with what the readings say of it.
type weighed struct {
	rough
	place    place     // of that among the guesses
	base     float64   // logarithm of the likelihood without eclipse, but for a constant
	bound    float64   // likewise, with whatever answer the basis can make: none is likelier
	answers  []float64 // the basis, white, on axes of its own: a triangle, row by row
	readings []float64 // likewise, as far as those axes have them
	best     float64   // logarithm of the likelihood with the best answer of the nodes
	xy, xx   []float64 // of each node's answer: its product with the readings, and with itself
}

// A place is that of a kind of day among the guesses: of its bend, its gusts, their memory.
type place [3]int

func (p place) rough() rough { return rough{bends[p[0]], gusts[p[1]], memories[p[2]]} }

func (p place) exists() bool {
	return p[0] >= 0 && p[1] >= 0 && p[2] >= 0 && p[0] < len(bends) && p[1] < len(gusts) && p[2] < len(memories)
}

// beside are the places one step away.
func (p place) beside() (out []place) {
	for axis := range p {
		for _, step := range []int{-1, 1} {
			q := p
			if q[axis] += step; q.exists() {
				out = append(out, q)
			}
		}
	}
	return out
}

// lattice is every third of the gusts and every other memory.
func lattice() (out []place) {
	for b := range bends {
		for g := 0; g < len(gusts); g += 3 {
			for m := 0; m < len(memories); m += 2 {
				out = append(out, place{b, g, m})
			}
		}
	}
	return out
}

// weighed holds the kinds of day against the readings: those of the lattice, and from where it is
// likely on to what lies beside. What is never reached is hopeless.
func (b *balance) weighed(ctx context.Context) (out []weighed, err error) {
	const aside = 2 * hopeless // as unlikely as that, likely ones may lie beside it
	seen := map[place]bool{}
	top := math.Inf(-1)
	weigh := func(at place) error {
		if seen[at] {
			return nil
		}
		seen[at] = true
		w, err := b.day(at)
		if err != nil {
			return err
		}
		out, top = append(out, w), math.Max(top, w.bound)
		return ctx.Err()
	}
	for _, at := range lattice() {
		if err := weigh(at); err != nil {
			return nil, err
		}
	}
	for i := 0; i < len(out); i++ {
		if out[i].bound < top-aside {
			continue
		}
		for _, at := range out[i].place.beside() {
			if err := weigh(at); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

// day weighs one kind of day.
func (b *balance) day(at place) (weighed, error) {
	r, logDet, err := b.weigh(at.rough())
	if err != nil {
		return weighed{}, err
	}
	w := weighed{rough: at.rough(), place: at}
	last := r.N - 1 // the readings
	n := last - b.known
	w.answers = make([]float64, n*n)
	w.readings = make([]float64, n)
	left := r.Data[last*r.Stride+last]
	w.bound = -0.5*left*left - 0.5*logDet
	w.base = w.bound
	for i := range n {
		row := r.Data[(b.known+i)*r.Stride:][b.known:r.N]
		copy(w.answers[i*n:][i:n], row[i:])
		w.readings[i] = row[n]
		w.base -= 0.5 * row[n] * row[n]
	}
	return w, nil
}

// try weighs the answers of the nodes.
func (w *weighed) try(tr *tries) {
	n, wide := tr.coords.Dims()
	w.xy, w.xx = make([]float64, wide), make([]float64, wide)
	part := make([]float64, wide) // of every answer, on one of the axes
	for i := range n {
		clear(part)
		for k := i; k < n; k++ {
			floats.AddScaled(part, w.answers[i*n+k], tr.coords.RawRowView(k))
		}
		floats.AddScaled(w.xy, w.readings[i], part)
		for k, v := range part {
			w.xx[k] += v * v
		}
	}
	w.best = w.base
	for c, a := range w.xy {
		b := w.xx[c] + 1/(dropPrior*dropPrior)
		if v := w.base + 0.5*a*a/b; v > w.best { // and the logarithm only takes away from it
			w.best = math.Max(w.best, v-0.5*math.Log(b*dropPrior*dropPrior))
		}
	}
}
