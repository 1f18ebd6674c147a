package campaign

import (
	"maps"
	"math"
	"slices"
)

// The quantiles about the median: what one deviation either way leaves out of a normal
// distribution.
const lowQuantile, highQuantile = 0.16, 0.84

// curve pools the light, each station with one voice in each range of obscuration, and
// looks who is off it.
func (r *Result) curve() {
	light := map[float64][]float64{}
	for i := range r.Stations {
		for _, b := range r.Stations[i].Summary.Light {
			light[b.Obscuration] = append(light[b.Obscuration], b.Light)
		}
	}
	usual := make(map[float64]CurvePoint, len(light))
	for _, at := range slices.Sorted(maps.Keys(light)) {
		v := light[at]
		p := CurvePoint{Obscuration: at, Median: median(v), Low: quantile(lowQuantile, v), High: quantile(highQuantile, v), N: len(v)}
		r.Curve = append(r.Curve, p)
		usual[at] = p
	}
	if len(r.Curve) == 0 {
		r.Untold["curve"] = "no station has light to show"
		return
	}
	r.offCurve(usual)
}

// leastCompared is how many stations a range of obscuration wants before one may be held against
// the rest.
const leastCompared = 3

// offCurve finds the stations whose light is not the others'.
func (r *Result) offCurve(usual map[float64]CurvePoint) {
	var who []int
	var all []measurement
	for i := range r.Stations {
		m := &r.Stations[i]
		var off []float64
		for _, b := range m.Summary.Light {
			if p := usual[b.Obscuration]; p.N >= leastCompared && p.Median > 0 && b.Light > 0 && b.Obscuration < 1 {
				off = append(off, math.Log(b.Light/p.Median))
			}
		}
		if len(off) < 2 {
			continue
		}
		m.Light = median(off)
		who = append(who, i)
		// How sure one station's median is: its own ranges' spread over the root of their number.
		all = append(all, measurement{m.Light, math.Max(leastLightU, spread(off, m.Light)/math.Sqrt(float64(len(off))))})
	}
	if len(all) < leastCompared {
		return
	}
	usually := weightedMedian(all)
	for j, z := range scores(all) {
		if math.Abs(z) > far {
			r.Outliers = append(r.Outliers, Outlier{Name: r.Stations[who[j]].Name, What: "light", Value: all[j].value, Usual: usually, Score: z, Unit: "logarithm"})
		}
	}
}

// leastLightU is what the clear sky's model leaves open at any station, natural logarithm.
// Common practice, no source.
const leastLightU = 0.02
