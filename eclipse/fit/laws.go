package fit

import (
	"math"

	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/sun/timescale"
)

// The laws whose differences from the curve's own span what is not known of the
// disc that a sensor sees. Colour: at 445 nm it is darker towards the limb than at
// the 550 nm of common sensors; a longer wavelength is the same difference with
// the other sign. Kind: what a power of mu and a polynomial, fitted to the same
// measurements at the same colour, make of the last hundredth of the disc, which
// nobody has measured: by the last ten seconds they are 0.2 apart in the logarithm.
const (
	blueNM = 445.125
	edgeNM = 550.0
)

// A lawTable is the logarithm of the light under either of those laws over the
// curve's own. It goes by the curve's light alone, before and after maximum alike:
// the Moon's apparent size, which tells them apart, hardly changes in between.
type lawTable []lawLight // at steps of lawStep in the root of minus the logarithm of the flux

type lawLight struct{ blue, edge float64 }

const (
	lawStep  = 0.01
	lawDeep  = 5.0 // the root for a flux of 1e-11
	lawTimes = 300
)

func newLawTable(c Curve, c1, end float64, max timescale.TT) (lawTable, error) {
	blue, err := disc.NeckelLabs(blueNM)
	if err != nil {
		return nil, err
	}
	edge, err := disc.HestrofferMagnan(edgeNM)
	if err != nil {
		return nil, err
	}
	own := c.Options().Law
	var out lawTable
	var u, b, e float64 // of the instant before
	for i := lawTimes; i > 0; i-- {
		// Closer and closer to where the light is least, as its logarithm runs.
		s := float64(i) / lawTimes
		a := c.Observer().Aspect(max + timescale.TT(end-(end-c1)*s*s*s*s))
		p, z := a.Ratio, a.Separation/a.SunRadius
		f := own.Flux(p, z)
		if !(f > 0 && f < 1) {
			continue
		}
		root := math.Sqrt(-math.Log(f))
		toBlue, toEdge := math.Log(blue.Flux(p, z)/f), math.Log(edge.Flux(p, z)/f)
		for next := lawStep * float64(len(out)); next <= root && next <= lawDeep; next += lawStep {
			part := (next - u) / (root - u)
			out = append(out, lawLight{b + part*(toBlue-b), e + part*(toEdge-e)})
		}
		if root > u {
			u, b, e = root, toBlue, toEdge
		}
	}
	// Once more, so that the deepest instant has a step on either side.
	return append(out, lawLight{b, e}, lawLight{b, e}), nil
}

// at reads both differences for the logarithm of a flux, which is not positive. Where
// nothing is left of the Sun there is nothing to add.
func (t lawTable) at(logFlux float64) (blue, edge float64) {
	x := math.Sqrt(-logFlux) / lawStep
	last := len(t) - 1
	switch {
	case x < float64(last):
		i := int(x)
		f := x - float64(i)
		a, b := &t[i], &t[i+1]
		return a.blue + f*(b.blue-a.blue), a.edge + f*(b.edge-a.edge)
	case math.IsInf(x, 1):
		return 0, 0
	}
	return t[last].blue, t[last].edge
}
