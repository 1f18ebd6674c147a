package canon

import (
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
)

// footprint is where the line from the Sun through the Moon first meets the
// ellipsoid, as a site: the ellipsoid is a sphere once its axis is stretched.
func (d direct) footprint(hours float64) (sun.Site, bool) {
	const f = 1 / 298.257223563
	sunAt, moonAt, turn := d.at(hours)
	stretched := func(v vector) vector { return vector{v[0], v[1], v[2] / (1 - f)} }
	a, m := stretched(moonAt.minus(sunAt)), stretched(moonAt)
	a = a.times(1 / a.length())
	along := m.dot(a)
	q := along*along - m.dot(m) + 6378.137*6378.137
	if q < 0 {
		return sun.Site{}, false
	}
	p := m.minus(a.times(along + math.Sqrt(q)))
	return sun.Site{ // on the ellipsoid tan(geodetic) is tan(geocentric)/(1-f)^2, and once stretched 1/(1-f)
		Lat: math.Atan2(p[2], (1-f)*math.Hypot(p[0], p[1])) / deg,
		Lon: math.Remainder(math.Atan2(p[1], p[0])/deg-d.local(turn)+d.site.Lon, 360),
	}, true
}

// ground is the distance between two sites along the ellipsoid, km, to first order
// in its flattening (W. D. Lambert 1942, from memory; tens of metres at thousands of
// km, not for antipodes).
func ground(a, b sun.Site) float64 {
	const radius, f = 6378.137, 1 / 298.257223563
	reduced := func(lat float64) float64 {
		return math.Atan2((1-f)*math.Sin(lat*deg), math.Cos(lat*deg))
	}
	β1, β2 := reduced(a.Lat), reduced(b.Lat)
	u, v := vector{math.Cos(β1), 0, math.Sin(β1)}, vector{}
	sinλ, cosλ := math.Sincos((b.Lon - a.Lon) * deg)
	v = vector{math.Cos(β2) * cosλ, math.Cos(β2) * sinλ, math.Sin(β2)}
	σ := u.angle(v)
	if σ < 1e-9 {
		return radius * σ
	}
	P, Q := (β1+β2)/2, (β2-β1)/2
	sin2 := func(x float64) float64 { return math.Sin(x) * math.Sin(x) }
	X := (σ - math.Sin(σ)) * sin2(P) * (1 - sin2(Q)) / sin2FromCos(σ/2)
	Y := (σ + math.Sin(σ)) * (1 - sin2(P)) * sin2(Q) / sin2(σ/2)
	return radius * (σ - f/2*(X+Y))
}

// sin2FromCos is cos^2, which Lambert's first term has below the line.
func sin2FromCos(x float64) float64 { return math.Cos(x) * math.Cos(x) }

// central compares the distance to the central line with the least over its
// length, every half a minute and then by golden section.
func (y *tally) central(o *eclipse.Observer, d direct) {
	away := func(h float64) float64 {
		foot, ok := d.footprint(h)
		if !ok {
			return math.Inf(1)
		}
		return ground(d.site, foot)
	}
	const step = 1.0 / 120
	best, least := 0.0, math.Inf(1)
	ends := math.Inf(1) // the least distance to an end of the line, where it runs fastest
	for h := -reach; h <= reach; h += step {
		v, next := away(h), away(h+step)
		if v < least {
			best, least = h, v
		}
		if on, off := h, h+step; math.IsInf(v, 1) != math.IsInf(next, 1) {
			if math.IsInf(v, 1) {
				on, off = off, on
			}
			for math.Abs(on-off) > 1e-12 {
				if m := (on + off) / 2; math.IsInf(away(m), 1) {
					off = m
				} else {
					on = m
				}
			}
			ends = math.Min(ends, away(on))
		}
	}
	got := o.CentralLine()
	if math.IsInf(least, 1) == got.Exists {
		y.t.Errorf("%s: a central line %v, directly %v", y.where, got.Exists, !math.IsInf(least, 1))
	}
	if !got.Exists || math.IsInf(least, 1) {
		return
	}
	// The line may end in between, beyond which there is nothing: keep the best seen.
	ratio := (math.Sqrt(5) - 1) / 2
	for a, b := best-step, best+step; b-a > 1e-9; {
		p, q := b-ratio*(b-a), a+ratio*(b-a)
		vp, vq := away(p), away(q)
		least = math.Min(least, math.Min(vp, vq))
		if vp < vq || math.IsInf(vq, 1) && q > best {
			b = q
		} else {
			a = p
		}
	}
	least = math.Min(least, ends)
	y.off("distance to the central line, km, to 100 km", zeroUnless(least < 100, got.Km-least), 0.2+0.005*least)
	y.off("distance to the central line, per cent", 100*(got.Km-least)/math.Max(least, 100), 0.5)
}

func zeroUnless(ok bool, v float64) float64 {
	if ok {
		return v
	}
	return 0
}
