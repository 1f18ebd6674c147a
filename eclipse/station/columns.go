package station

import (
	"math"

	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

// layOut makes of the records what the rest of the reduction looks at: light and
// temperatures. The records themselves, twice their size, are not kept.
func (r *Report) layOut(records pieces) {
	n := records.len()
	light, at := make([]fit.Sample, n), 0
	var air []cooling.Reading
	for _, piece := range records {
		for i := range piece {
			rec := &piece[i]
			sample(&light[at], rec, r.chain)
			at++
			switch {
			case !isNumber(rec.Light):
				r.lightless++
			case r.chain != nil:
				r.raw = withRoom(r.raw, n, rec.Light)
			}
			// A station's chain describes the first column, so that the other's own
			// numbers stand for its light.
			if !math.IsNaN(rec.Light2) {
				r.second = withRoom(r.second, n, fit.Sample{Time: rec.Time, Value: rec.Light2})
			}
			if !math.IsNaN(rec.Temp) {
				air = withRoom(air, n, cooling.Reading{UTC: rec.Time, C: rec.Temp})
			}
		}
	}
	r.Samples, r.air = light, air
}

// withRoom appends; the first one makes room for n, since a column that a log has is in
// nearly all of its records.
func withRoom[T any](to []T, n int, v T) []T {
	if to == nil {
		to = make([]T, 0, n)
	}
	return append(to, v)
}

// sample turns one record into light: lux where the chain is known, the
// column's own numbers where it is not.
func sample(s *fit.Sample, rec *logfile.Record, chain *sensor.Converter) {
	s.Time, s.Value = rec.Time, rec.Light
	if chain != nil {
		reading := chain.Lux(rec.Light)
		s.Value, s.Status = reading.Lux, reading.Status
	}
}
