package sensor

import (
	"fmt"
	"math"
)

// A Wiring says on which side of the tap the cell is. It has no default: the two
// turn light into opposite counts.
type Wiring string

// The wirings.
const (
	CellOnTop    Wiring = "cell-on-top"    // between supply and tap: counts rise with light
	CellAtBottom Wiring = "cell-at-bottom" // between tap and ground: counts fall with light
)

// A Divider is a photoresistor and a fixed load in series across the supply,
// with the converter at the tap between them. The zero value is refused: set
// Wiring, SupplyV, LoadOhm and Cell.
type Divider struct {
	Wiring  Wiring        `json:"wiring"`
	SupplyV float64       `json:"supply_v"` // volts, 0.5 to 60
	LoadOhm float64       `json:"load_ohm"` // the fixed resistor, ohms, 1 to 1e9
	Cell    Photoresistor `json:"cell"`
	// LoadTolerance is the load's printed tolerance as a fraction, 0.05 for 5 %. It
	// enters as a rectangular distribution of that half-width (GUM 4.3.7).
	LoadTolerance float64 `json:"load_tolerance_fraction,omitempty"`
	SupplyU       float64 `json:"supply_u_v,omitempty"` // standard uncertainty of SupplyV, volts
}

func (d Divider) wired() error {
	if d.Wiring != CellOnTop && d.Wiring != CellAtBottom {
		return fmt.Errorf("%w: it is %q", ErrWiring, string(d.Wiring))
	}
	return nil
}

func (d Divider) rows() []row {
	return append(d.Cell.rows(),
		row{"divider.load_ohm", d.LoadOhm, 1, 1e9, "the fixed resistor"},
		row{"divider.load_tolerance_fraction", d.LoadTolerance, 0, 0.5, ""},
		row{"divider.supply_u_v", d.SupplyU, 0, 60, ""},
	)
}

// dividerLaw is the divider with the converter's input resistance taken in. The
// input lies across the lower half: under a cell on top it makes the load smaller,
// beside a cell at the bottom it acts as more dark conductance. So either way an
// unloaded divider remains.
//
// With x the tap's share of the supply and g the conductance of cell and dark path,
//
//	g Load = x/(1-x) on top, (1-x)/x at the bottom
//	E = 10 lx (R10 (g - dark))^(1/gamma)
type dividerLaw struct {
	top       bool
	supply    float64 // volts
	load      float64 // ohms
	dark      float64 // siemens in parallel with the light's own
	input     float64 // siemens of dark that are not the cell's
	perSupply float64 // x for a full-scale reading: reference over supply
	r10       float64 // ohms
	gamma     float64
	inverse   float64 // 1/gamma
	bright    float64 // lx, end of the power law

	// Variances of the causes, each with the factor that it has in ln(R10 (g - dark)).
	r10Var    float64 // of ln R10: 1
	gammaVar  float64 // of gamma: -ln(E/10 lx)
	r10Gamma  float64 // twice their covariance
	loadVar   float64 // of ln load: -g/(g-dark)
	supplyVar float64 // of ln supply over reference: g/(g-dark)/(1-x)
	darkVar   float64 // of the dark conductance, S^2: -1/(g-dark)
	// Twice the covariances of the cell's ln dark ohms with ln R10 and gamma, times its
	// dark conductance: ln dark ohms has the factor dark conductance/(g-dark).
	darkR10, darkGamma float64
}

func newDividerLaw(d Divider, a ADC) dividerLaw {
	c := d.Cell
	l := dividerLaw{
		top: d.Wiring == CellOnTop, supply: d.SupplyV, load: d.LoadOhm, dark: conductance(c.DarkOhm), perSupply: 1,
		r10: c.R10Ohm, gamma: c.Gamma, inverse: 1 / c.Gamma, bright: c.maxLux(),
		r10Var: c.R10LnU * c.R10LnU, gammaVar: c.GammaU * c.GammaU, r10Gamma: 2 * c.R10GammaR * c.R10LnU * c.GammaU,
		darkVar: square(conductance(c.DarkOhm) * c.DarkLnU),
	}
	both := 2 * c.DarkLnU * conductance(c.DarkOhm)
	l.darkR10, l.darkGamma = both*c.R10DarkR*c.R10LnU, both*c.GammaDarkR*c.GammaU
	if !a.Ratiometric { // else the supply is in the reference too and cancels
		l.perSupply = a.ReferenceV / d.SupplyV
		l.supplyVar = square(d.SupplyU / d.SupplyV)
	}
	input := conductance(a.InputOhm)
	loadU := d.LoadTolerance / math.Sqrt(3)
	if l.top {
		// ln(load in parallel with input) moves by 1/(1+load/input) of ln load and by
		// the rest of ln input.
		share := 1 / (1 + d.LoadOhm*input)
		l.load *= share
		l.loadVar = square(share*loadU) + square((1-share)*a.InputLnU)
		return l
	}
	l.input = input
	l.dark += input
	l.loadVar = square(loadU)
	l.darkVar += square(input * a.InputLnU)
	return l
}

func (l *dividerLaw) lux(v float64) light {
	x := v * l.perSupply
	rest := 1 - x
	g := x / (rest * l.load)
	if !l.top {
		g = rest / (x * l.load)
	}
	photo := g - l.dark
	ln := l.inverse * math.Log(l.r10*photo)
	inverse := 1 / (rest * photo)
	steep := g * inverse      // d ln photo / d ln x, less its sign
	q := steep * rest         // g/photo
	perDark := inverse * rest // 1/photo
	variance := l.r10Var + ln*(ln*l.gammaVar-l.r10Gamma) + q*q*l.loadVar + steep*steep*l.supplyVar +
		perDark*(perDark*l.darkVar+l.darkR10-ln*l.darkGamma)
	return light{lux: lawLux * math.Exp(ln), slope: l.inverse * steep / v, variance: l.inverse * l.inverse * variance}
}

func (l *dividerLaw) share(lux float64) float64 {
	y := l.load * (math.Pow(lux/lawLux, l.gamma)/l.r10 + l.dark)
	if l.top {
		return y / (1 + y) / l.perSupply
	}
	return 1 / (1 + y) / l.perSupply
}

// blur: the share x in darkness moves by x(1-x) of ln load and of ln dark ohms; that
// in endless light is all or nothing of the supply.
func (l *dividerLaw) blur() (dark, endless float64) {
	x := l.share(0) * l.perSupply
	own := l.loadVar
	if l.dark > 0 {
		own += l.darkVar / (l.dark * l.dark)
	}
	dark = square(x*(1-x)/l.perSupply)*own + square(x/l.perSupply)*l.supplyVar
	if l.top {
		endless = l.supplyVar / square(l.perSupply)
	}
	return dark, endless
}

func (l *dividerLaw) rising() bool    { return l.top }
func (l *dividerLaw) maxLux() float64 { return l.bright }

func square(x float64) float64 { return x * x }
