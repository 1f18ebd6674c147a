package station

import (
	"context"
	"errors"
	"fmt"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/sensor/air"
)

// A Thermometer is the lag of a station's thermometer, first order.
type Thermometer struct {
	TauS float64 `json:"tau_s"`             // time constant, seconds, more than 0 to 21600
	TauU float64 `json:"u_tau_s,omitempty"` // its standard uncertainty, seconds, 0 to 21600
}

// validate checks the ranges of package sensor/air.
func (t *Thermometer) validate() error {
	if t == nil || t.TauS > 0 && t.TauS <= 21600 && t.TauU >= 0 && t.TauU <= 21600 {
		return nil
	}
	return fmt.Errorf("thermometer has tau_s %g and u_tau_s %g, want more than 0 and not less than 0, both to 21600 s; leave it out where nothing is known", t.TauS, t.TauU)
}

func (t *Thermometer) air() air.Thermometer {
	if t == nil {
		return air.Thermometer{}
	}
	return air.Thermometer{Tau: time.Duration(t.TauS * 1e9), TauU: time.Duration(t.TauU * 1e9)}
}

// unfittedU is by how much the stamps may be off where the light could not tell, s: a
// clock set by hand and a week old. Common practice, no source.
const unfittedU = 30.0

// cool asks the temperatures for the air's answer, with the clock put right where the
// light told how.
func (r *Report) cool(ctx context.Context, control []cooling.Reading) error {
	switch {
	case r.Elements == nil:
		r.CoolingRefusal = &Refusal{Reason: NoEclipse, Detail: "there is none that day"}
		return nil
	case r.Circumstances.Seen == eclipse.None || r.Curve == nil:
		r.CoolingRefusal = &Refusal{Reason: NotVisible, Detail: "there is nothing for the air to answer"}
		return nil
	}
	ahead, u := 0.0, unfittedU
	if r.Clock != nil {
		ahead, u = r.Clock.Offset, r.Clock.OffsetU
	} else if len(r.air) > 0 {
		r.warn("cooling: the clock is not known from the light; stamps are taken as they are, +-%.0f s", unfittedU)
	}
	var err error
	r.Cooling, err = cooling.Measure(ctx, r.air, r.Curve, cooling.Options{
		Thermometer: r.Station.Thermometer.air(), Cloudy: r.cloudy(), Control: control,
		Clock: time.Duration(ahead * 1e9), ClockU: time.Duration(u * 1e9),
	})
	if no := (*cooling.Refusal)(nil); errors.As(err, &no) {
		r.CoolingRefusal = &Refusal{Reason: no.Reason.String(), Detail: no.Detail}
		return nil
	}
	if err != nil {
		return fmt.Errorf("station %q: %w", r.Station.Code, err)
	}
	for _, w := range r.Cooling.Warnings {
		r.warn("cooling: %s", w)
	}
	return nil
}

// cloudyPart is from which part of the eclipse on clouds are held to have passed.
// Common practice, no source.
const cloudyPart = 0.05

// cloudy says that clouds took light during the eclipse, or that it is not known.
func (r *Report) cloudy() bool {
	if r.Clock == nil {
		return true
	}
	c1, c4 := r.Circumstances.C1.UTC, r.Circumstances.C4.UTC
	dim := time.Duration(0)
	for _, c := range r.Clock.Cloud {
		from, to := c.From, c.To
		if from.Before(c1) {
			from = c1
		}
		if to.After(c4) {
			to = c4
		}
		dim += max(0, to.Sub(from))
	}
	return dim.Seconds() >= cloudyPart*c4.Sub(c1).Seconds()
}

// readControl reads the logs of days without eclipse at the same place, laid out as
// the station's own. Times of day without a date are laid on the day after.
func (r *Report) readControl(ctx context.Context, files []File) (*Report, error) {
	if len(files) == 0 {
		return nil, nil
	}
	s := *r.Station
	day, err := s.Day()
	if err != nil {
		return nil, err
	}
	s.Eclipse = day.AddDate(0, 0, 1).Format(time.DateOnly)
	c := &Report{Station: &s, Problems: map[string]int{}, EventCounts: map[string]int{}}
	if err := c.read(ctx, files); err != nil {
		return nil, fmt.Errorf("control: %w", err)
	}
	for _, w := range c.Warnings {
		r.warn("control: %s", w)
	}
	return c, nil
}
