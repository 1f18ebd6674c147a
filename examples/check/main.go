// Check looks at somebody else's numbers: it computes each of them anew and says
// whether it agrees.
//
//	go run ./examples/check
//	go run ./examples/check -claims claims.csv
//	go run ./examples/check -claims claims.csv -json -out /tmp/check
//
// Without flags it checks a published bulletin of the eclipse of 1999. A claims
// file has a line for each number and a header that names the columns, in any order:
//
//	id         whatever tells the claim from others
//	date       the eclipse's day, YYYY-MM-DD; a day either side serves too
//	lat_deg, lon_deg, height_m   north and EAST positive; the height may be empty, for 0
//	delta_t_s  TT-UT1 that the claim was made with; empty for this library's own
//	scale      UTC, or UT as almanacs print it (TT - Delta T); empty for UTC
//	quantity   c1 c2 max c3 c4, magnitude obscuration diameter_ratio duration_s, or
//	           alt_deg az_deg p_deg v_deg at one of these instants, as in p_deg@c1
//	value      an instant like 2027-08-02T08:47:28.3Z, otherwise a number
//	tolerance  in the value's unit; empty for half the last digit given
//	k1, k2     lunar radii, where the claim was made with others (optional)
//	elements   a JSON file of elements beside the claims, to use instead of the
//	           catalogue (optional)
//
// Other columns pass through.
//
// # What you will learn
//
// What it takes to check a number fairly: the same question, the same definition and a fair
// allowance; and how the usual mistakes betray themselves by the pattern of the differences.
//
// # The physics
//
// First the same question. The Moon's shadow keeps dynamical time, TT, and a site turns with the
// Earth, which is late by Delta T. A site's hour angle from the shadow's axis is
//
//	H = mu + east longitude - 15.041 Delta T / 3600       degrees, Delta T in seconds
//	UT = TT - Delta T
//
// A bulletin of 1999 forecast another Delta T than the one that came, and had its own lunar
// radii; with the wrong ones every contact is seconds off and nobody is to blame. A longitude
// with the wrong sign puts the site under another part of the shadow, minutes away and each
// site by another amount; a zone in place of UTC is whole hours, alike for all.
//
// Then the same definition. The horizon is ignored: a contact below it has an
// instant all the same, and an almanac that gives the depth at sunrise instead
// is told that it differs. Altitudes are those of the Sun's centre without
// refraction. Maximum is where the magnitude is greatest; older bulletins mean the
// least distance from the shadow's axis, another instant in a shallow eclipse.
//
// Last a fair allowance. A figure printed to a tenth is good to half of one, and
// this is the tolerance where the claim states none.
//
// Source: Explanatory Supplement to the Astronomical Almanac (1992), chapter 8, from memory; the
// claims of the demo are NASA RP 1398, table 21, and five invented ones.
//
// # A run
//
//	go run ./examples/check
//
// A bulletin's numbers, and what became of five that were made up:
//
//	claims.csv of the demo (NASA RP 1398, table 21, and five invented ones): 109 claims
//
//	    104  agrees         within the claim's tolerance, or half its last digit
//	      3  differs        by more than that
//	      1  no-such-event  nothing of that name happens there and then
//	      1  bad-claim      cannot be read
//
//	Claims that do not agree (difference is claimed minus computed)
//
//	  claim       quantity  claimed                    computed                   difference   verdict
//	  invented-1  c1        1999-08-11 09:20:41.70 UT  1999-08-11 09:19:41.66 UT  +60.04 s     differs
//	  invented-2  p_deg@c1  87.00                      266.77                     -179.77 deg  differs
//	  invented-3  c2        1999-08-11 10:29:00.00 UT  -                                       no-such-event
//	  invented-4  max       -                          -                                       bad-claim
//	  invented-5  c4        1999-08-11 11:41:01.60 UT  1999-08-11 11:29:28.95 UT  +692.65 s    differs
//	...
//	What would explain those that do not agree, found by trying
//
//	  If the longitude has the other sign (west positive),
//	    in 1 of 14 sites (60.3833,-5.33333):
//	    1 of the 1 it is about would agree.
//	    seconds: median +692.65, then +0.04
//
//	...
//
// Each claim gets one of four verdicts: agrees, differs, no-such-event (nothing
// happens there and then), bad-claim (it cannot be read; the reason says why). None
// is dropped, and none ends the program. The file is read as a stream: its length
// does not matter.
//
// Where claims differ, the usual mistakes and choices are tried on them: each is put as it
// would have to be put, and answered again. What makes most of a group of claims agree (all
// of them, an eclipse's, a quantity's, a site's), spoils fewer than it mends and is not to be
// had by luck, is named, with how many and with the differences before and after; then the
// rest is searched again. Nothing is guessed, and a fitted number, hours of a zone or
// seconds of Delta T, must do better than what needs none.
//
// # How the library is asked
//
//	elements = elements.WithRadii(k1, k2)
//	prepared, err := eclipse.Prepare(elements, eclipse.Options{Scale: timescale.FixedDeltaT(64.6)})
//	observer, err := prepared.Observer(site)
//	c := observer.Circumstances()
//	c.C1.UT // as the bulletin prints it; c.C1.UTC is what a clock shows
//
// Printed predictions have a smooth Moon, and so has this program. Where a claim was
// made with the Moon's mountains, -limb real has c2, c3 and duration_s computed with
// them too, whatever k2 is. Everything else stays that of the smooth Moon: c1, c4, the
// maximum and its depth, and all angles, those at c2 and c3 included.
//
//	moon, err := limb.NewMoon(observer, limb.Options{})
//	moon.Contacts().LimbC2.UTC
//
// # What is written
//
// With -json the answer is an object a line, in the order of the claims. With -out
// a folder gets both forms, as check.txt and check.jsonl, and a picture of the differences,
// residuals.svg. -deltat stands in for
// delta_t_s where it is empty, -site and -date likewise for theirs.
//
// # An exercise
//
// Somebody's table of 2 August 2027 has the yard at longitude 5.6 and its maximum at 08:47:28.3;
// examples/ANSWERS.md has the table. Check it as it is. Each of its numbers differs: by how much,
// and is it alike for all sites? Which one mistake makes that pattern? Mend it in the file and check again.
package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"io"

	"example.org/noonfall/examples/internal/cli"
)

func main() { cli.Main("check", run) }

// settings are the flags.
type settings struct {
	cli.Common
	claims                  string
	given, dated, somewhere bool // -claims, -date, -site stand on the command line
}

// run reads the flags, opens the claims and answers.
func run(ctx context.Context, out io.Writer, args []string) error {
	fs, opt := cli.NewFlagSet("check", "does somebody else's number agree? -limb real asks the Moon's mountains about c2, c3 and duration_s, and nothing else"), settings{Common: cli.Scenario()}
	opt.Register(fs)
	fs.StringVar(&opt.claims, "claims", "", "the claims, a CSV `file` with a header")
	if err := cli.Parse(fs, args, out); err != nil {
		return err
	}
	fs.Visit(func(f *flag.Flag) {
		opt.given = opt.given || f.Name == "claims"
		opt.dated = opt.dated || f.Name == "date"
		opt.somewhere = opt.somewhere || f.Name == "site"
	})
	switch {
	case fs.NArg() > 0:
		return cli.Usagef("unexpected argument %q, name the claims file with -claims", fs.Arg(0))
	case opt.given && opt.claims == "":
		return cli.Usagef("-claims is empty, want the name of a CSV file")
	}
	src, err := opt.open()
	if err != nil {
		return err
	}
	defer src.Close()
	c, err := newChecker(src, &opt)
	if err != nil {
		return err
	}
	return answer(ctx, out, c, &opt)
}

// answer walks the claims once and writes what is asked for.
func answer(ctx context.Context, out io.Writer, c *checker, opt *settings) error {
	sum := newTally(c.sheet.name, opt.Limb)
	kept := newSample()
	walk := func(w io.Writer) error {
		return c.each(ctx, func(a *finding) error {
			sum.add(a)
			kept.add(a)
			return writeLine(w, a)
		})
	}
	lines := bufio.NewWriter(io.Discard)
	if opt.JSON {
		lines = bufio.NewWriter(out)
	}
	err := walkInto(opt.Out, lines, walk)
	// What was answered before a failure is not lost.
	if err := errors.Join(err, lines.Flush()); err != nil {
		return err
	}
	sum.explained = kept.explain(&c.judge)
	if opt.Out != "" {
		if err := cli.WriteFile(opt.Out, "check.txt", sum.writeText); err != nil {
			return err
		}
		if err := cli.WriteFile(opt.Out, "residuals.svg", sum.writePicture); err != nil {
			return err
		}
	}
	if opt.JSON {
		return nil
	}
	return sum.writeText(out)
}

// walkInto walks the claims with their lines going to w, and into the folder where
// one is named.
func walkInto(folder string, w io.Writer, walk func(io.Writer) error) error {
	if folder == "" {
		return walk(w)
	}
	return cli.WriteFile(folder, "check.jsonl", func(f io.Writer) error { return walk(io.MultiWriter(w, f)) })
}
