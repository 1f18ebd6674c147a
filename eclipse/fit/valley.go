package fit

import "math"

// deepest is the shift of least deviance within reach, the residual light moving
// along from where it was at the deepest so far, and leaves that light set.
func (p *problem) deepest(start, reach float64) (shift, least float64) {
	floor := p.floor
	least = math.Inf(1)
	of := func(at float64) float64 {
		p.setFloor(floor)
		d := p.floored(at)
		if d < least {
			shift, least, floor = at, d, p.floor
		}
		return d
	}
	narrow(of, start-reach, start, start+reach, of(start), reach/80)
	p.setFloor(floor)
	return shift, p.deviance(shift)
}

// lowest finds the shift of least deviance within reach of the start: a grid of so many
// steps either way first, since a cloudy log may have several valleys, then what narrow does,
// to a twentieth of the valley's width: a flank of totality missed by more would look like an
// edge of cloud.
func (p *problem) lowest(start, reach float64, steps int) (shift, least float64) {
	step := reach / float64(steps)
	deviances := make([]float64, 2*steps+1)
	deviances[steps] = p.deviance(start)
	best := steps
	for i := range deviances {
		if i != steps {
			deviances[i] = p.deviance(start + float64(i-steps)*step)
		}
		if deviances[i] < deviances[best] {
			best = i
		}
	}
	shift, least = start+float64(best-steps)*step, deviances[best]
	beside := min(deviances[max(0, best-1)], deviances[min(2*steps, best+1)]) // the best itself at an end
	part := 0.05 / math.Sqrt(math.Max(beside-least, 1))
	return narrow(p.deviance, shift-step, shift, shift+step, least, step*math.Max(0.001, math.Min(0.01, part)))
}

// narrow finds the lowest point of a valley between lo and hi to within tol, by
// parabolas through the three best points and golden sections where those do not
// help (R. P. Brent, Algorithms for Minimization without Derivatives (1973),
// chapter 5). The start at lies between, and of(at) is least.
func narrow(of func(float64) float64, lo, at, hi, least, tol float64) (float64, float64) {
	const golden = 0.3819660112501051
	second, third := at, at
	fSecond, fThird := least, least
	var step, before float64
	for range 40 {
		middle := (lo + hi) / 2
		if math.Abs(at-middle) <= 2*tol-(hi-lo)/2 {
			break
		}
		parabola := false
		if math.Abs(before) > tol {
			r := (at - second) * (least - fThird)
			q := (at - third) * (least - fSecond)
			p := (at-third)*q - (at-second)*r
			if q = 2 * (q - r); q > 0 {
				p = -p
			}
			q = math.Abs(q)
			was := before
			before = step
			if math.Abs(p) < math.Abs(q*was/2) && p > q*(lo-at) && p < q*(hi-at) {
				step = p / q
				parabola = true
				if u := at + step; u-lo < 2*tol || hi-u < 2*tol {
					step = math.Copysign(tol, middle-at)
				}
			}
		}
		if !parabola {
			if before = hi - at; at >= middle {
				before = lo - at
			}
			step = golden * before
		}
		u := at + step
		if math.Abs(step) < tol {
			u = at + math.Copysign(tol, step)
		}
		f := of(u)
		if f <= least {
			if u >= at {
				lo = at
			} else {
				hi = at
			}
			third, fThird = second, fSecond
			second, fSecond = at, least
			at, least = u, f
			continue
		}
		if u < at {
			lo = u
		} else {
			hi = u
		}
		if f <= fSecond || second == at {
			third, fThird = second, fSecond
			second, fSecond = u, f
		} else if f <= fThird || third == at || third == second {
			third, fThird = u, f
		}
	}
	return at, least
}
