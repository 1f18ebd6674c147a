package fit

import (
	"math"
	"slices"
	"strings"
	"time"

	"example.org/noonfall/sun/timescale"
)

// A SeenContact is one of the four contacts as the light of this log shows it.
//
// First and fourth are kinks that hardly show: minutes are usual. Second and third are
// told to a second or so, from the last and first minute of light. Each is found from its
// own minutes alone, so that one may be compared with the others; the clock's offset,
// which all of them share, is theirs together, so that they cannot be late all at once.
type SeenContact struct {
	Name string // "C1" to "C4"
	// Stamp is what the logger's clock showed, StampU its standard uncertainty, s.
	Stamp  time.Time
	StampU float64
	// UTC is the stamp with the offset of the whole log taken out.
	UTC time.Time
	// Late is by how many seconds the contact came after the prediction, and LateU the
	// standard uncertainty of that and of UTC: StampU and OffsetU together, as if
	// they had nothing to do with one another.
	Late, LateU float64
}

// An UnseenContact is one that the log does not tell, and why.
type UnseenContact struct {
	Name   string // "C1" to "C4"
	Reason string // "no readings", "cloud", "Sun down" or "too faint to tell"
}

// A flank is where a contact is looked for: from and to are seconds after it, reach how
// far it may be from where the whole log has it, and vague the largest uncertainty worth
// telling, s. The log's own uncertainty is widened by widen, for a sky that bends by
// itself, and by model, s, for heights of the Moon's edge that are not where they are
// thought to be, which bend the last crescent. Both were set where a study of rehearsed
// logs covered too little, and checked on others.
type flank struct {
	name         string
	at, from, to float64
	reach, vague float64
	widen, model float64
}

// flanks are those of the contacts that there are. How wide they are is common practice,
// no source: the kinks want a quarter of an hour of the light's own course on either
// side, the edges of totality a minute and a half of crescent.
func (l *light) flanks() []flank {
	half := math.Min(l.c4, -l.c1) / 2
	out := []flank{
		{name: "C1", at: l.c1, from: -1200, to: math.Min(1200, half), reach: 900, vague: 600, widen: 1.35},
		{name: "C4", at: l.c4, from: -math.Min(1200, half), to: 1200, reach: 900, vague: 600, widen: 1.35},
	}
	if l.dark && l.c3 > l.c2 {
		inside := math.Min(40, (l.c3-l.c2)/2)
		out = append(out,
			flank{name: "C2", at: l.c2, from: -90, to: inside, reach: 30, vague: 15, widen: 1, model: l.innerU[0]},
			flank{name: "C3", at: l.c3, from: -inside, to: 90, reach: 30, vague: 15, widen: 1, model: l.innerU[1]})
	}
	return out
}

// contacts looks for each contact around the shift of the whole log.
func (p *problem) contacts(r *Result, best float64, cloudy []bool) {
	defer func() {
		p.use(p.temper)
		p.deviance(best)
	}()
	for _, f := range p.light.flanks() {
		why := p.hidden(f, best, cloudy)
		if why == "" {
			if c, ok := p.contact(f, best, r); ok {
				r.Contacts = append(r.Contacts, c)
				continue
			}
			why = "too faint to tell"
		}
		r.Unseen = append(r.Unseen, UnseenContact{Name: f.name, Reason: why})
	}
	slices.SortFunc(r.Contacts, func(a, b SeenContact) int { return strings.Compare(a.Name, b.Name) })
	slices.SortFunc(r.Unseen, func(a, b UnseenContact) int { return strings.Compare(a.Name, b.Name) })
}

// hidden says why a contact cannot be seen at all.
func (p *problem) hidden(f flank, best float64, cloudy []bool) string {
	const least = 3 // readings on either side
	if p.light.clear.at(f.at) < logLeastClear {
		return "Sun down"
	}
	var before, after, under int
	for k, t := range p.t {
		switch s := t - best - f.at; {
		case s < f.from || s > f.to:
			continue
		case s < 0:
			before++
		default:
			after++
		}
		if cloudy[k] || p.loose[k] > 0 {
			under++
		}
	}
	switch {
	case before < least || after < least:
		return "no readings"
	case 4*under > before+after:
		return "cloud"
	}
	return ""
}

// contact fits the flank alone. The level is free where it begins and ends, so that
// nothing but its own shape tells the time.
func (p *problem) contact(f flank, best float64, r *Result) (SeenContact, bool) {
	jumps := slices.Clone(p.jump)
	defer func() { p.jump = jumps }()
	from, to := best+f.at+f.from, best+f.at+f.to
	p.free(from, to)
	p.fill(best)
	lo, _ := slices.BinarySearch(p.t, from)
	hi, _ := slices.BinarySearch(p.t, math.Nextafter(to, math.Inf(1)))
	of := func(by float64) float64 {
		p.nudge(best, lo, hi, by)
		return p.reg.deviance(p.filter, p.rows)
	}
	const points = 4
	at, least := 0.0, of(0)
	step := f.reach / points
	for i := -points; i <= points; i++ {
		if i == 0 {
			continue
		}
		if d := of(float64(i) * step); d < least {
			at, least = float64(i)*step, d
		}
	}
	at, least = narrow(of, at-step, at, at+step, least, f.vague/100)
	u := math.Hypot(f.model, f.widen*(p.rise(of, at, least, f, -1)+p.rise(of, at, least, f, 1))/2)
	if !(u < f.vague) || math.Abs(at) > f.reach-step {
		return SeenContact{}, false
	}
	scale, max := p.light.curve.Observer().Scale(), p.light.max
	stamp := f.at + best + at
	late := best + at - r.Offset
	return SeenContact{
		Name: f.name, Stamp: scale.UTC(max + timescale.TT(stamp)), StampU: u,
		UTC: scale.UTC(max + timescale.TT(stamp-r.Offset)), Late: late, LateU: math.Hypot(u, r.OffsetU),
	}, true
}

// nudge moves the prediction of some readings by some seconds from where a shift has it.
func (p *problem) nudge(shift float64, lo, hi int, by float64) {
	p.seenAt = math.NaN() // what is seen is no shift's from here on
	for k := lo; k < hi; k++ {
		p.light.sight((p.t[k]-shift)/(1+p.rate)-by, p.plain, &p.seen[k])
	}
	p.write(shift, lo, hi)
}

// free lets the level step where a stretch of stamps begins and ends.
func (p *problem) free(from, to float64) {
	for k := 1; k < len(p.t); k++ {
		for _, edge := range []float64{from, to} {
			if p.t[k-1] <= edge && p.t[k] > edge {
				p.jump[k]++
			}
		}
	}
	p.use(p.temper)
}

// rise is how far to one side the deviance has risen by one, by the root of its rise, which
// is nearly in proportion to the distance.
func (p *problem) rise(of func(float64) float64, at, least float64, f flank, sign float64) float64 {
	const steps, near, most = 8, 0.1, 4.0
	u := f.vague / 16
	for range steps {
		root := math.Sqrt(math.Max(0, of(at+sign*u)-least))
		if math.Abs(root-1) <= near || u > f.vague && root < 1 {
			break
		}
		u *= math.Max(1/most, math.Min(most, 1/root))
	}
	return u
}
