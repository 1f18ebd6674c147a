package dips

import (
	"context"
	"encoding/binary"
	"math"
	"testing"
	"time"
)

// Whatever the readings: dips are in order, do not overlap, lie within the series, and have a
// depth in (0, 1] and uncertainties that are numbers.
func FuzzFind(f *testing.F) {
	f.Add([]byte{200, 0, 201, 0, 199, 0}, uint8(0), 0.0)
	b := newBench(1)
	var seed []byte
	for _, s := range b.log(200, []pass{{least: 100, speed: 0.4, ball: 1.2}, {least: 150, speed: 0.2, ball: 2}}, nil) {
		seed = binary.LittleEndian.AppendUint16(seed, uint16(s.Counts))
	}
	f.Add(seed, uint8(1), 0.0)
	f.Add(seed, uint8(2), 4095.0)
	f.Fuzz(func(t *testing.T, in []byte, how uint8, dark float64) {
		var log []Sample
		at := benchDay
		for i := 0; i+1 < len(in) && len(log) < 300; i += 2 {
			v := binary.LittleEndian.Uint16(in[i:])
			counts := float64(v & 0xfff)
			switch v >> 12 { // now and then something odd
			case 15:
				counts = math.NaN()
			case 14:
				counts = -counts * 1e90
			case 13:
				at = at.Add(time.Hour)
			case 12:
				at = at.Add(-30 * time.Second)
			}
			log = append(log, Sample{at, counts})
			at = at.Add(time.Second)
		}
		r, err := Find(context.Background(), log, Options{Sense: Sense(how % 3), Dark: dark, Threshold: 3, MinDepth: float64(how) / 300})
		if err != nil {
			return
		}
		sound(t, log, r)
	})
}

func sound(t *testing.T, log []Sample, r *Result) {
	t.Helper()
	first, last := log[0].Time, log[0].Time
	for _, s := range log {
		if s.Time.Before(first) {
			first = s.Time
		}
		if s.Time.After(last) {
			last = s.Time
		}
	}
	for i, d := range r.Dips {
		if d.Start.Before(first) || d.End.After(last) || !d.Start.Before(d.Least) || !d.Least.Before(d.End) {
			t.Errorf("%v, %v, %v in a series from %v to %v", d.Start, d.Least, d.End, first, last)
		}
		if i > 0 && d.Start.Before(r.Dips[i-1].End) {
			t.Errorf("begins at %v, before %v", d.Start, r.Dips[i-1].End)
		}
		if !(d.Depth > 0 && d.Depth <= 1 && d.DepthU >= 0 && !math.IsInf(d.DepthU, 0)) {
			t.Errorf("depth %g, u %g", d.Depth, d.DepthU)
		}
		if d.StartU <= 0 || d.LeastU <= 0 || d.EndU <= 0 {
			t.Errorf("uncertainties %v, %v, %v", d.StartU, d.LeastU, d.EndU)
		}
	}
	if (len(r.Dips) > 0) != (r.Sense != Auto) && len(r.Dips) > 0 {
		t.Errorf("%d dips, %v", len(r.Dips), r.Sense)
	}
}
