package fit

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/internal/quantile"
)

// usable refuses a log that has nothing to fit.
func (l *light) usable(s *series, given int) error {
	numbers := len(s.samples) + s.dark + len(s.full.at)
	switch {
	case given == 0 || numbers == 0:
		return refuse(NoSamples, "none of %d samples is a number", given)
	case l.curve.Circumstances().Seen == eclipse.None:
		return refuse(NotVisible, "the Sun is below the horizon throughout the eclipse")
	case numbers < leastSamples:
		return refuse(TooFew, "%d samples are numbers, %d are wanted", numbers, leastSamples)
	case len(s.full.at)*20 > 19*given:
		return refuse(Saturation, "%d of %d samples are at the sensor's ceiling", len(s.full.at), given)
	case s.bright < leastSamples && l.sunDown(s):
		return refuse(Night, "%d of %d samples are above the dark, and by the stamps the Sun was down", s.bright, given)
	case s.bright < leastSamples:
		return refuse(Covered, "%d of %d samples are above the dark, %d are wanted: is the sensor covered, or in a box?", s.bright, given, leastSamples)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range s.samples {
		if r.faint {
			continue
		}
		lo, hi = math.Min(lo, r.y), math.Max(hi, r.y)
	}
	if hi-lo < leastSwing {
		return refuse(Flat, "the light varies by %.1f %% over the whole log", 100*(math.Exp(hi-lo)-1))
	}
	return nil
}

const (
	leastSamples = 30
	leastSwing   = 0.005 // natural logarithm; a shallower eclipse than that is lost in any sky
)

// explain names what a refused log shows instead of the eclipse. What is said of the Sun
// goes by the stamps as they are.
func (l *light) explain(s *series, err error) error {
	no := (*Refusal)(nil)
	if !errors.As(err, &no) || no.Reason == Vague {
		return err
	}
	y := s.minutes()
	first, last := y[0].t, y[len(y)-1].t
	switch {
	case l.sunDown(s):
		return refuse(Night, "by the stamps the Sun was down while the log was written")
	case l.lamp(y):
		return refuse(Lamp, "the light stays at its levels while the Sun moves on (readings that go by the logarithm of the light have to be made light first)")
	case last > l.c1-aside && first < l.c1 && last < l.c4 && last < -l.c1/2:
		return refuse(EndsEarly, "the log ends %.0f min after first contact, %.0f min are wanted", (last-l.c1)/60, -1.5*l.c1/60)
	case first < l.c4+aside && first > l.c1 && last > l.c4 && first > -l.c4/2:
		return refuse(StartsLate, "the log begins %.0f min before fourth contact, %.0f min are wanted", (l.c4-first)/60, 1.5*l.c4/60)
	case last < l.c1:
		return refuse(NoOverlap, "by its stamps the log ends %s before first contact; is the day right, and the clock?", apart(l.c1-last))
	case first > l.c4:
		return refuse(NoOverlap, "by its stamps the log begins %s after fourth contact; is the day right, and the clock?", apart(first-l.c4))
	case no.Reason == NoOverlap:
		return err
	case no.Reason == NoShift:
		return err
	case no.Reason == CloudThroughout || restless(y):
		return refuse(CloudThroughout, "%s", no.Detail)
	case l.dips(y):
		return refuse(NoShift, "the light falls and comes back, but as no shift of the prediction within reach does; is the day right, and the site?")
	}
	return err
}

// apart is a time in words that suit it.
func apart(seconds float64) string {
	switch {
	case seconds < 2*3600:
		return fmt.Sprintf("%.0f min", seconds/60)
	case seconds < 2*86400:
		return fmt.Sprintf("%.0f h", seconds/3600)
	}
	return fmt.Sprintf("%.0f days", seconds/86400)
}

// sunDown says that the Sun was well below the horizon, by the stamps' time of day give or
// take what a clock set by hand is wrong by.
func (l *light) sunDown(s *series) bool {
	const dusk = 10 // lx: the end of civil twilight is at 3 to 4 (from memory)
	for i := 0; i < len(s.samples); i += 1 + len(s.samples)/500 {
		t := math.Remainder(s.samples[i].t, 86400)
		if math.Max(l.clear.at(t-rightClock), l.clear.at(t+rightClock)) > math.Log(dusk) {
			return false
		}
	}
	return len(s.samples) > 0
}

// lamp says that the log keeps to levels while daylight would not: of the stretches of ten
// minutes in which a clear sky changes by a twentieth or more, four in five are level to
// a fiftieth. An overcast sky is never that steady. Common practice, no source.
func (l *light) lamp(y []reading) bool {
	const stretch, moves, level = 10, 0.05, 0.02 // minutes; natural logarithms
	var moved, kept int
	for k := stretch; k < len(y); k += stretch {
		if y[k].t-y[k-stretch].t > 2*stretch*searchBin {
			continue
		}
		if math.Abs(l.clear.at(y[k].t)-l.clear.at(y[k-stretch].t)) < moves {
			continue
		}
		moved++
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, r := range y[k-stretch : k+1] {
			lo, hi = math.Min(lo, r.y), math.Max(hi, r.y)
		}
		if hi-lo < level {
			kept++
		}
	}
	return moved >= 3 && 5*kept >= 4*moved
}

// restless says that the light changes from minute to minute as no clear sky's does.
func restless(y []reading) bool {
	bends := make([]float64, 0, len(y))
	for k := 1; k+1 < len(y); k++ {
		bends = append(bends, math.Abs(y[k-1].y-2*y[k].y+y[k+1].y))
	}
	return len(bends) > 0 && quantile.Of(0.75, bends) > cloudRough
}

// dips says that the light falls below the course of a clear sky by a quarter or more for
// twenty minutes to four hours, and comes back.
func (l *light) dips(y []reading) bool {
	const fall, least, most = 0.29, 1200.0, 4 * 3600.0 // natural logarithm; s
	var t, over []float64
	for _, r := range y {
		if c := l.clear.at(r.t); c > logLeastClear {
			t, over = append(t, r.t), append(over, r.y-c)
		}
	}
	if len(over) < leastSamples {
		return false
	}
	base := quantile.Of(0.75, over)
	begin := math.NaN()
	for k := range over {
		low := over[k] < base-fall
		switch {
		case low && math.IsNaN(begin):
			begin = t[k]
		case !low && !math.IsNaN(begin):
			if d := t[k] - begin; begin > t[0] && d >= least && d <= most {
				return true
			}
			begin = math.NaN()
		}
	}
	return false
}
