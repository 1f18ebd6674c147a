package main

import (
	"fmt"
	"time"

	"example.org/noonfall/eclipse/rehearsal"
)

// A fear is something that may happen on the day.
type fear struct {
	key, name string // key names its files
	put       string // what is put into the log, in words
	into      func(p *rehearsal.Plan)
	remedy    string // what to change where it does not survive
}

// The skies in words, and what helps.
var skyWords = map[rehearsal.Weather][2]string{
	rehearsal.Clear:   {"nothing but slow haze", "Nothing to be done: a longer margin before and after helps a little."},
	rehearsal.Haze:    {"thin high cloud, restless within minutes", "Record an hour before first and after fourth contact, so that the haze can be told from the eclipse."},
	rehearsal.Cumulus: {"a few passing shadows", "Record at one a second, so that what lies between the shadows is used."},
	rehearsal.Broken:  {"shadows half of the time", "Have a second station some tens of kilometres away: one cloud does not cover both."},
	rehearsal.Deck:    {"thick smooth cloud throughout", "Be ready to move, or have a second station elsewhere; set the clock from a network or satellite, since the light may not tell it."},
	rehearsal.Shade:   {"a wall or a tree from some instant on", "Stand at the place on the day before at the same hours, and look where the shadows go."},
	rehearsal.Veiled:  {"a bank of cloud over the maximum", "The edges of the eclipse carry the clock then: record from an hour before first to an hour after fourth contact."},
	rehearsal.Cirrus:  {"high cloud in patches of every size", "Record at one a second, and an hour before first and after fourth contact: patches pass, and the clear between them tells."},
}

// fears lists what is tried, the quiet day first and all of it at once last.
func (o *settings) fears() []fear {
	out := []fear{{
		key: "quiet", name: "nothing", put: "a clear sky, a right clock, a whole card",
		into:   func(*rehearsal.Plan) {},
		remedy: "The plan fails on a perfect day: look at the sensor first (divider), and at the hours (plan).",
	}}
	all := 0
	add := func(on bool, f fear) {
		if on {
			out = append(out, f)
			all++
		}
	}
	add(o.clock != 0 || o.drift != 0, fear{"clock", "the clock", fmt.Sprintf("%+g s, gaining %g millionths", o.clock, o.drift), o.clockInto,
		"Set the clock on the eve from a network or satellite, and note the second by a good watch before and after the eclipse."})
	add(o.zone != 0, fear{"zone", "local time", fmt.Sprintf("stamps %+d h from UTC, unsaid", o.zone), o.zoneInto,
		"Set the logger to UTC, or write the zone into every stamp."})
	for _, w := range o.skies {
		words := skyWords[w]
		add(true, fear{"sky-" + w.String(), "sky: " + w.String(), words[0], func(p *rehearsal.Plan) { p.Weather = w }, words[1]})
	}
	add(o.cuts > 0 && o.outage > 0, fear{"power", "power cuts", fmt.Sprintf("%d of %v", o.cuts, o.outage), o.powerInto,
		"Use a battery of twice the need, with a switch that cannot be knocked; start again by itself after a cut, appending to the same file."})
	add(o.torn > 0 || o.zeros > 0, fear{"card", "a torn card", fmt.Sprintf("%d torn lines, %d with zero bytes", o.torn, o.zeros), o.cardInto,
		"Close or flush the file every few lines, and format the card before the day."})
	if all > 1 {
		out = append(out, fear{"all", "all at once", o.allWords(), o.allInto,
			"Mend the worst of the fears above first, then rehearse again."})
	}
	return out
}

func (o *settings) clockInto(p *rehearsal.Plan) { p.Offset, p.DriftPPM = o.clock, o.drift }
func (o *settings) zoneInto(p *rehearsal.Plan)  { p.ZoneHours = o.zone }
func (o *settings) powerInto(p *rehearsal.Plan) {
	p.Damage.PowerCycles, p.Damage.Outage = o.cuts, o.outage
}
func (o *settings) cardInto(p *rehearsal.Plan) {
	p.Damage.TornLines, p.Damage.NULRuns = o.torn, o.zeros
}

// allInto puts in everything, under the first of the skies.
func (o *settings) allInto(p *rehearsal.Plan) {
	o.clockInto(p)
	o.zoneInto(p)
	if o.cuts > 0 && o.outage > 0 {
		o.powerInto(p)
	}
	o.cardInto(p)
	if len(o.skies) > 0 {
		p.Weather = o.skies[0]
	}
}

func (o *settings) allWords() string {
	if len(o.skies) == 0 {
		return "all of the above"
	}
	return fmt.Sprintf("all of that, under a %v sky", o.skies[0])
}

// plan is a fear on one of its days.
func (r *result) plan(f fear, day int) rehearsal.Plan {
	o := r.o
	p := rehearsal.Plan{
		Elements: r.elements, Site: o.desc.Site.Sun(), Observer: r.observer, Chain: o.desc.Chain,
		Cadence: o.cadence, Margin: margin, Lag: o.lag, Seed: o.seed*1_000_003 + uint64(day),
	}
	f.into(&p)
	return p
}

// margin before first and after fourth contact: an hour, as package rehearsal has it.
const margin = time.Hour
