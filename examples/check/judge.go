package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/limb"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A verdict is the answer in a word.
type verdict uint8

const (
	agrees verdict = iota
	differs
	noSuchEvent
	badClaim
)

var verdictNames = [...]string{"agrees", "differs", "no-such-event", "bad-claim"}

func (v verdict) String() string { return verdictNames[v] }

// slack is what the computer's own rounding may add to a difference, by unit, so
// that a claim off by exactly its tolerance agrees. An instant is kept in a
// float64 of TT to half a microsecond and read off to the nearest microsecond;
// degrees and ratios lose a few parts in 1e16 in a subtraction.
var slack = map[string]float64{"s": 1e-6, "deg": 1e-12, "1": 1e-14}

// A judge computes what is claimed. Claims that follow each other and ask about
// the same eclipse, or the same site, share the work.
type judge struct {
	catalogue *canon.Catalogue
	read      func(name string) ([]byte, error)
	scale     timescale.Scale // for claims that state no Delta T
	limb      cli.Limb        // for quantities that depend on it
	files     map[string]loaded

	asked    question // what prepared answers; no claim has the empty day
	prepared *eclipse.Prepared
	refused  error
	site     sun.Site
	observer eclipse.Observer
	local    eclipse.Circumstances
	placed   bool // observer and local are those of site and asked
	edge     limb.Contacts
	met      bool // edge is the observer's
}

// loaded is a file of elements, or why it cannot be used.
type loaded struct {
	elements *eclipse.Elements
	err      error
}

// errNoEvent marks the errors that say that nature has no such thing.
var errNoEvent = errors.New("no such event")

// judge returns what the claim's quantity comes to.
func (j *judge) judge(c *claim) (computed figure, v verdict, reason string) {
	if len(c.faults) > 0 {
		return figure{}, badClaim, joined(c.faults)
	}
	local, err := j.circumstances(c)
	if errors.Is(err, errNoEvent) {
		return figure{}, noSuchEvent, err.Error()
	}
	if err != nil {
		return figure{}, badClaim, err.Error()
	}
	kind := local.Geometry
	computed, ok := figure{}, false
	if j.edged(c.quantity) {
		edge, err := j.contacts()
		if err != nil {
			return figure{}, badClaim, err.Error()
		}
		kind = edge.LimbKind
		computed, ok = c.quantity.edged(edge, c.ut)
	} else {
		computed, ok = c.quantity.of(local, c.ut)
	}
	switch {
	case ok:
		return computed, compare(c, difference(c, computed)), ""
	case kind == eclipse.None:
		return figure{}, noSuchEvent, "the Moon's shadow passes this site by"
	}
	return figure{}, noSuchEvent, fmt.Sprintf("the eclipse is %s here and has no %s", kind, c.quantity.name)
}

// edged says that a quantity is computed with the Moon's real edge.
func (j *judge) edged(q *quantity) bool { return j.limb == cli.Real && q != nil && q.edged != nil }

// contacts are what the real edge does at the site of the circumstances.
func (j *judge) contacts() (*limb.Contacts, error) {
	if !j.met {
		moon, err := limb.NewMoon(&j.observer, limb.Options{})
		if err != nil {
			return nil, err
		}
		j.edge, j.met = moon.Contacts(), true
	}
	return &j.edge, nil
}

// difference is claimed minus computed, in the quantity's unit.
func difference(c *claim, computed figure) float64 {
	d := c.value.minus(computed)
	if c.quantity.unit == "deg" {
		d = math.Remainder(d, 360)
	}
	return d
}

func compare(c *claim, d float64) verdict {
	if math.Abs(d) <= c.tolerance+slack[c.quantity.unit] { // a NaN differs
		return agrees
	}
	return differs
}

// circumstances answers a claim's question at its site.
func (j *judge) circumstances(c *claim) (*eclipse.Circumstances, error) {
	if c.question != j.asked {
		j.asked, j.placed = c.question, false
		j.prepared, j.refused = j.prepare(&c.question)
	}
	if j.refused != nil {
		return nil, j.refused
	}
	if !j.placed || c.site != j.site {
		o, err := j.prepared.Observer(c.site)
		if err != nil {
			return nil, err
		}
		j.site, j.observer, j.local, j.placed, j.met = c.site, o, o.Circumstances(), true, false
	}
	return &j.local, nil
}

func (j *judge) prepare(q *question) (*eclipse.Prepared, error) {
	e, err := j.elements(q)
	if err != nil {
		return nil, err
	}
	if k1, k2 := q.k1, q.k2; k1 != 0 || k2 != 0 {
		if k1 == 0 {
			k1 = e.K1
		}
		if k2 == 0 {
			k2 = e.K2
		}
		e = e.WithRadii(k1, k2)
	}
	scale := j.scale
	if q.deltaTOf {
		scale = timescale.FixedDeltaT(q.deltaT)
	}
	return eclipse.Prepare(e, eclipse.Options{Scale: scale})
}

// elements finds the eclipse: in the catalogue, or in the claim's own file.
func (j *judge) elements(q *question) (*eclipse.Elements, error) {
	day, err := time.Parse(time.DateOnly, q.day)
	if err != nil {
		return nil, err
	}
	if q.elements != "" {
		return j.own(q.elements, day)
	}
	e, err := j.catalogue.On(day)
	if none := (*canon.NoEclipseError)(nil); errors.As(err, &none) {
		if year := q.day[:4]; year < none.First[:4] || year > none.Last[:4] {
			return nil, fmt.Errorf("the catalogue runs from %s to %s, give elements for %s", none.First[:4], none.Last[:4], q.day)
		}
		return nil, fmt.Errorf("%w: no eclipse within a day of %s%s", errNoEvent, q.day, neighbours(none))
	}
	return e, err
}

func neighbours(e *canon.NoEclipseError) string {
	if e.Before == "" || e.After == "" {
		return ""
	}
	return fmt.Sprintf(", the nearest are on %s and %s", e.Before, e.After)
}

// manyFiles bounds the files of elements that are kept.
const manyFiles = 500

// own reads the claim's own elements.
func (j *judge) own(name string, day time.Time) (*eclipse.Elements, error) {
	f, ok := j.files[name]
	if !ok {
		if len(j.files) >= manyFiles {
			clear(j.files)
		}
		f = j.load(name)
		j.files[name] = f
	}
	if f.err != nil {
		return nil, f.err
	}
	greatest, err := time.Parse(time.DateOnly, f.elements.Date)
	if err != nil {
		return nil, err
	}
	if apart := day.Sub(greatest); apart < -24*time.Hour || apart > 24*time.Hour {
		return nil, fmt.Errorf("elements: %s holds the eclipse of %s, not of %s", name, f.elements.Date, day.Format(time.DateOnly))
	}
	return f.elements, nil
}

func (j *judge) load(name string) loaded {
	data, err := j.read(name)
	if err != nil {
		return loaded{err: fmt.Errorf("elements: %w", err)}
	}
	e := new(eclipse.Elements)
	if err := json.Unmarshal(data, e); err != nil {
		return loaded{err: fmt.Errorf("elements: %s: %w", name, err)}
	}
	return loaded{elements: e}
}
