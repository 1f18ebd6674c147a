package fit

import (
	"math"
	"slices"
)

// settleJumps frees the level at what the walk cannot follow, until it follows
// all the rest. It begins anew each time: what a worse shift took for a jump may
// have been the eclipse.
func (p *problem) settleJumps(shift float64) {
	clear(p.jump)
	for range 4 {
		p.use(p.temper)
		p.deviance(shift)
		if p.leap() == 0 {
			break
		}
	}
	if !slices.ContainsFunc(p.jump, func(j float64) bool { return j > 0 }) {
		return
	}
	p.isolate()
	p.blur()
	p.use(p.temper)
	p.deviance(shift)
}

// leap frees the level at every reading that the walk cannot follow, by more than four
// and a half deviations of the innovation, which a white error makes once in a hundred and
// fifty thousand, and by one per cent, for what is less is no edge: the readings' own
// deviations are known to a fifth, and a false edge frees minutes. A shadow's edge is one
// such step, a spike is two. It returns how many it found.
func (p *problem) leap() int {
	const limit, least = 4.5, 0.01 // deviations; natural logarithm
	n := 0
	for k, z := range p.reg.innovations() {
		if e := z / p.filter.gains[k].scale; math.Abs(z) > limit && math.Abs(e) > least {
			p.jump[k] += e * e
			n++
		}
	}
	return n
}

// isolate takes back the jumps that stand among others. One edge of a shadow is
// an event, however many readings it takes; three in ten minutes are weather, which
// roughness weighs as a whole. Freeing each of them would leave just those steps
// that happen to agree with the shift of the moment.
func (p *problem) isolate() {
	const side, most = 300.0, 2
	events := make([]int, len(p.jump)) // how many began up to each reading
	n, last := 0, math.Inf(-1)
	for k, j := range p.jump {
		if j > 0 {
			if p.t[k]-last > edgeLength {
				n++
			}
			last = p.t[k]
		}
		events[k] = n
	}
	weather := slices.Clone(p.jump)
	for k, j := range p.jump {
		lo, _ := slices.BinarySearch(p.t, p.t[k]-side)
		hi, _ := slices.BinarySearch(p.t, p.t[k]+side)
		around := events[hi-1] - events[lo]
		if p.jump[lo] > 0 {
			around++
		}
		if j > 0 && around > most {
			weather[k] = 0
		}
	}
	p.jump = weather
}

// blur frees the readings beside an edge as well: an edge is soft, and what it
// leaves in its neighbours is no longer an accident but looks like the eclipse. A slow
// edge is felt as far beside it as it is long.
func (p *problem) blur() {
	soft := slices.Clone(p.jump)
	for first := 0; first < len(p.jump); first++ {
		if p.jump[first] == 0 {
			continue
		}
		last, most := first, p.jump[first]
		for k := first + 1; k < len(p.jump) && p.t[k]-p.t[last] <= edgeLength; k++ {
			if p.jump[k] > 0 {
				last, most = k, math.Max(most, p.jump[k])
			}
		}
		reach := math.Max(edgeBlur, (p.t[last]-p.t[first])/2)
		for k := range soft {
			if k >= first-1 && k <= last+1 || p.t[k] >= p.t[first]-reach && p.t[k] <= p.t[last]+reach {
				soft[k] = math.Max(soft[k], most/4)
			}
		}
		first = last
	}
	p.jump = soft
}

// edgeBlur is how far an edge is felt beside what shows of it, s: the lit flank of a cloud
// brightens what it does not shade, for a minute or so. Common practice,
// no source.
const edgeBlur = 45.0

// edgeLength is how long a shadow's edge may take to cross a sensor, s: a cloud of
// a kilometre's blur in a moderate wind. Common practice, no source.
const edgeLength = 60.0
