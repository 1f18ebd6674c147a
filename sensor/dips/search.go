package dips

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// A seed is a place where the series lies below both its sides: three windows of equal width,
// the middle one at readings [from, from+width).
type seed struct {
	from, width int
	fall        float64 // below the lower side, in readings
	signal      float64 // fall in units of the noise at this width
	base        float64 // mean of the sides
}

// A search looks for places that lie below both sides, at every width.
type search struct {
	*series
	o    Options
	calm []float64
	sum  []float64 // of calm: sum[i] is that of the first i
	dark float64
	has  bool // dark is known
}

func newSearch(s *series, o Options) *search {
	f := &search{series: s, o: o, calm: s.calm(), sum: make([]float64, len(s.v)+1)}
	origin := f.calm[0] // sums about a reading keep the digits of its neighbours
	for i, v := range f.calm {
		f.sum[i+1] = f.sum[i] + (v - origin)
	}
	f.dark, f.has = o.Dark, o.Dark != 0 || o.Sense == Falling
	return f
}

// mean of calm over [a, b).
func (f *search) mean(a, b int) float64 { return f.calm[0] + (f.sum[b]-f.sum[a])/float64(b-a) }

// widths grow by 1.4: between two of them no passage loses more than a tenth of its signal.
func (f *search) widths() []int {
	most := min(float64(len(f.t))/5, f.o.Longest.Seconds()/f.cadence)
	least := max(leastReadings, f.o.Shortest.Seconds()/f.cadence/2) // a round dip is best seen at half its width
	var out []int
	for w := least; w <= most; w *= 1.4 {
		if k := int(w); len(out) == 0 || k > out[len(out)-1] {
			out = append(out, k)
		}
	}
	return out
}

// seeds are all places that stand out, the deepest first.
func (f *search) seeds(ctx context.Context) ([]seed, error) {
	var out []seed
	for _, w := range f.widths() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		out = append(out, f.scan(w)...)
	}
	slices.SortStableFunc(out, func(a, b seed) int {
		switch {
		case a.fall > b.fall:
			return -1
		case a.fall < b.fall:
			return 1
		}
		return 0
	})
	return out, nil
}

// A window is one place of the three windows.
type window struct {
	from       int
	fall, rise float64 // below the lower side; above the higher one
	base       float64
}

// scan slides windows of one width along the series.
func (f *search) scan(w int) []seed {
	apart, stride := max(1, w/2), max(1, w/8)
	places := make([]window, 0, max(0, (len(f.t)-3*w-2*apart)/stride+1))
	for a := w + apart; a+2*w+apart <= len(f.t); a += stride {
		left, mid, right := f.mean(a-apart-w, a-apart), f.mean(a, a+w), f.mean(a+w+apart, a+2*w+apart)
		places = append(places, window{from: a, fall: min(left, right) - mid, rise: mid - max(left, right), base: (left + right) / 2})
	}
	noise := f.noise(places, w, stride)
	var out []seed
	open := false // a run of places that stand out is one seed, its deepest place
	for i, p := range places {
		need := noise[i] * f.o.Threshold
		if !(p.fall > need && p.fall >= f.floor(p)) {
			open = false
			continue
		}
		s := seed{from: p.from, width: w, fall: p.fall, signal: p.fall / noise[i], base: p.base}
		switch {
		case !open || p.from-out[len(out)-1].from > 2*w:
			out, open = append(out, s), true
		case s.fall > out[len(out)-1].fall:
			out[len(out)-1] = s
		}
	}
	return out
}

// floor is the least fall that counts, whatever the noise.
func (f *search) floor(p window) float64 {
	least := f.o.MinDepth * f.light(p.base, p.fall)
	if f.jitter < f.step { // a drift across a rounding threshold falls by one step
		least = max(least, 2.5*f.step)
	}
	return least
}

// light is what a whole shadow would take from the reading: that to which a fall is compared.
func (f *search) light(base, fall float64) float64 {
	if f.has {
		return math.Abs(base - f.dark)
	}
	return math.Abs(base) + fall // rising, turned over: base is -b, least -(b+fall)
}

// upper is the quantile of rises that the noise is read from, and ofWhite what it is
// in white noise of unit scatter between two windows (from 2e6 draws, TestUpper).
const (
	upper   = 0.8
	ofWhite = 0.97
)

// noise is the scatter of the windows' falls near each place, from their rises: noise goes up
// as it goes down, and shadows only go down. A step goes one way on either side of it, and
// makes neither. It is the largest of three neighbouring stretches, and larger the fewer
// windows they hold, since a scatter of few is itself not well known.
func (f *search) noise(places []window, w, stride int) []float64 {
	block := max(200, 16*w/stride) // places, so sixteen windows or more
	var spread []float64
	for i := 0; i < len(places); i += block {
		var up []float64
		for _, p := range places[i:min(i+block, len(places))] {
			if p.rise > 0 {
				up = append(up, p.rise)
			}
		}
		q := 0.0
		if len(up) > 0 {
			slices.Sort(up)
			q = stat.Quantile(upper, stat.Empirical, up, nil) / ofWhite
		}
		spread = append(spread, q)
	}
	white := f.jitter * math.Sqrt(2/float64(w))
	out := make([]float64, len(places))
	for i := range out {
		b := i / block
		from, to := max(0, b-1), min(len(spread), b+2)
		near := min(to*block, len(places)) - from*block // places
		few := 6 * float64(2*w) / float64(near*stride)
		out[i] = max(white, slices.Max(spread[from:to])) * (1 + min(few, 12))
	}
	return out
}
