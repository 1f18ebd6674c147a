package rehearsal_test

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/rehearsal"
)

// The spans of cloud are where the light is lower than that of the same log
// under a clear sky, and their share is what the truth says.
func TestCloudSpans(t *testing.T) {
	for _, w := range []rehearsal.Weather{rehearsal.Clear, rehearsal.Cumulus, rehearsal.Shade} {
		p := rehearsal.Plan{Elements: august2027(t), Site: strait, Seed: 2, Noise: -1, Cadence: 5 * time.Second}
		clear := rehearse(t, p)
		p.Weather = w
		l := rehearse(t, p)
		c := l.Curve.Circumstances()
		covered, inside, span := 0, 0, 0
		for _, s := range l.Samples {
			for span < len(l.Truth.Clouds) && s.Stamp.After(l.Truth.Clouds[span].To) {
				span++
			}
			in := span < len(l.Truth.Clouds) && !s.Stamp.Before(l.Truth.Clouds[span].From)
			if lost := 1 - l.Lux(s.Stamp)/clear.Lux(s.Stamp); in != (lost > 0.1) && math.Abs(lost-0.1) > 1e-3 {
				t.Fatalf("%v at %v: %.3f of the light is lost, in a span %v", w, s.Stamp, lost, in)
			}
			if s.Stamp.After(c.C1.UTC) && s.Stamp.Before(c.C4.UTC) {
				inside++
				if in {
					covered++
				}
			}
		}
		if want := float64(covered) / float64(inside); !(math.Abs(l.Truth.Cloudy-want) <= 2/float64(inside)) {
			t.Errorf("%v: cloud over %.4f of the eclipse, its spans make %.4f", w, l.Truth.Cloudy, want)
		}
		if (w == rehearsal.Clear) != (len(l.Truth.Clouds) == 0) {
			t.Errorf("%v: %d spans of cloud", w, len(l.Truth.Clouds))
		}
	}
}

// Without noise the counts are the sensor's answer to the light at the true
// instant: half a count, which is rounding.
func TestSamplesAreTheLightsAnswer(t *testing.T) {
	eclipses := years(t, "2001", "2060")
	for seed := range uint64(12) {
		p, err := rehearsal.Class{Weather: rehearsal.Weather(seed % 6)}.Draw(eclipses, seed)
		require.NoError(t, err)
		p.Noise, p.DriftPPM, p.Chain = -1, 0, nil
		p.Lag = time.Duration(seed) * 10 * time.Second
		l := rehearse(t, p)
		for _, s := range l.Samples {
			utc := s.Stamp.Add(-time.Duration(math.Round(l.Truth.Offset * 1e9)))
			if want := l.Counts(l.Lux(utc)); !(math.Abs(s.Counts-want) <= 0.501) {
				t.Fatalf("seed %d at %v: %v counts, the light gives %.3f", seed, utc, s.Counts, want)
			}
		}
	}
}

// In totality nothing but the floor is left, which leans as the truth says: a
// tenth is left to the haze, which is up to 5 % a side.
func TestFloorLeans(t *testing.T) {
	for seed := range uint64(10) {
		l := rehearse(t, rehearsal.Plan{Elements: august2027(t), Site: strait, Seed: seed, Cadence: time.Minute})
		c := l.Curve.Circumstances()
		reach := math.Floor(min(c.C3.UTC.Sub(c.Max.UTC), c.Max.UTC.Sub(c.C2.UTC)).Seconds()) - 1
		side := time.Duration(reach) * time.Second
		early, late := l.Lux(c.Max.UTC.Add(-side)), l.Lux(c.Max.UTC.Add(side))
		lean := l.Truth.FloorLean * reach / 150
		if want := (1 + lean) / (1 - lean); !(math.Abs(late/early/want-1) <= 0.1) {
			t.Errorf("seed %d: %.3f lx and then %.3f, want %.3f times as much", seed, early, late, want)
		}
		if mid := l.Lux(c.Max.UTC); !(math.Abs(mid/l.Truth.Floor-1) <= 0.2) { // four times 5 % of haze
			t.Errorf("seed %d: %.3f lx in mid-totality, the truth says %.3f", seed, mid, l.Truth.Floor)
		}
	}
}

// The air is coldest some minutes after maximum: falls and lags stay about what
// was measured (testdata/references/eclipse_temperature.csv: 0.3 to 7 degrees,
// 10 to 15 minutes).
func TestTheAirCoolsLate(t *testing.T) {
	for seed := range uint64(20) {
		l := rehearse(t, rehearsal.Plan{Elements: august2027(t), Site: strait, Seed: seed, Cadence: 10 * time.Second})
		if !(l.Truth.TempDrop > 0.3 && l.Truth.TempDrop < 7) || !(l.Truth.TempLag > 240 && l.Truth.TempLag < 1500) {
			t.Errorf("seed %d: the air falls by %.2f degrees, %.0f s after maximum", seed, l.Truth.TempDrop, l.Truth.TempLag)
		}
	}
}

func TestTruthReadsBack(t *testing.T) {
	l := rehearse(t, rehearsal.Plan{
		Elements: august2027(t), Site: strait, Seed: 3, Weather: rehearsal.Broken, Cadence: time.Minute,
		Damage: rehearsal.Damage{PowerCycles: 1, TornLines: 2},
	})
	text, err := json.Marshal(l.Truth)
	require.NoError(t, err)
	var back rehearsal.Truth
	require.NoError(t, json.Unmarshal(text, &back))
	if !reflect.DeepEqual(back, l.Truth) {
		t.Errorf("%s\nreads as %+v", text, back)
	}
	if !bytes.Contains(text, []byte(`"offset_s":`)) || !bytes.Contains(text, []byte(`"weather":"broken"`)) {
		t.Errorf("%s", text)
	}
}
