package rehearsal

import "math"

// fetch is over how long a sky's light is averaged for the air, s: what is measured at
// one place has come over some kilometres of ground, sunny and shaded, so that it does not
// ask after the one cloud that stands over the sensor. Common practice, no source.
const fetch = 3600.0

// spread is the part of the Sun's light that clouds let through, 0 to 1, as the air
// feels it between two instants, seconds from maximum.
func (s *sky) spread(from, to float64) walk {
	const step = 30.0
	half := int(fetch / step / 2)
	n := int((to-from)/step) + 2
	sum := make([]float64, n+2*half+2) // of all before
	for i := range len(sum) - 1 {
		sum[i+1] = sum[i] + math.Min(1, math.Exp(-s.dims(from+step*float64(i-half))))
	}
	out := walk{from: from, step: step, value: make([]float64, n)}
	for i := range out.value {
		out.value[i] = (sum[i+2*half+1] - sum[i]) / float64(2*half+1)
	}
	return out
}
