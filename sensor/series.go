package sensor

import (
	"iter"
	"math"
)

// A Series is one of the E series of preferred numbers (IEC 60063:2015), in which
// resistors are sold: so many values a decade, at about equal ratios. Its number is
// how many. Any other number is no series: its methods return NaN, and Range
// is empty.
//
// Values are rounded from their decimal digits once, so that E12's 4700 equals the
// constant 4700 exactly. They reach from 1e-12 to 1e12, in any unit.
type Series int

// The series of IEC 60063. Those up to E24 have two figures and a history: they are
// not quite the rounded powers. From E48 on there are three.
const (
	E3   Series = 3
	E6   Series = 6
	E12  Series = 12
	E24  Series = 24
	E48  Series = 48
	E96  Series = 96
	E192 Series = 192
)

const leastPreferred, greatestPreferred = 1e-12, 1e12 // every part there is, in its own unit; common practice, no source

// e24 is E24 in hundredths; E12, E6 and E3 are every second, fourth and eighth of
// it (IEC 60063:2015).
var e24 = [24]int{
	100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300,
	330, 360, 390, 430, 470, 510, 560, 620, 680, 750, 820, 910,
}

// Valid says whether s is one of the seven series.
func (s Series) Valid() bool {
	switch s {
	case E3, E6, E12, E24, E48, E96, E192:
		return true
	}
	return false
}

// Down is the greatest preferred number that is not above x; NaN where there is
// none, where x is not within 1e-12 to 1e12, or s is no series.
func (s Series) Down(x float64) float64 {
	if !s.reaches(x) {
		return math.NaN()
	}
	return s.at(s.below(x))
}

// Up is the least preferred number that is not below x; NaN as for Down.
func (s Series) Up(x float64) float64 {
	down := s.Down(x)
	if down == x || math.IsNaN(down) {
		return down
	}
	return s.at(s.below(x) + 1)
}

// Nearest is the preferred number at the least ratio from x, as tolerances are
// ratios too; NaN as for Down.
func (s Series) Nearest(x float64) float64 {
	down, up := s.Down(x), s.Up(x)
	if x/down <= up/x {
		return down
	}
	return up
}

// Range returns an iterator over the preferred numbers from low to high, both
// included, that rise. What lies outside 1e-12 to 1e12 is left out; a NaN makes it empty.
func (s Series) Range(low, high float64) iter.Seq[float64] {
	low, high = math.Max(low, leastPreferred), math.Min(high, greatestPreferred)
	return func(yield func(float64) bool) {
		if !s.reaches(low) || !s.reaches(high) {
			return
		}
		for i := s.below(low); ; i++ {
			v := s.at(i)
			if v > high || v >= low && !yield(v) {
				return
			}
		}
	}
}

func (s Series) reaches(x float64) bool {
	return s.Valid() && x >= leastPreferred && x <= greatestPreferred
}

// at is the i-th preferred number, counted from 1 upwards and downwards. Powers of
// ten up to 22 are exact, so that one rounding is all there is.
func (s Series) at(i int) float64 {
	n := int(s)
	decade := i / n
	if i%n < 0 {
		decade--
	}
	digits := float64(s.hundredths(i - decade*n))
	if decade >= 2 {
		return digits * math.Pow10(decade-2)
	}
	return digits / math.Pow10(2-decade)
}

// hundredths is member i of the first decade. From E48 on it is 100 10^(i/n)
// rounded, but for one 919 that the standard prints as 920.
func (s Series) hundredths(i int) int {
	if s <= E24 {
		return e24[i*int(E24)/int(s)]
	}
	v := int(math.Round(100 * math.Pow(10, float64(i)/float64(s))))
	if v == 919 {
		v = 920
	}
	return v
}

// below is the place of Down(x). The logarithm is right to one place; the
// historic values stray from it by no more.
func (s Series) below(x float64) int {
	i := int(math.Floor(float64(s) * math.Log10(x)))
	for s.at(i) > x {
		i--
	}
	for s.at(i+1) <= x {
		i++
	}
	return i
}
