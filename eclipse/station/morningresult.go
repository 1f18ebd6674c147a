package station

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.org/noonfall/sensor"
)

// wanders are the departures from the model that are thought possible, each as
// likely as the others before the log is seen: parts of the light, and hours.
var wanders = func() []wander {
	var out []wander
	for _, u := range []float64{0.01, 0.02, 0.04, 0.08} {
		for _, hours := range []float64{0.5, 2} {
			out = append(out, wander{u, hours})
		}
	}
	return out
}()

const nextMinute = 100 * time.Second // minutes closer than that are neighbours

// fit takes the clear minutes for the answer.
func (m *morning) fit(start state) (*MorningFit, error) {
	m.white = m.scatter(start)
	c := m.climbOf(m.fives(), start)
	slope := math.Abs(start[atSlope])
	var all []belief
	for _, w := range wanders {
		b, ok := c.solve(wander{w.u * slope, w.hours}, start)
		if !ok {
			return nil, refuse(VagueMorning, "the fit of exponent and extinction does not settle")
		}
		all, start = append(all, b), b.mean
	}
	b, shares := blend(all)
	if m.opt.Exponent != 0 { // as it was given, to the last bit
		b.mean[atSlope], b.cov[atSlope][atSlope] = m.opt.Exponent, 0
	}
	f := m.result(c, b)
	for i, w := range wanders {
		f.SlowLnU += shares[i] * w.u
	}
	f.MinuteLnU = m.white / slope
	if err := m.believable(f); err != nil {
		return nil, err
	}
	return f, nil
}

// scatter is the standard deviation of a minute by its differences from the next,
// which no slow departure moves.
func (m *morning) scatter(at state) float64 {
	var steps []float64
	var last *minute
	var lastLn float64
	for _, q := range m.used() {
		ln := q.ln - at[atSlope]*math.Log(q.light(at).lux)
		if last != nil && q.at.Sub(last.at) < nextMinute {
			steps = append(steps, math.Abs(ln-lastLn))
		}
		last, lastLn = q, ln
	}
	const least = 1e-5
	if len(steps) == 0 {
		return least
	}
	return math.Max(least, 1.4826*median(steps)/math.Sqrt2)
}

// result puts what is believed into the caller's terms.
func (m *morning) result(c *climb, b belief) *MorningFit {
	f := &MorningFit{ModelLnU: m.opt.ModelLnU, Extinction: math.Exp(b.mean[atAir]), Drift: b.mean[atDrift], Sky: math.Exp(b.mean[atSky])}
	u := func(i int) float64 { return math.Sqrt(math.Max(0, b.cov[i][i])) }
	f.ExtinctionU, f.DriftU, f.SkyU = math.Hypot(f.Extinction*u(atAir), airModelU), u(atDrift), f.Sky*u(atSky)
	f.Lean, f.LeanU = [2]float64{b.mean[atEast], b.mean[atNorth]}, [2]float64{u(atEast), u(atNorth)}
	f.Told = 1 - b.cov[atAir][atAir]/square(priorU[atAir])
	// The level is at the morning's middle; the calibration's is at 10 lx.
	down := math.Log(sensorLux) - c.middle
	v := [3][3]float64{
		{b.cov[atLevel][atLevel] + 2*down*b.cov[atLevel][atSlope] + down*down*b.cov[atSlope][atSlope] + square(b.mean[atSlope]*f.ModelLnU),
			b.cov[atLevel][atSlope] + down*b.cov[atSlope][atSlope], f.Extinction * (b.cov[atLevel][atAir] + down*b.cov[atSlope][atAir])},
		{0, b.cov[atSlope][atSlope], f.Extinction * b.cov[atSlope][atAir]},
		{0, 0, square(f.ExtinctionU)},
	}
	v[1][0], v[2][0], v[2][1] = v[0][1], v[0][2], v[1][2]
	f.Covariance = v
	f.Calibration = sensor.Calibration{
		LnValue: b.mean[atLevel] + down*b.mean[atSlope], LnValueU: math.Sqrt(v[0][0]), Slope: b.mean[atSlope], SlopeU: math.Sqrt(v[1][1]),
		ChiSquare: b.chiSquare, Freedom: len(c.blocks) - 2, Scattered: true,
	}
	if both := f.LnValueU * f.SlopeU; both > 0 {
		f.R = math.Max(-1, math.Min(1, v[0][1]/both))
	}
	m.describe(f, b.mean)
	return f
}

// airModelU is what a beam of one colour under a sky of one form leaves open of the
// extinction, an air mass: the bluer light is gone first, so that the loss is smaller in
// a low Sun. Common practice, no source.
const airModelU = 0.03

// sensorLux is the light that package sensor quotes a law at, lx.
const sensorLux = 10

// describe fills in the minutes and their range.
func (m *morning) describe(f *MorningFit, at state) {
	f.AirMass, f.Lux = [2]float64{math.Inf(1), 0}, [2]float64{math.Inf(1), 0}
	for i := range m.minutes {
		q := &m.minutes[i]
		g := q.light(at)
		out := MorningMinute{Time: q.at, Alt: q.alt, AirMass: q.mass, Value: math.Exp(q.ln), Fate: q.fate, Lux: g.lux, Residual: math.NaN(), Beam: math.NaN()}
		if q.fate != SaturatedMinute && q.fate != DarkMinute {
			measured := sensorLux * math.Exp((q.ln-f.LnValue)/f.Slope)
			out.Residual = math.Log(measured / g.lux)
			if beam := measured - g.sky; beam > 0 {
				out.Beam = beam / q.incidence(at)
			}
		} else {
			out.Value = math.NaN()
		}
		if q.fate == UsedMinute {
			f.Residuals = append(f.Residuals, f.Slope*out.Residual)
			f.AirMass = [2]float64{min(f.AirMass[0], q.mass), max(f.AirMass[1], q.mass)}
			f.Lux = [2]float64{min(f.Lux[0], g.lux), max(f.Lux[1], g.lux)}
			f.To = q.at
			if f.Used == 0 {
				f.From = q.at
			}
			f.Used++
		}
		f.Minutes = append(f.Minutes, out)
	}
}

// believable refuses what no clear sky and no sensor is.
func (m *morning) believable(f *MorningFit) error {
	switch {
	case f.SlowLnU > slowLnU:
		return refuse(CloudyMorning, "the light wanders by %.1f %% about the clear sky's: thin cloud, or a sensor with a cosine of its own", 100*f.SlowLnU)
	case !(f.Extinction >= leastAir && f.Extinction <= greatestAir):
		return refuse(CloudyMorning, "an extinction of %.2f an air mass is no clear sky's (%g to %g)", f.Extinction, leastAir, greatestAir)
	case !(math.Abs(f.Slope) >= 3*f.SlopeU):
		return refuse(VagueMorning, "an exponent of %.2f, give or take %.2f: it cannot be told from the extinction; where it is known, state it", f.Slope, f.SlopeU)
	}
	if f.Told < 0.5 {
		f.Warnings = append(f.Warnings, "the light tells little of the extinction: the exponent rests on what is usual for clear air")
	}
	if n := m.count(ShadedMinute); n > 0 {
		f.Warnings = append(f.Warnings, fmt.Sprintf("%d minutes in shade or under cloud are left out", n))
	}
	if n := m.count(SaturatedMinute); n > 0 {
		f.Warnings = append(f.Warnings, fmt.Sprintf("%d minutes at the sensor's ceiling are left out", n))
	}
	if n := m.count(EclipsedMinute); n > 0 {
		f.Warnings = append(f.Warnings, fmt.Sprintf("%d minutes of the eclipse are left out", n))
	}
	return nil
}

func (m *morning) count(f Fate) int {
	return len(slices.DeleteFunc(slices.Clone(m.minutes), func(q minute) bool { return q.fate != f }))
}
