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
// Each fear is one row of a table, tried on a few made-up days (-days): a clock that was set badly
// and drifts (-clock, -drift), one left on local time (-zone), skies from thin cloud to
// an overcast (-sky), power that fails (-cuts, -outage), a card that tears lines and loses
// sectors (-torn, -zeros); and then all of it at once. Zero takes a fear off the list.
//
// A day is made from the eclipse's light past the Moon's real edge, an atmosphere, clouds, and your
// chain with parts that are off within their own tolerances. The reduction is told none of it:
//
//	log, err := rehearsal.Make(ctx, plan)          // what the logger writes, and the truth
//	report, err := station.Reduce(ctx, s, files, station.Options{})
//	inside := report.Clock.CI95[0] <= log.Truth.Offset && log.Truth.Offset <= report.Clock.CI95[1]
//
// The verdicts: a fear is "survived" where each day's clock is found, its 95 % interval holds the
// truth, and is no wider than -within either way; "blurred" where the interval holds it
// and is wider; "refused" where the light could not tell on some day and the reduction said so,
// which is an honest answer and no result; "MISLED" where an interval is further off than chance
// explains, and "untried" where the damage found no room in the log. One interval in twenty may miss by a little: that is what 95 % says.
//
// The other half is for the bench. Hang a ball before a lamp, let the logger run, and see whether
// it and its files work at all: -bench reads such a log, finds every passage of the ball, and says
// when it began, was deepest, and ended. No calibration is needed:
//
//	found, err := dips.Find(ctx, readings, dips.Options{})
//
// With -out everything goes into a folder: rehearse.txt and rehearse.json, the first made-up log
// of each fear with its truth (and the station's file, so that reduce can read them), and the pictures
// day.svg and fears.svg; for the bench bench.txt, bench.json and bench.svg. All made-up logs say so in
// their first line.
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
