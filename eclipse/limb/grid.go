package limb

import (
	_ "embed"
	"fmt"
	"math"
	"sync"

	"example.org/noonfall/eclipse/limb/internal/packed"
)

//go:generate go run ./internal/genlimb -in LDEM_4.IMG -out limb.bin -marched testdata/marched.bin

//go:embed limb.bin
var file []byte

// points is how many position angles a profile has, counted from the Moon's axis, a
// fifth of a degree apart.
const points = 1800

// A grid holds the limb for every libration of a solar eclipse: profiles at the nodes,
// latitudes within longitudes.
type grid struct {
	packed.Header
	heights []byte
	// sin and cos of the position angles.
	sin, cos [points]float64
}

// load unpacks the embedded grid, once, in some milliseconds.
var load = sync.OnceValues(func() (*grid, error) { return read(file) })

func read(file []byte) (*grid, error) {
	h, heights, err := packed.Decode(file)
	if err != nil {
		return nil, fmt.Errorf("limb: %w", err)
	}
	if h.Points != points {
		return nil, fmt.Errorf("limb: %w: %d points, want %d", packed.ErrDamaged, h.Points, points)
	}
	g := &grid{Header: h, heights: heights}
	for i := range points {
		g.sin[i], g.cos[i] = math.Sincos(float64(i) * step * deg)
	}
	return g, nil
}

// step between position angles, degrees.
const step = 360. / points

const deg = math.Pi / 180 // radians in a degree

// radii writes the limb's distance from the centre of mass, km, at all position
// angles, for a libration in degrees: linear in both between the nodes, held at the
// grid's edge beyond it.
func (g *grid) radii(lon, lat float64, out *[points]float64) {
	i, x := cell(g.Lon, lon)
	j, y := cell(g.Lat, lat)
	at := func(i, j int) *[points]byte { return (*[points]byte)(g.heights[(i*g.Lat.Count+j)*points:]) }
	sw, nw, se, ne := at(i, j), at(i, j+1), at(i+1, j), at(i+1, j+1)
	a, b, c, d := g.Unit*(1-x)*(1-y), g.Unit*(1-x)*y, g.Unit*x*(1-y), g.Unit*x*y
	base := g.Radius + g.Lowest
	for k := range out {
		out[k] = base + a*float64(sw[k]) + b*float64(nw[k]) + c*float64(se[k]) + d*float64(ne[k])
	}
}

// cell is the node before a libration, and how far the libration is on the way to the
// next, in [0, 1]; NaN for what is no number.
func cell(a packed.Axis, v float64) (i int, part float64) {
	if math.IsNaN(v) {
		return 0, v
	}
	x := math.Max(0, math.Min(float64(a.Count-1), (v-a.First)/a.Step))
	i = min(int(x), a.Count-2)
	return i, x - float64(i)
}

// A Provenance says how the embedded limb was made, so that it can be made again.
type Provenance struct {
	Command string // to run in the package's folder
	SHA256  string // of the map that the command reads, hexadecimal
	Source  string // of the map
}

// Origin returns how the embedded limb was made. The error, which can only mean that
// the data were damaged before the program was built, is the same at every call.
func Origin() (Provenance, error) {
	g, err := load()
	if err != nil {
		return Provenance{}, err
	}
	return Provenance{Command: g.Command, SHA256: g.SHA256, Source: g.Source}, nil
}
