// Rehearse tries the plan before the day, because the day cannot be repeated: it makes up
// the logs that your logger would write under everything you fear, reduces them as the real
// ones will be, and says what would survive.
//
//	go run ./examples/rehearse
//	go run ./examples/rehearse -site 36.0,-5.6,10 -clock 90 -zone 0 -sky broken -days 5
//	go run ./examples/rehearse -station station.json -out /tmp/rehearsal
//	go run ./examples/rehearse -bench demo
//	go run ./examples/rehearse -bench evening.csv -json
//
// Without flags it is the invented school yard's station that rehearses the total eclipse of
// 2 August 2027. Give -site and -date for your own, and -station for your sensor: its
// JSON file holds the chain from light to counts, as divider and calibrate help to find it.
//
// # What you will learn
//
// Which mishaps cost the measurement and which do not; what an honest interval is, and how one
// is tested; why a refusal is better than a number. And on the bench, with a ball and a lamp, whether
// the logger works at all.
//
// Each fear is one row of a table, tried on a few made-up days (-days): a clock that was set badly
// and drifts (-clock, -drift), one left on local time (-zone), skies from thin cloud to
// an overcast (-sky), power that fails (-cuts, -outage), a card that tears lines and loses
// sectors (-torn, -zeros); and then all of it at once. Zero takes a fear off the list.
//
// # The physics
//
// With x the seconds from the predicted maximum, the light on the sensor is
//
//	light(x) = (sky(x) visible(x) + rest(x) (1 - visible(x))) exp(-cloud(x))
//	stamp(x) = UTC + clock + 3600 zone + drift x / 10^6
//
// sky is a clear day's light without eclipse, visible the part of the Sun's light that is
// left past the Moon's real edge, rest the glow of totality and cloud the weather. The counts follow through
// your chain, with parts that are off within their own tolerances. The reduction is told none of
// it, and its formulas for sky, cloud and the Sun's edge are others: a log made with the very
// model that is then fitted would prove only the algebra, and flatter.
//
// A 95 % interval is a promise that it holds the truth nineteen times in twenty. Whoever has
// made up the truth can count.
//
// Source: package eclipse/rehearsal, which says whence each part comes; the interval is that of
// JCGM 100:2008 (GUM), 6.2.
//
// # A run
//
//	go run ./examples/rehearse -days 1 -sky haze,broken
//
// One made-up day for each fear, under two of the skies:
//
//	...
//	  The plan: a photoresistor with 220 ohm, 12 bits, a record every 2s from an hour before
//	  first to an hour after fourth contact. Made-up days of each fear: 1.
//	...
//	WHAT WAS FEARED, AND WHAT CAME BACK
//	  fear         put in                                    clock, s       truth    log                            verdict
//	  nothing      a clear sky, a right clock, a whole card  +0.1 +-0.4     +0.0     all lines                      survived
//	  the clock    +41.7 s, gaining 11 millionths            +41.8 +-0.4    +41.7    all lines                      survived
//	  local time   stamps +2 h from UTC, unsaid              +7200.1 +-0.4  +7200.0  all lines                      survived
//	  sky: haze    thin high cloud, restless within minutes  +0.0 +-0.6     +0.0     all lines                      survived
//	  sky: broken  shadows half of the time                  +21.1 +-85.4   +0.0     all lines                      blurred
//	  power cuts   2 of 1m0s                                 +0.1 +-0.4     +0.0     124 s of power lost            survived
//	  a torn card  20 torn lines, 5 with zero bytes          +0.1 +-0.4     +0.0     25 lines lost                  survived
//	  all at once  all of that, under a haze sky             +7241.7 +-0.7  +7241.7  25 lines, 124 s of power lost  survived
//	...
//	WHAT TO CHANGE BEFORE THE DAY
//	- sky: broken: Have a second station some tens of kilometres away: one cloud does not
//	  cover both.
//	...
//
// The verdicts: a fear is "survived" where each day's clock is found, its 95 % interval holds the
// truth, and is no wider than -within either way; "blurred" where the interval holds it
// and is wider; "refused" where the light could not tell on some day and the reduction said so,
// which is an honest answer and no result; "MISLED" where an interval is further off than chance
// explains, and "untried" where the damage found no room in the log. One interval in twenty may
// miss by a little: that is what 95 % says.
//
// # How the library is asked
//
//	log, err := rehearsal.Make(ctx, plan)          // what the logger writes, and the truth
//	report, err := station.Reduce(ctx, s, files, station.Options{})
//	inside := report.Clock.CI95[0] <= log.Truth.Offset && log.Truth.Offset <= report.Clock.CI95[1]
//
// The other half is for the bench. Hang a ball before a lamp, let the logger run, and see whether
// it and its files work at all: -bench reads such a log, finds every passage of the ball, and says
// when it began, was deepest, and ended. No calibration is needed:
//
//	found, err := dips.Find(ctx, readings, dips.Options{})
//
// # What is written
//
// With -out everything goes into a folder: rehearse.txt and rehearse.json, the first made-up log
// of each fear with its truth (and the station's file, so that reduce can read them), and the pictures
// day.svg and fears.svg; for the bench bench.txt, bench.json and bench.svg. All made-up logs say so in
// their first line.
//
// # An exercise
//
// How slow may the clock be? Leave only the clock's fear (-sky none -cuts 0 -torn 0 -zeros 0
// -zone 0 -drift 0 -days 1) and give -clock minus a minute, an hour, 50000 s and 60000 s. Does the
// answer get worse with the error? Where does it end, and what clock could be so wrong? Then move to
// -site 40.41,-3.69,650, outside the path: what has become of the interval, and why?
package main

import (
	"context"
	"flag"
	"io"

	"example.org/noonfall/examples/internal/cli"
)

func main() { cli.Main("rehearse", run) }

// run reads the flags and does one of the two things.
func run(ctx context.Context, out io.Writer, args []string) error {
	o, err := parse(args, out)
	if err != nil {
		return err
	}
	if o.bench != "" {
		return o.runBench(ctx, out)
	}
	r, err := o.rehearse(ctx)
	if err != nil {
		return err
	}
	if err := r.save(o.Out); err != nil {
		return err
	}
	if o.JSON {
		return r.writeJSON(out)
	}
	return r.writeText(out)
}

// given are the flags on the command line.
func given(fs *flag.FlagSet) map[string]bool {
	out := map[string]bool{}
	fs.Visit(func(f *flag.Flag) { out[f.Name] = true })
	return out
}
