package station

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// law is the straight line through the sham's bent law in the lights of a fit: its
// slope, and its ln reading at the middle of the lights.
func (s *sham) law(f *MorningFit) (slope, middle, x float64) {
	var n, sx, sy, sxx, sxy float64
	for _, q := range f.Minutes {
		if q.Fate != UsedMinute {
			continue
		}
		x, y := math.Log(q.Lux), s.ln(q.Lux)
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	slope = (sxy - sx*sy/n) / (sxx - sx*sx/n)
	return slope, sy / n, sx / n
}

// TestMorningHonest counts over made-up mornings how often what is stated covers what
// was put in. The bound is 95 % less three standard deviations of such a count.
func TestMorningHonest(t *testing.T) {
	mornings := 240
	if testing.Short() {
		mornings = 40
	}
	names := []string{"exponent", "extinction", "gain in the middle"}
	var held, square, within [3]float64
	var u [3][]float64
	refused := map[string]int{}
	fitted := 0.0
	for seed := range mornings {
		s := newSham(uint64(1000 + seed)) // others served to choose the priors
		f, err := FitMorning(s.samples(), s.site, MorningOptions{})
		if no := (*Refusal)(nil); errors.As(err, &no) {
			refused[no.Reason]++
			continue
		}
		require.NoError(t, err)
		fitted++
		slope, middle, x := s.law(f)
		down := x - math.Log(sensorLux)
		at := f.LnValue + f.Slope*down
		atU := math.Sqrt(f.Covariance[0][0] + 2*down*f.Covariance[0][1] + down*down*f.Covariance[1][1])
		for i, r := range [3][3]float64{
			{f.Slope, slope, f.SlopeU}, {f.Extinction, s.meanAir(f), f.ExtinctionU}, {at, middle, atU},
		} {
			off := r[0] - r[1]
			square[i] += off * off
			u[i] = append(u[i], r[2])
			if math.Abs(off) <= 1.96*r[2] {
				held[i]++
			}
			if math.Abs(off) <= r[2] {
				within[i]++
			}
		}
	}
	t.Logf("%g of %d fitted, refused %v", fitted, mornings, refused)
	if !(fitted >= 0.95*float64(mornings)) {
		t.Errorf("%g of %d mornings are fitted, want 95 %%", fitted, mornings)
	}
	for i, name := range names {
		rms := math.Sqrt(square[i] / fitted)
		wide := median(u[i])
		t.Logf("%s: %.1f %% within 1.96 u, %.1f %% within u; rms error %.4f, median u %.4f", name, 100*held[i]/fitted, 100*within[i]/fitted, rms, wide)
		if least := 0.95 - 3*math.Sqrt(0.95*0.05/fitted); !(held[i] >= least*fitted) {
			t.Errorf("%s: %.1f %% of the intervals hold the truth, want %.1f %%", name, 100*held[i]/fitted, 100*least)
		}
		if !(wide <= 3*rms) {
			t.Errorf("%s: a median uncertainty of %.4f for an rms error of %.4f is for show", name, wide, rms)
		}
	}
}
