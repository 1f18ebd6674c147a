package rehearsal

import (
	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/disc"
	"example.org/noonfall/eclipse/limb"
)

// A Colour is a part of the Sun's light and the limb darkening that it has.
type Colour struct {
	Law  disc.Law `json:"law"`  // how that part darkens towards the Sun's edge
	Part float64  `json:"part"` // of all the light that the sensor sees; all parts make 1
}

// newLimb is the Sun as this log's sensor sees it. Sensors differ in colour, so a
// wavelength is drawn, and one of two published laws, or a mixture of blue and red.
func newLimb(d dice) ([]Colour, error) {
	kind := d.IntN(3)
	part := 1.0
	if kind == 2 {
		part = d.between(0.2, 0.8)
	}
	var out []Colour
	for _, row := range []struct {
		kind     int
		law      func(nm float64) (disc.Law, error)
		from, to float64 // nm
		part     float64
	}{
		{0, disc.HestrofferMagnan, 430, 750, 1},
		{1, disc.NeckelLabs, 440, 750, 1},
		{2, disc.HestrofferMagnan, 430, 500, part},
		{2, disc.NeckelLabs, 600, 800, 1 - part},
	} {
		if row.kind != kind {
			continue
		}
		law, err := row.law(d.between(row.from, row.to))
		if err != nil {
			return nil, err
		}
		out = append(out, Colour{law, row.part})
	}
	return out, nil
}

// An edge is by how much the Moon's edge differs from the heights that the prediction
// knows: it lets the light go, and lets it come again, a little late.
type edge struct {
	c2, c3       float64 // s from maximum
	late2, late3 float64 // s; 0 where there is no inner contact
	figure       float64 // s by which the whole Moon is late
}

// newEdge draws it within what the prediction says of its own contacts.
func newEdge(d dice, k limb.Contacts, since func(eclipse.Contact) float64) edge {
	const figureU = 0.15 // s: a tenth of a kilometre in the figure's place over 0.7 km/s; common practice, no source
	e := edge{figure: figureU * d.NormFloat64()}
	late2, late3 := d.NormFloat64(), d.NormFloat64()
	if k.LimbC2.Exists && k.LimbC3.Exists {
		e.c2, e.c3 = since(k.LimbC2.Contact), since(k.LimbC3.Contact)
		// In a graze the contacts themselves are anywhere within a minute, the light is not.
		const most = 1.4
		e.late2, e.late3 = late2*min(most, k.LimbC2.TimeU), late3*min(most, k.LimbC3.TimeU)
	}
	return e
}

// late is by how much the light at an instant is late. A valley matters while little
// more than it is left: within some twenty seconds of the contact, in which a crescent
// a hundred degrees long shrinks to a bead (common practice, no source).
func (e *edge) late(x float64) float64 {
	const lasts = 20.0 // s
	near := func(c float64) float64 { return 1 / (1 + (x-c)*(x-c)/(lasts*lasts)) }
	return e.figure + e.late2*near(e.c2) + e.late3*near(e.c3)
}
