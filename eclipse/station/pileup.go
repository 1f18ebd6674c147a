package station

import "math"

// A pileUp is an end of the readings at which far more of them lie than the light
// can bring there by itself.
type pileUp struct {
	from  float64 // the end's reading, and those on its side, are in it
	count int
	exact bool // all of it is one number
}

const (
	// pileLeast is the least number of samples that make a pile. (Common practice, no
	// source.)
	pileLeast = 10
	// pileFactor is by how much a pile outnumbers its neighbour. Light that turns
	// smoothly at the end, as at noon, is within a step of it for 1/(sqrt 2 - 1) = 2.4
	// times as long as it is within the next; double that, and it is no turn.
	pileFactor = 5
	// pileNeighbours are the numbers next to the end that are looked at.
	pileNeighbours = 10
	// pileWidth is how wide a ceiling may be that shakes, as a part of its reading.
	// (Common practice, no source.)
	pileWidth = 0.003
	// pileNarrow is the most that it may be of all the readings' range. (Common practice,
	// no source.)
	pileNarrow = 0.02
)

// pileAtTop finds a pile at the upper end of sorted readings; step is the least
// difference between two. Turned upside down it serves the lower end.
func pileAtTop(sorted []float64, step float64) (pileUp, bool) {
	n := len(sorted)
	if n == 0 || sorted[0] == sorted[n-1] {
		return pileUp{}, false // one number throughout: flat, for all one knows
	}
	top := sorted[n-1]
	end, next := 0, 0 // samples at the top, and the most at any of its neighbours
	run, numbers := 0, 0
	for i := n - 1; i >= 0; i-- {
		if i < n-1 && sorted[i] != sorted[i+1] {
			if numbers == 0 {
				end = run
			} else {
				next = max(next, run)
			}
			run = 0
			if numbers++; numbers > pileNeighbours {
				break
			}
		}
		run++
	}
	if numbers <= pileNeighbours { // the last run was not closed
		next = max(next, run)
	}
	if end >= pileLeast && end > pileFactor*next {
		return pileUp{from: top, count: end, exact: true}, true
	}
	// A rail that shakes by a count or two.
	w := math.Max(pileWidth*math.Abs(top), 1.5*step)
	if w > pileNarrow*(top-sorted[0]) {
		return pileUp{}, false // not an end, but much of all that there is
	}
	end, next = 0, 0
	for i := n - 1; i >= 0 && sorted[i] > top-2*w; i-- {
		if sorted[i] > top-w {
			end++
		} else {
			next++
		}
	}
	if end >= 2*pileLeast && end > pileFactor*max(1, next) {
		return pileUp{from: sorted[n-end], count: end}, true
	}
	return pileUp{}, false
}
