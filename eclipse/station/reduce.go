package station

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"iter"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/cooling"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
	"example.org/noonfall/sun/timescale"
)

// Options tunes a reduction. The zero value is the recommended setting.
type Options struct {
	// Fit is handed to the clock fit.
	Fit fit.Options
	// Elements are used instead of the catalogue's, where not nil. They must be those of
	// the Moon's centre of mass.
	Elements *eclipse.Elements
	// SmoothMoon compares the log with the Moon of the printed almanacs, and not with the
	// one that has mountains.
	SmoothMoon bool
	// Control are logs of days without eclipse at the same place and hours: the baseline
	// of the cooling, and of shade that comes back.
	Control []File
}

// A Curve is the light at the station: that of an [eclipse.Curve] or a [limb.Curve].
type Curve interface {
	fit.Curve
	Lux(timescale.TT) float64
	ClearLux(timescale.TT) float64
	All(step time.Duration) iter.Seq[eclipse.Point]
}

// A Report is everything that a page about a station needs.
type Report struct {
	Station *Station // as given
	// Elements is nil where no eclipse lies within a day of the station's date.
	Elements      *eclipse.Elements
	Circumstances eclipse.Circumstances // at the station's site; the zero value without Elements
	// Curve is nil where the site sees no eclipse.
	Curve Curve
	// Files holds the accounting of each log, in the order given.
	Files []logfile.Report
	// Records counts the lines with a readable stamp, over all files.
	Records int
	// Problems counts the refused lines by kind.
	Problems map[string]int
	// Samples are the light readings that went to the fit, ascending in time.
	Samples []fit.Sample
	// Events are what the clock did between the records of a file, in their order:
	// gaps, steps, repeats. The list is capped at a thousand; EventCounts, by kind, is
	// complete.
	Events      []logfile.Event
	EventCounts map[string]int
	// Health is what the log says of its logger, whatever the sky did.
	Health Health
	// Clock is the fit, nil where it was refused; Refusal says why.
	Clock   *fit.Result
	Refusal *Refusal
	// Segments are the stretches of a log whose clock was moved, each with an offset of its
	// own; nil where it never was. Clock is then that of the best of them or, where the
	// stamps do not show the move and the light does, that of the one at maximum.
	Segments []fit.SegmentClock
	// Channels are the light columns of a log with two, each for itself; nil with one, or
	// where the clock was moved. Clock is then that of the better one.
	Channels []fit.ChannelClock
	// Misplaced is a mistake with the site or the date that would explain the light better;
	// nil where none of the usual ones does.
	Misplaced *Misplaced
	// Zone is the zone of the stamps where the light shows another than they were read in.
	Zone *FoundZone
	// Cooling is the air's answer, nil where it was refused; CoolingRefusal says why.
	Cooling        *cooling.Result
	CoolingRefusal *Refusal
	// Shade is when the control day was dim; empty without one, or without a verdict on
	// the clock.
	Shade []ShadeSpan
	// Noted is what the station's notes of the clock say beside the light; nil without notes.
	Noted *Noted
	// Warnings are for a person to read.
	Warnings []string

	chain     *sensor.Converter
	day       time.Time         // the eclipse's, UTC
	air       []cooling.Reading // the temperatures, stamps as they are
	raw       []float64         // the light column's own numbers, where a chain makes lux of them
	lightless int               // samples whose record has no readable light
	end       time.Time         // of the latest record read so far
	ascends   bool              // each stamp read so far is after the one before
	unset     unsetClock
	second    []fit.Sample  // the other light column
	stretches []fit.Segment // between which the clock was moved
	unsetIn   []string      // the files that have some of it
}

// A Refusal is the answer where the clock cannot be told.
type Refusal struct {
	Reason string `json:"reason"` // "no eclipse", "not visible here", or one of fit's reasons
	Detail string `json:"detail"` // what was found, and what would help
}

// Error is the reason and the detail. It makes a refusal an error where there is no
// report to hold it: see [FitMorning].
func (r *Refusal) Error() string { return r.Reason + ": " + r.Detail }

// Reasons that a station gives before there is anything to fit.
const (
	NoEclipse  = "no eclipse"
	NotVisible = "not visible here"
)

// Reduce reads a station's logs, lays them over the predicted eclipse and says
// how wrong the clock was. Files are read one after another, each streamed; what
// is kept is one small struct a record. A refusal is an answer, in the report:
// the error is for a station that is not valid, a file that cannot be read, or a
// layout that cannot be decided. The context is looked at all the way: once it has
// ended a reduction returns its error within a fraction of a second.
func Reduce(ctx context.Context, s *Station, files []File, opt Options) (*Report, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	r := &Report{Station: s, Problems: map[string]int{}, EventCounts: map[string]int{}}
	if err := r.read(ctx, files); err != nil {
		return nil, err
	}
	refusal, err := r.predict(opt)
	if err = cmp.Or(err, ctx.Err()); err != nil {
		return nil, err
	}
	if err := r.examine(); err != nil {
		return nil, err
	}
	if refusal != nil {
		r.Refusal = refusal
	} else if err := r.fit(ctx, opt); err != nil {
		return r, err
	}
	if err := r.misplaced(ctx, opt); err != nil {
		return r, err
	}
	r.doubtSetting()
	if err := r.noted(); err != nil {
		return r, err
	}
	return r, r.baseline(ctx, opt)
}

// baseline looks at the air, and at the control day where there is one.
func (r *Report) baseline(ctx context.Context, opt Options) error {
	control, err := r.readControl(ctx, opt.Control)
	if err != nil {
		return err
	}
	if control == nil {
		return r.cool(ctx, nil)
	}
	if err := cmp.Or(r.shade(control.Samples), ctx.Err()); err != nil {
		return err
	}
	return r.cool(ctx, control.air)
}

// predict finds the eclipse and the site's curve.
func (r *Report) predict(opt Options) (*Refusal, error) {
	r.Elements = opt.Elements
	if r.Elements == nil {
		catalogue, err := canon.Load()
		if err != nil {
			return nil, err
		}
		r.Elements, err = catalogue.On(r.day)
		if none := (*canon.NoEclipseError)(nil); errors.As(err, &none) {
			return &Refusal{Reason: NoEclipse, Detail: err.Error()}, nil
		} else if err != nil {
			return nil, err
		}
	}
	o, err := eclipse.NewObserver(r.Elements, r.Station.Site.Sun(), eclipse.Options{Scale: r.scale()})
	if err != nil {
		return nil, err
	}
	r.Circumstances = o.Circumstances()
	if r.Circumstances.Geometry == eclipse.None {
		return &Refusal{Reason: NotVisible, Detail: "the Moon's shadow passes this site by"}, nil
	}
	if r.Circumstances.Seen == eclipse.None {
		return &Refusal{Reason: NotVisible, Detail: "the Sun is below the horizon throughout the eclipse"}, nil
	}
	r.Curve, err = newCurve(o, opt)
	return nil, err
}

// newCurve is the light past the Moon that the options ask for.
func newCurve(o *eclipse.Observer, opt Options) (Curve, error) {
	if opt.SmoothMoon {
		return eclipse.NewCurve(o, eclipse.CurveOptions{})
	}
	m, err := limb.NewMoon(o, limb.Options{})
	if err != nil {
		return nil, err
	}
	return limb.NewCurve(m, eclipse.CurveOptions{})
}

func (r *Report) scale() timescale.Scale {
	if d := r.Station.DeltaT; d != nil {
		return timescale.FixedDeltaT(*d)
	}
	return timescale.Scale{}
}

// fit hands the samples to the clock fit and takes down a refusal.
func (r *Report) fit(ctx context.Context, opt Options) error {
	err := ctx.Err()
	switch {
	case err != nil:
	case len(r.stretches) > 0:
		r.Clock, r.Segments, err = fit.Segments(ctx, r.stretches, r.Curve, opt.Fit)
	case len(r.second) > 0:
		r.Clock, r.Channels, err = fit.Channels(ctx, [][]fit.Sample{r.Samples, r.second}, r.Curve, opt.Fit)
	default:
		r.Clock, err = fit.Clock(ctx, r.Samples, r.Curve, opt.Fit)
	}
	if no := (*fit.Refusal)(nil); errors.As(err, &no) {
		r.Clock, r.Refusal = nil, &Refusal{Reason: no.Reason.String(), Detail: no.Detail}
		return nil
	}
	if err != nil {
		return fmt.Errorf("station %q: %w", r.Station.Code, err)
	}
	if r.Segments == nil {
		r.Segments = r.Clock.Segments
	}
	r.Warnings = append(r.Warnings, r.Clock.Warnings...)
	return nil
}
