package main

import (
	"errors"
	"iter"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun/timescale"
)

// A sky is the light of one eclipse at one site, by the model of a clear sky, on
// a level sensor while the Sun is up.
type sky struct {
	low, high float64 // lx; both 0 where nothing is seen
}

// What the model leaves open: totality is 1 to 10 lx where it has 4, and a clear
// sky differs by a third (see packages eclipse and sun).
const (
	darker   = 4
	brighter = 4.0 / 3
)

// askSky asks the library what light the site has, where -site or -date asks for it;
// -low and -high overrule it.
func (o *settings) askSky() error {
	if !o.given["site"] && !o.given["date"] {
		return nil
	}
	catalogue, err := canon.Load()
	if err != nil {
		return err
	}
	elements, err := catalogue.On(o.Date)
	if err != nil {
		return err
	}
	observer, err := eclipse.NewObserver(elements, o.Site, eclipse.Options{Scale: o.Scale()})
	if err != nil {
		return err
	}
	o.day = elements.Date
	if o.sky, err = skyOf(observer, o.Limb); err != nil || o.sky == (sky{}) {
		return err
	}
	if !o.given["low"] {
		o.low = math.Max(o.sky.low/darker, 1e-6)
	}
	if !o.given["high"] {
		o.high = math.Min(o.sky.high*brighter, 1e6)
	}
	return nil
}

func skyOf(o *eclipse.Observer, edge cli.Limb) (sky, error) {
	c := o.Circumstances()
	curve, err := lightOf(o, edge)
	if errors.Is(err, eclipse.ErrNoEclipse) || c.Seen == eclipse.None {
		return sky{}, nil
	}
	if err != nil {
		return sky{}, err
	}
	least := curve.At(c.MaxSeen.TT).Lux
	out := sky{least, least}
	for p := range curve.All(time.Minute) {
		if p.Alt > 0 {
			out.low, out.high = math.Min(out.low, p.Lux), math.Max(out.high, p.Lux)
		}
	}
	return out, nil
}

// lightOf is the light past the smooth Moon, or past the one with mountains.
func lightOf(o *eclipse.Observer, edge cli.Limb) (interface {
	At(timescale.TT) eclipse.Point
	All(time.Duration) iter.Seq[eclipse.Point]
}, error) {
	if edge == cli.Mean {
		return eclipse.NewCurve(o, eclipse.CurveOptions{})
	}
	moon, err := limb.NewMoon(o, limb.Options{})
	if err != nil {
		return nil, err
	}
	return limb.NewCurve(moon, eclipse.CurveOptions{})
}
