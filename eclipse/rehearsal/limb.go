package rehearsal

import "example.org/noonfall/eclipse/disc"

// A Colour is a part of the Sun's light and the limb darkening that it has.
type Colour struct {
	Law  disc.Law `json:"law"`
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
