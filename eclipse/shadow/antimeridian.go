package shadow

import (
	"math"
	"slices"

	"example.org/noonfall/sun"
)

// A position is longitude and latitude, degrees, in the order of RFC 7946.
type position [2]float64

// smooth turns sites into positions and puts more of them where longitude runs
// fast, near a pole: a map draws straight lines in longitude and latitude.
func smooth(sites []sun.Site, closed bool) (out []position) {
	n := len(sites)
	for i, s := range sites {
		out = append(out, position{s.Lon, s.Lat})
		if i == n-1 && !closed {
			break
		}
		out = between(out, s, sites[(i+1)%n], 12)
	}
	return out
}

// between adds the middle of a step that is wide in longitude and not short, and
// those of its halves.
func between(out []position, a, b sun.Site, depth int) []position {
	const wide, short = 4, 0.2 // degrees, km
	if depth == 0 || math.Abs(math.Remainder(b.Lon-a.Lon, 360)) < wide || distance(a, b) < short {
		return out
	}
	up := func(s sun.Site) (x, y, z float64) {
		sinφ, cosφ := math.Sincos(s.Lat * deg)
		sinλ, cosλ := math.Sincos(s.Lon * deg)
		return cosφ * cosλ, cosφ * sinλ, sinφ
	}
	ax, ay, az := up(a)
	bx, by, bz := up(b)
	x, y, z := ax+bx, ay+by, az+bz
	mid := sun.Site{Lat: math.Atan2(z, math.Hypot(x, y)) / deg, Lon: math.Atan2(y, x) / deg}
	out = between(out, a, mid, depth-1)
	out = append(out, position{mid.Lon, mid.Lat})
	return between(out, mid, b, depth-1)
}

// unroll makes longitudes continuous from the first; it returns by how much they
// differ after the way back to the start of a ring: 0, or a turn about a pole.
func unroll(ring []position) (out []position, turn float64) {
	for i, p := range ring {
		if i > 0 {
			last := out[i-1][0]
			p[0] = last + math.Remainder(p[0]-last, 360)
		}
		out = append(out, p)
	}
	last := out[len(out)-1][0]
	return out, 360 * math.Round((last+math.Remainder(out[0][0]-last, 360)-out[0][0])/360)
}

// splitLine cuts a line where it crosses longitude 180.
func splitLine(line []position) (out [][]position) {
	if len(line) == 0 {
		return nil
	}
	flat, _ := unroll(line)
	turn := math.Floor((flat[0][0] + 180) / 360)
	part := []position{shift(flat[0], -360*turn)}
	for i := 1; i < len(flat); i++ {
		for now := math.Floor((flat[i][0] + 180) / 360); now != turn; {
			step := math.Copysign(1, now-turn)
			edge := 360*turn + 180*step
			at := position{edge, latitudeAt(flat[i-1], flat[i], edge)}
			out = append(out, append(part, shift(at, -360*turn)))
			turn += step
			part = []position{shift(at, -360*turn)}
		}
		part = append(part, shift(flat[i], -360*turn))
	}
	return append(out, part)
}

func shift(p position, by float64) position { return position{p[0] + by, p[1]} }

func latitudeAt(a, b position, lon float64) float64 {
	return a[1] + (b[1]-a[1])*(lon-a[0])/(b[0]-a[0])
}

// splitRing cuts a ring into rings with longitudes in [-180, 180], wound
// anticlockwise. One that goes about a pole gets that pole as an edge of the map.
func splitRing(ring []position) (out [][]position) {
	if len(ring) < 3 {
		return nil
	}
	flat, turn := unroll(ring)
	flat = unfold(flat)
	if turn != 0 {
		flat, _ = unroll(seam(flat, turn))
		pole := math.Copysign(90, meanLatitude(ring))
		last := flat[len(flat)-1][0]
		flat = append(flat, position{last, pole}, position{flat[0][0], pole})
	}
	west, east := flat[0][0], flat[0][0]
	for _, p := range flat {
		west, east = min(west, p[0]), max(east, p[0])
	}
	rest := [][]position{flat}
	for k := math.Floor((west + 180) / 360); ; k++ {
		edge := 180 + 360*k
		var here, beyond [][]position
		for _, r := range rest {
			a, b := cutRing(r, edge)
			here, beyond = append(here, a...), append(beyond, b...)
		}
		for _, r := range here {
			for i := range r {
				r[i] = shift(r[i], -360*k)
			}
			if r = wind(r); len(r) >= 3 {
				out = append(out, r)
			}
		}
		if rest = beyond; len(rest) == 0 || edge > east {
			return out
		}
	}
}

func meanLatitude(ring []position) (sum float64) {
	for _, p := range ring {
		sum += p[1]
	}
	return sum / float64(len(ring))
}

// unfold cuts off folds a few points long, where the path's end runs along the
// parallel of the midnight Sun and some kilometres back on itself, or a limit's
// last straight step overshoots the horizon by metres. The ring does not begin there.
func unfold(ring []position) []position {
	const reach = 12
	for i := 0; i+3 < len(ring); i++ {
		for j := min(i+reach, len(ring)-2); j >= i+2; j-- {
			if at, ok := meet(ring[i], ring[i+1], ring[j], ring[j+1]); ok {
				ring = slices.Replace(ring, i+1, j+1, at)
				break
			}
		}
	}
	return ring
}

// meet is where two steps cross.
func meet(a, b, c, d position) (position, bool) {
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	det := ux*vy - uy*vx
	if det == 0 {
		return position{}, false
	}
	wx, wy := c[0]-a[0], c[1]-a[1]
	s, t := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
	if !(s >= 0 && s <= 1 && t >= 0 && t <= 1) {
		return position{}, false
	}
	return position{a[0] + s*ux, a[1] + s*uy}, true
}

// seam lets a ring about a pole begin and end on longitude 180, at the crossing
// nearest to the pole.
func seam(flat []position, turn float64) []position {
	n := len(flat)
	best, at := -1, position{}
	for i, a := range flat {
		b := flat[(i+1)%n]
		if i == n-1 {
			b[0] += turn
		}
		ka, kb := math.Floor((a[0]+180)/360), math.Floor((b[0]+180)/360)
		if ka == kb {
			continue
		}
		edge := 360*max(ka, kb) - 180
		if c := (position{edge, latitudeAt(a, b, edge)}); best < 0 || math.Abs(c[1]) > math.Abs(at[1]) {
			best, at = i, c
		}
	}
	out := []position{at}
	for i := range n {
		out = append(out, flat[(best+1+i)%n])
	}
	out, _ = unroll(out) // the sides that were turned back
	return append(out, position{at[0] + turn, at[1]})
}

// cutRing cuts a simple ring by a meridian. Along the meridian the crossings bound
// inside and outside by turns, so that the first belongs with the second, the
// third with the fourth; a piece follows the ring to a crossing and goes on from
// its fellow.
func cutRing(ring []position, edge float64) (left, right [][]position) {
	n := len(ring)
	type crossing struct {
		at     position
		next   int  // ring index after it
		toLeft bool // the ring enters the left side there
		fellow int
	}
	var all []crossing
	for i, a := range ring {
		b := ring[(i+1)%n]
		if (a[0] <= edge) != (b[0] <= edge) {
			all = append(all, crossing{position{edge, latitudeAt(a, b, edge)}, (i + 1) % n, b[0] <= edge, -1})
		}
	}
	if len(all) == 0 {
		if ring[0][0] <= edge {
			return [][]position{ring}, nil
		}
		return nil, [][]position{ring}
	}
	byLatitude := make([]int, len(all))
	for i := range byLatitude {
		byLatitude[i] = i
	}
	slices.SortStableFunc(byLatitude, func(a, b int) int {
		if all[a].at[1] < all[b].at[1] {
			return -1
		}
		return 1
	})
	for i := 0; i+1 < len(byLatitude); i += 2 {
		a, b := byLatitude[i], byLatitude[i+1]
		all[a].fellow, all[b].fellow = b, a
	}
	done := make([]bool, len(all))
	for first := range all {
		if done[first] {
			continue
		}
		var piece []position
		for c, count := first, 0; !done[c] && count <= len(all); count++ {
			done[c] = true
			piece = append(piece, all[c].at)
			// Follow the ring to its next crossing, the next in order of it.
			end := (c + 1) % len(all)
			for i := all[c].next; i != all[end].next; i = (i + 1) % n {
				piece = append(piece, ring[i])
			}
			piece = append(piece, all[end].at)
			c = all[end].fellow
		}
		if all[first].toLeft {
			left = append(left, piece)
		} else {
			right = append(right, piece)
		}
	}
	return left, right
}

// wind rounds a ring to 1e-6 degrees, a decimetre, drops repeated points and turns
// it anticlockwise.
func wind(ring []position) (out []position) {
	for _, p := range ring {
		p = rounded(p)
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	var area float64
	for i, a := range out {
		b := out[(i+1)%len(out)]
		area += (a[0] - out[0][0]) * (b[1] - out[0][1])
		area -= (b[0] - out[0][0]) * (a[1] - out[0][1])
	}
	if area == 0 {
		return nil // a sliver along the cut
	}
	if area < 0 {
		slices.Reverse(out)
	}
	return out
}

func rounded(p position) position {
	return position{math.Round(p[0]*1e6) / 1e6, math.Round(p[1]*1e6) / 1e6}
}
