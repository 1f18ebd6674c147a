package campaign

import (
	"errors"
	"fmt"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/station"
)

// A Member is one station of the eclipse at hand.
type Member struct {
	// Name is the station's code, with a number after it where several stations use one.
	Name    string
	Key     Key              // of its summary
	Summary *station.Summary // as it was added
	// Clock is the offset, s, less the hours of a clock on local time; NaN where it was refused.
	Clock float64
	// Own is what is left of it when the offset that all trusted stations share is taken away, and
	// OwnU its standard uncertainty, s; NaN for stations whose clock was set by no network or satellite.
	Own, OwnU float64
	// Light is by how much the station's light exceeds the pooled one at the same
	// obscuration, median, as a natural logarithm; NaN where it has none to compare.
	Light float64

	circumstances eclipse.Circumstances // at the summary's site
	observer      eclipse.Observer
}

// trusted says that its stamps may date the shadow.
func (m *Member) trusted() bool { return m.Summary.Clock != nil && m.Summary.ClockSet.Trusted() }

// placed says that its light does not speak for another place or day than it names.
func (m *Member) placed() bool { return m.Summary.Misplaced == "" }

// An Outlier is a station that disagrees with the others by more than 3.5 of the score that its
// Rule states, and not with its own say-so.
type Outlier struct {
	Name  string  // the station's, as in Member
	What  string  // "clock", "light" or "response"
	Value float64 // what this station has, in Unit
	// Usual is what the others have, and Score by how many of its own and their deviations
	// this one is from it.
	Usual, Score float64
	Unit         string // of Value and Usual: "s", "logarithm" of light, "exponent"
}

// Rule states how outliers are found.
const Rule = "more than 3.5 deviations from the weighted median, a deviation being the station's own uncertainty and 1.4826 times the median distance from that median, in quadrature"

// A CurvePoint is the light of all stations within a narrow range of obscuration.
type CurvePoint struct {
	Obscuration float64 // middle of the range, [0, 1]
	// Median, Low and High are parts of a clear sky's light: the middle of the stations'
	// own medians, and their 16 and 84 % quantiles.
	Median, Low, High float64
	N                 int // stations
}

// A Result is what the stations of one eclipse say together.
type Result struct {
	Eclipse  string   // day
	Stations []Member // all of this eclipse, by name
	// Apart are the summaries of other eclipses, by day.
	Apart map[string]int
	// Curve is the pooled light, ascending in obscuration.
	Curve    []CurvePoint
	Outliers []Outlier
	// Shared is the offset that the stations with a trusted clock have in common, s: the sensor's
	// lag and the averaging, if they are of one make. SharedSpread is by how much they
	// differ beyond their own uncertainties, s. Outliers are left out.
	Shared       Figure
	SharedSpread float64
	// Sweep is how the shadow went over the ground, nil where too few stations can tell.
	Sweep *Sweep
	// Moon is its distance from parallax, nil where no two stations can tell.
	Moon *MoonDistance
	// Darkening is the Sun's brightness at a cosine of one half over that of the centre.
	Darkening Figure
	// Untold says, for each figure that there is not, why.
	Untold   map[string]string
	Warnings []string // for a person to read
}

// ErrNoStations says that a campaign has no station of the eclipse.
var ErrNoStations = errors.New("campaign: no station of that eclipse")

// Pool puts the stations of one eclipse together. Its arithmetic runs in the order of All,
// so that the same set gives the same bits. Options are those of the observers that predict
// for the stations' sites. The error is ErrNoStations, or says that the elements cannot be used.
func (c *Campaign) Pool(e *eclipse.Elements, opt eclipse.Options) (*Result, error) {
	r := &Result{Eclipse: e.Date, Apart: map[string]int{}, Untold: map[string]string{}}
	prepared, err := eclipse.Prepare(e, opt)
	if err != nil {
		return nil, fmt.Errorf("campaign: %w", err)
	}
	for k, s := range c.All() {
		if s.Eclipse != e.Date {
			r.Apart[s.Eclipse]++
			continue
		}
		m := Member{Name: s.Code, Key: k, Summary: s, Clock: math.NaN(), Own: math.NaN(), OwnU: math.NaN(), Light: math.NaN()}
		if m.observer, err = prepared.Observer(s.Site.Sun()); err != nil {
			return nil, fmt.Errorf("campaign: station %q: %w", s.Code, err)
		}
		m.circumstances = m.observer.Circumstances()
		if s.Clock != nil {
			m.Clock = s.Clock.OffsetS - 3600*s.Clock.ZoneH
		}
		r.Stations = append(r.Stations, m)
	}
	if len(r.Stations) == 0 {
		return nil, fmt.Errorf("%w: %s", ErrNoStations, e.Date)
	}
	r.tellApart()
	r.clocks()
	r.curve()
	r.responses()
	r.sweep()
	r.parallax(e)
	r.darkening()
	return r, nil
}

// tellApart numbers the stations that share a code, and names them.
func (r *Result) tellApart() {
	count := map[string]int{}
	for i := range r.Stations {
		m := &r.Stations[i]
		if m.Name == "" {
			m.Name = "unnamed"
		}
		code := m.Name
		if count[code]++; count[code] > 1 {
			m.Name = fmt.Sprintf("%s (%d)", code, count[code])
			before := &r.Stations[i-1]
			where := "at different places"
			if before.Summary.Site == m.Summary.Site {
				where = "at one place: was it reduced twice?"
			}
			r.warn("%s is the code of more than one summary, %s; the later is %s here", code, where, m.Name)
		}
	}
}

func (r *Result) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}

// clocks finds the offset that the trusted stations share, and what is each one's own.
func (r *Result) clocks() {
	var who []int
	var all []measurement
	for i := range r.Stations {
		if m := &r.Stations[i]; m.trusted() {
			who = append(who, i)
			all = append(all, measurement{m.Clock, m.Summary.Clock.OffsetU})
		}
	}
	if len(all) < 2 {
		r.Untold["shared offset"] = fmt.Sprintf("two stations are wanted whose clock was set by network or satellite, and told by the light; there are %d", len(all))
		return
	}
	usual := weightedMedian(all)
	var agree []measurement
	for j, z := range scores(all) {
		if math.Abs(z) > far {
			r.Outliers = append(r.Outliers, Outlier{Name: r.Stations[who[j]].Name, What: "clock", Value: all[j].value, Usual: usual, Score: z, Unit: "s"})
			continue
		}
		agree = append(agree, all[j])
	}
	r.Shared, r.SharedSpread = pooled(agree)
	for j, i := range who {
		r.Stations[i].Own, r.Stations[i].OwnU = all[j].value-r.Shared.Value, math.Hypot(all[j].u, r.Shared.U)
	}
}

// responses holds the answer of calibrated sensors against light itself.
func (r *Result) responses() {
	for i := range r.Stations {
		s := r.Stations[i].Summary
		if s.Clock == nil || !s.Calibrated {
			continue
		}
		e := s.Clock.Exponent
		if z := (e.Value - 1) / math.Hypot(e.U, s.CalibrationU); math.Abs(z) > far {
			r.Outliers = append(r.Outliers, Outlier{Name: r.Stations[i].Name, What: "response", Value: e.Value, Usual: 1, Score: z, Unit: "exponent"})
		}
	}
}

// darkening pools the limb darkening.
func (r *Result) darkening() {
	var all []measurement
	for i := range r.Stations {
		if d := r.Stations[i].Summary.Darkening; d != nil {
			all = append(all, measurement{d.Value, d.U})
		}
	}
	if len(all) == 0 {
		r.Untold["limb darkening"] = "no station tells it: a calibrated sensor and a good sky are wanted"
		return
	}
	r.Darkening, _ = pooled(all)
}
