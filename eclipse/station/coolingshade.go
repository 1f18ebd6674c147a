package station

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/sun"
)

// A ShadeSpan is a time of day at which the control day was dimmer than the hours
// around it, laid on the eclipse's day. Of one day alone it may have been a cloud.
type ShadeSpan struct {
	From, To time.Time // UTC, with the clock put right
	Depth    float64   // how much of the light was missing, 0 to 1
	// Again says that the eclipse's own log is dim then, too: a wall's or a tree's
	// shade, which comes back.
	Again bool
}

// Bounds of shade on a control day. Common practice, no source.
const (
	shadeMinute = 60   // s, width of a mean
	shadeAround = 45   // minutes either way for the usual light
	shadeLoss   = 0.25 // in the logarithm
	shadeLeast  = 4    // minutes
	shadeGap    = 3    // minutes that do not end a shade
	shadeHeight = 5.0  // degrees of the Sun; under it light is mostly the sky's
	shadeDay    = 24 * time.Hour
)

// shade compares the control day's light with the clear sky's course, and the dim
// spans with those of the eclipse's own day.
func (r *Report) shade(samples []fit.Sample) error {
	if len(samples) == 0 || r.Curve == nil || r.Clock == nil {
		return nil
	}
	exponent := r.Clock.Response.Exponent
	if !(math.Abs(exponent) > 0.05) {
		return nil // a law without a power says nothing about ratios
	}
	minutes, err := r.clarity(samples, exponent)
	if err != nil {
		return err
	}
	for _, m := range dim(minutes) {
		for _, c := range r.Clock.Cloud {
			m.Again = m.Again || c.From.Before(m.To) && m.From.Before(c.To)
		}
		r.Shade = append(r.Shade, m)
		if m.Again {
			r.warn("shade from %s to %s UTC, on the control day too: a wall or a tree, and no cloud", m.From.Format("15:04"), m.To.Format("15:04"))
		}
	}
	return nil
}

// A seen is a mean of the control day's light against the clear sky, logarithm.
type seen struct {
	at time.Time // on the eclipse's day
	v  float64
}

func (r *Report) clarity(samples []fit.Sample, exponent float64) ([]seen, error) {
	scale := r.scale()
	o, err := sun.NewObserver(r.Station.Site.Sun(), scale)
	if err != nil {
		return nil, err
	}
	ahead := time.Duration(r.Clock.Offset * 1e9)
	sums, counts := map[int64]float64{}, map[int64]int{}
	minute, high, clear := int64(math.MinInt64), false, 0.0 // the sky in the middle of a minute is its mean
	for _, s := range samples {
		at := s.Time.Add(-ahead)
		days := at.Sub(r.Circumstances.Max.UTC).Round(shadeDay)
		if days == 0 || !(s.Value > 0) || s.Status != 0 {
			continue // the eclipse's own day is no control
		}
		if m := at.Unix() / shadeMinute; m != minute {
			h := o.Position(scale.TT(time.Unix(m*shadeMinute+shadeMinute/2, 0)))
			minute, high, clear = m, h.Alt >= shadeHeight, math.Log(sun.Sky{}.Illuminance(h.Alt, h.Distance).Global)
		}
		if !high {
			continue
		}
		v := math.Log(s.Value)/exponent - clear
		k := at.Add(-days).Unix() / shadeMinute
		sums[k] += v
		counts[k]++
	}
	out := make([]seen, 0, len(sums))
	for k, v := range sums {
		out = append(out, seen{time.Unix(k*shadeMinute, 0).UTC(), v / float64(counts[k])})
	}
	slices.SortFunc(out, func(a, b seen) int { return a.at.Compare(b.at) })
	return out, nil
}

// dim finds the spans below the usual light, which is the upper third's edge of the
// hour and a half around.
func dim(m []seen) (out []ShadeSpan) {
	var open *ShadeSpan
	var loss []float64
	end := func() {
		if open != nil && open.To.Sub(open.From) >= shadeLeast*time.Minute {
			open.Depth = 1 - math.Exp(-median(loss))
			out = append(out, *open)
		}
		open, loss = nil, nil
	}
	for i, q := range m {
		around := []float64{}
		for j := max(0, i-shadeAround); j < min(len(m), i+shadeAround+1); j++ {
			around = append(around, m[j].v)
		}
		slices.Sort(around)
		less := ranked(around, 0.67) - q.v
		if open != nil && q.at.Sub(open.To) > shadeGap*time.Minute {
			end()
		}
		if less < shadeLoss {
			continue
		}
		if open == nil {
			open = &ShadeSpan{From: q.at}
		}
		open.To = q.at.Add(time.Minute)
		loss = append(loss, less)
	}
	end()
	return out
}
