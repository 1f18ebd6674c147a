package rehearsal

import (
	"context"
	"fmt"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
)

// A Sample is one record as the logger writes it.
type Sample struct {
	Stamp  time.Time // what its clock says, whole seconds, as UTC
	Counts float64   // as the logger wrote them
	Temp   float64   // of the air, degrees Celsius
}

// A Span is a stretch of true time, UTC.
type Span struct {
	From time.Time `json:"from"` // its begin
	To   time.Time `json:"to"`   // its end
}

// The Truth is what the log hides. Instants are true UTC, not the logger's.
type Truth struct {
	// Offset is what a fit of the light should find: stamp less UTC at the
	// predicted maximum, seconds, positive where the clock is fast. The zone's
	// hours and the lag, which light cannot tell from the clock, are in it. On a
	// control day it is that of the same time of day.
	Offset float64 `json:"offset_s"`
	// Clock is the clock's own part of it: Offset less the lag.
	Clock    float64   `json:"clock_s"`
	DriftPPM float64   `json:"drift_ppm"` // millionths, positive where the clock gains
	Max      time.Time `json:"max"`       // predicted maximum

	Weather Weather `json:"weather"`         // the plan's
	Clouds  []Span  `json:"clouds"`          // where shadows of cloud or of things take a tenth of the light or more
	Cloudy  float64 `json:"cloudy_fraction"` // of the records between first and fourth contact
	Spikes  int     `json:"spikes"`          // wild records, those lost to damage included

	Limb       []Colour `json:"limb"`        // the Sun's limb darkening, by the colours that the sensor sees
	MoonLate   float64  `json:"moon_late_s"` // by which the Moon's figure is late, beyond what the prediction knows of its edge,
	C2Late     float64  `json:"c2_late_s"`   // and the light of second
	C3Late     float64  `json:"c3_late_s"`   // and third contact beyond that; 0 where there are none
	Extinction float64  `json:"extinction"`  // natural logarithm, one air mass; 0 in a Plain log
	Tilt       float64  `json:"tilt_deg"`    // of the sensor against the horizontal
	Facing     float64  `json:"facing_deg"`  // azimuth to which it is tilted, from north through east
	Exponent   float64  `json:"exponent"`    // of the counts (or of the lux of Chain) against light, about which it bends
	Bend       float64  `json:"bend"`        // part of the response lost at 100 klx
	Floor      float64  `json:"floor_lx"`    // light in mid-totality under this sky without cloud
	FloorLean  float64  `json:"floor_lean"`  // how much more of it there is 150 s later, as a part of Floor
	TempDrop   float64  `json:"temp_drop_c"` // greatest departure of the air from a day without eclipse
	TempLag    float64  `json:"temp_lag_s"`  // of that after the predicted maximum
	TempTau    float64  `json:"temp_tau_s"`  // the thermometer's own time constant
	Outages    []Span   `json:"outages"`     // power cycles: nothing was written from From to To
	Lines      Lines    `json:"lines"`       // accounting of the written file
}

// A Log is a rehearsed log with its truth. It is not changed by its methods and
// is safe for concurrent reading.
type Log struct {
	// Samples are the records that can be read back from the written file, in
	// order: without those lost to damage.
	Samples []Sample
	Truth   Truth       // what a reduction should find
	Curve   *limb.Curve // the prediction, as a fit is given it
	Plan    Plan        // as carried out, zeros filled in

	scene   *scene
	records []record // all that were written, readable or not
}

// Make rehearses a plan. The error is ErrPlan, wrapped, eclipse.ErrNoEclipse
// where the site has no eclipse, or that of ctx. A record takes some 2 us, three
// hours at one a second 21 ms (BenchmarkMake).
func Make(ctx context.Context, p Plan) (*Log, error) {
	p = p.filled()
	if err := p.validate(); err != nil {
		return nil, err
	}
	o, err := eclipse.NewObserver(p.Elements, p.Site, p.Observer)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrPlan, err)
	}
	m, err := limb.NewMoon(o, limb.Options{})
	if err != nil {
		return nil, err
	}
	curve, err := limb.NewCurve(m, eclipse.CurveOptions{})
	if err != nil {
		return nil, err
	}
	s, err := newScene(p, curve)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrPlan, err)
	}
	return s.run(ctx)
}

// Lux is what truly falls on the sensor at an instant of true UTC, lx: eclipse,
// air, tilt and weather, without the sensor's lag.
func (l *Log) Lux(utc time.Time) float64 {
	return l.scene.lux(l.scene.since(utc))
}

// Counts is the real sensor's answer to a light in lux, without noise and not
// rounded.
func (l *Log) Counts(lux float64) float64 { return l.scene.sensor.answer(lux) }
