package limb

import (
	"math"
	"sync"
)

// meanFigure is the figure over all librations, and the radii of smooth Moons about its
// centre that make contacts, in the mean over all directions, when the real one does.
type meanFigure struct {
	Figure
	// Total is that radius for second and third contact of a total eclipse in which the
	// Moon is three hundredths larger than the Sun, where the deepest valley counts, and
	// Annular for an annular one in which it is five hundredths smaller, where the
	// highest peak does, km. It depends on that: the less the two differ, the more of
	// the limb has a say.
	Total, Annular float64
	// TotalU and AnnularU are the standard deviations about that from place to place, km.
	TotalU, AnnularU float64
}

const (
	totalExcess   = 0.03
	annularExcess = -0.05
)

// means are those over the librations of the grid, computed once.
var means = sync.OnceValues(func() (meanFigure, error) {
	g, err := load()
	if err != nil {
		return meanFigure{}, err
	}
	var out meanFigure
	var total, annular spread
	n := float64(g.Lon.Count * g.Lat.Count)
	for i := range g.Lon.Count {
		for j := range g.Lat.Count {
			var radii [points]float64
			g.radii(g.Lon.At(i), g.Lat.At(j), &radii)
			f := g.figure(&radii)
			out.East += f.East / n
			out.North += f.North / n
			out.Radius += f.Radius / n
			out.ReliefU += f.ReliefU * f.ReliefU / n
		}
	}
	out.ReliefU = math.Sqrt(out.ReliefU)
	for i := range g.Lon.Count {
		for j := range g.Lat.Count {
			var radii [points]float64
			g.radii(g.Lon.At(i), g.Lat.At(j), &radii)
			for k := range radii {
				radii[k] -= out.East*g.sin[k] + out.North*g.cos[k]
			}
			for at := 0; at < points; at += 50 {
				total.add(g.touch(&radii, at, totalExcess*g.Radius, -1))
				annular.add(g.touch(&radii, at, -annularExcess*g.Radius, 1))
			}
		}
	}
	out.Total, out.TotalU = total.moments()
	out.Annular, out.AnnularU = annular.moments()
	return out, nil
})

// touch is the radius of the smooth Moon that touches the Sun's edge when the limb
// does, at a position angle, when the two radii differ by gap: the Sun's edge stands
// off that Moon by gap (1 - cos) beside the touching point. Side is -1 for valleys and
// +1 for peaks.
func (g *grid) touch(radii *[points]float64, at int, gap, side float64) float64 {
	best := math.Inf(-1)
	const reach = points / 9 // beyond 40 degrees the gap is 12 km and more, wider than the limb is rough
	for k := -reach; k <= reach; k++ {
		v := side*radii[(at+k+points)%points] - gap*(1-g.cos[(k+points)%points])
		best = math.Max(best, v)
	}
	return side * best
}

// A spread sums up numbers.
type spread struct{ n, sum, squares float64 }

func (s *spread) add(v float64) {
	v -= 1737 // so that squares keep their digits
	s.n, s.sum, s.squares = s.n+1, s.sum+v, s.squares+v*v
}

func (s *spread) moments() (mean, deviation float64) {
	mean = s.sum / s.n
	return mean + 1737, math.Sqrt(s.squares/s.n - mean*mean)
}
