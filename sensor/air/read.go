package air

// Read returns what the thermometer shows at the samples' instants in air whose
// temperature is a straight line from sample to sample. It starts at rest, showing
// the first sample; the start is forgotten after five time constants. The series
// may be irregular; its times must increase (*OrderError), its fields be in range
// (*RangeError). No samples give no values.
//
// The solution is exact for the straight lines, however long the steps. With x the
// step over tau, E = exp(-x) and F = (1-E)/x,
//
//	S1 = E S0 + (F - E) a0 + (1 - F) a1
func (m Thermometer) Read(air []Sample) ([]Value, error) {
	if err := m.validate(); err != nil {
		return nil, err
	}
	ts, err := seconds(air)
	if err != nil {
		return nil, err
	}
	out := make([]Value, len(air))
	var s follower
	for i, a := range air {
		if i == 0 {
			s = follower{c: a.C, variance: a.U * a.U, shared: a.U * a.U}
		} else {
			s = s.after(ts[i]-ts[i-1], m.Tau.Seconds(), air[i-1], a)
		}
		out[i] = Value{Time: a.Time, C: s.c, RandomU: sqrt0(s.variance), TauPart: s.slope * m.TauU.Seconds()}
	}
	return out, nil
}

// A follower is the thermometer's state at a sample.
type follower struct {
	c        float64 // what it shows, degrees Celsius
	variance float64 // of c, K2
	shared   float64 // covariance of c with the sample at the same instant, K2
	slope    float64 // dc/dtau, K/s
}

func (s follower) after(step, tau float64, a0, a1 Sample) follower {
	e, f, df := 0.0, 0.0, 0.0
	if tau > 0 {
		e, f, df = weights(step / tau)
	}
	w0, w1 := f-e, 1-f
	next := follower{
		c:        e*s.c + w0*a0.C + w1*a1.C,
		variance: e*e*s.variance + 2*e*w0*s.shared + w0*w0*a0.U*a0.U + w1*w1*a1.U*a1.U,
		shared:   w1 * a1.U * a1.U,
	}
	if tau > 0 {
		dxdτ := -step / (tau * tau)
		next.slope = e*s.slope + dxdτ*(-e*s.c+(df+e)*a0.C-df*a1.C)
	} else {
		next.slope = (a0.C - a1.C) / step // of a lag that is about to start
	}
	return next
}
