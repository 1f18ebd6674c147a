package station

import (
	"math"
	"slices"
)

// The ranges of obscuration that a summary tells the light in: fiftieths, and finer where
// the light falls by the decade.
var obscurationEdges = func() (edges []float64) {
	for i := range 49 {
		edges = append(edges, float64(i)/50)
	}
	return append(edges, 0.97, 0.98, 0.985, 0.99, 0.995, 0.998, 1)
}()

// lightBins are the readings of the fit against obscuration, those under cloud or shade
// left out. Totality is a range of its own, of obscuration one.
func (r *Report) lightBins() []LightBin {
	inside := make([][]float64, len(obscurationEdges))
	o := r.Curve.Observer()
	cloud := 0
	for _, p := range r.Clock.Points {
		for cloud < len(r.Clock.Cloud) && r.Clock.Cloud[cloud].To.Before(p.UTC) {
			cloud++
		}
		if cloud < len(r.Clock.Cloud) && !p.UTC.Before(r.Clock.Cloud[cloud].From) {
			continue
		}
		t := o.Scale().TT(p.UTC)
		clear := r.Curve.ClearLux(t)
		covered := o.Aspect(t).Obscuration
		if !(clear > 0 && covered > 0 && p.Measured > 0) {
			continue
		}
		i := len(inside) - 1
		if covered < 1 {
			at, found := slices.BinarySearch(obscurationEdges, covered)
			if i = at - 1; found {
				i = at
			}
		}
		inside[i] = append(inside[i], p.Measured/clear)
	}
	out := []LightBin{}
	for i, light := range inside {
		if len(light) == 0 {
			continue
		}
		middle := 1.0
		if i+1 < len(obscurationEdges) {
			middle = (obscurationEdges[i] + obscurationEdges[i+1]) / 2
		}
		slices.Sort(light)
		median := (light[(len(light)-1)/2] + light[len(light)/2]) / 2
		if median = short(median); median > 0 && !math.IsInf(median, 0) {
			out = append(out, LightBin{Obscuration: short(middle), Light: median, N: len(light)})
		}
	}
	return out
}
