// Reduce is the main job: it reads a station's log, lays it over the predicted
// eclipse and says how wrong the logger's clock was, and how sure that is.
//
//	go run ./examples/reduce
//	go run ./examples/reduce -site 36.0,-5.6,10 -date 2027-08-02 20270802.csv
//	go run ./examples/reduce -zone America/Chicago -site 35.08,-92.46 -date 2024-04-08 log.csv
//	go run ./examples/reduce -json -out /tmp/reduce
//
// Without flags it reduces the log of an invented school-yard station that comes
// with it.
//
// # What you will learn
//
// How a curve that is known in advance becomes a clock, what must be found along the
// way and what must not, what stands behind a "give or take", and what a log says
// about its logger.
//
// # The physics
//
// The catalogue's elements give the fraction of the Sun's light that the Moon leaves,
// second by second, past the mountains of its real edge (-limb mean has the smooth one of
// the almanacs), and the clear sky's own course from the Sun's height. The log is compared
// with their product in the logarithm, since the response of a sensor is nearly a
// power of light:
//
//	log reading(t) = power x log light(t - offset) + slow sky + error
//
// The offset is the clock's: stamp minus true UTC, positive where the clock is
// fast. What the response is, how the sky drifted, how much light totality keeps
// and where clouds were are found along the way; rough minutes count for little.
// The result is a number with an interval, or a refusal that names its reason.
//
// How can a log of one line every two seconds tell tenths of a second? In the minute before
// second contact the light falls from 340 lx to 4, at the end by a fifth each second (by
// this library's curve for the yard), and thousands of lines elsewhere settle the rest.
// What no light can tell is the sensor's own lag: it looks like a clock that is fast.
//
// Source: package eclipse/fit, after A. C. Harvey, Forecasting, Structural Time Series Models
// and the Kalman Filter (1989), for the slow sky; JCGM 100:2008 (GUM) for what is combined.
//
// # A run
//
//	go run ./examples/reduce
//
// The eclipse as predicted, the clock, and what the light shows of the contacts:
//
//	...
//	WHAT THE SKY DID (prediction, UTC)
//	  total, magnitude 1.072, 100.0 % of the Sun covered
//	  C1 07:40:53.4  C2 08:45:07.8  max 08:47:28.3  C3 08:49:47.9  C4 10:00:46.4
//	  (C2 and C3 at the mountains of the Moon's edge, as the light has them; -limb mean for the printed ones)
//	...
//	THE CLOCK
//	  It was 41.8 s fast, give or take 0.2 s (one standard uncertainty).
//	  With 95 % confidence stamp minus UTC lies between +41.3 and +42.2 s.
//	  The light alone says +-0.06 s; what the Moon's edge leaves open adds +-0.23 s.
//	  The sensor's own lag and the averaging of samples are part of the offset: light cannot tell them from the clock.
//	...
//	  The light shows C1 at 07:38:20 UTC, -153 s from the prediction, give or take 226 s.
//	  The light shows C2 at 08:45:07 UTC, +0.2 s from the prediction, give or take 0.4 s.
//	  The light shows C3 at 08:49:47 UTC, +0.0 s from the prediction, give or take 0.3 s.
//	  The light shows C4 at 10:02:33 UTC, +107 s from the prediction, give or take 301 s.
//	...
//
// # How the library is asked
//
//	s := &station.Station{Site: station.Site{Lat: 36, Lon: -5.6}, Eclipse: "2027-08-02"}
//	report, err := station.Reduce(ctx, s, station.FilesIn(os.DirFS("."), "20270802.csv"), station.Options{})
//
// What happens in that one call? The reader looks at the file and decides how
// it is laid out: which columns are time and light. Each line becomes a record,
// or is taken down as a header, a blank or a problem; no byte is lost. Where the
// station's file describes the sensor, counts become lux. Then comes the comparison above.
//
// If the log has temperatures, the air's answer stands beside the clock's: how far it
// fell, how late, how fast it follows the light. With -control the log of a day without
// eclipse at the same hours is what it fell against, and shade that comes back at the
// same hour is told from cloud.
//
// A station's file, -station, holds what the flags say and more: the sensor, the control
// days, how the clock was set, and notes of the clock against a better one, which stand
// beside the light's verdict. The demo's, examples/internal/demo/data/station/station.json,
// is one to copy, and the comment of package eclipse/station says what each key means:
//
//	go run ./examples/reduce -station FOLDER/station.json
//	go doc ./eclipse/station
//
// A site, a date or a zone that is mistaken in a usual way, a swapped sign, exchanged
// coordinates, local time, is found from the light and named, and never mended in silence.
//
// Before that, and also where no verdict can be had, the log is asked about its
// logger: is it saturated at noon, does it still tell the end of civil twilight, which is
// as dark as totality, are there gaps, was the clock ever set? Any log of any day will
// do, and what to change before the day stands in a list, most important first.
//
// # What is written
//
// With -out the same goes into a folder as reduce.txt and reduce.json, with a
// picture, light.svg, another of the air, air.svg, and all of it on one page to read in a
// browser, print on A4 and hang on a board: report.html. Files that are compressed by gzip are unpacked; a folder
// stands for all the files in it.
//
// # An exercise
//
// Reduce the demo's log once more with -limb mean, against the smooth Moon of the printed
// almanacs. By how much do the predicted contacts move, by how much the clock's offset,
// and by how much its "give or take"? Say why the last one moves most. What the clock was
// in truth is offset_s in examples/internal/demo/data/truth.json; look there last.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	_ "time/tzdata" // zones by name on machines that have none

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/logfile"
)

func main() { cli.Main("reduce", run) }

// settings are the flags.
type settings struct {
	cli.Common
	station, zone string
	layout        station.Layout
	columns       string
	starts        string
	files         []string
	control       controls
	fit           fit.Options
	given         map[string]bool // the flags that were, by name
}

// run reads the flags, reduces and answers.
func run(ctx context.Context, out io.Writer, args []string) error {
	fs, opt := cli.NewFlagSet("reduce", "how wrong was the logger's clock? LOG... are its files, or a folder of them"), settings{Common: cli.Scenario()}
	opt.Limb = cli.Real
	opt.Register(fs)
	fs.StringVar(&opt.station, "station", "", "the station's description, a JSON `file`; its logs lie beside it")
	fs.StringVar(&opt.zone, "zone", "", "zone of stamps that carry none, `+HH:MM` or an IANA name")
	fs.StringVar(&opt.layout.Order, "order", "", "order of dates, `ymd|dmy|mdy`")
	fs.StringVar(&opt.layout.Light, "light", "", "the light `column`, by name or number from 1")
	fs.StringVar(&opt.columns, "columns", "", "columns of a file without header, a `list` of time date clock lat lon light light2 temp pressure humidity skip")
	fs.StringVar(&opt.layout.Delimiter, "delimiter", "", "what stands between the fields, `comma|semicolon|tab|bar|blank`")
	fs.StringVar(&opt.layout.Decimal, "decimal", "", "the decimal mark, `point|comma`")
	fs.StringVar(&opt.starts, "starts", "", "when the logger was started, `T1,T2` in RFC 3339, for a file that counts from there; one for each power-on")
	fs.StringVar(&opt.layout.Tick, "tick", "", "what such a count counts, `ms|s|us`")
	fs.BoolVar(&opt.fit.Drift, "drift", false, "fit how fast the clock went as well: for one that gains or loses seconds in an hour")
	fs.Float64Var(&opt.fit.ResponseU, "response-u", 0, "by how much the light column may be off a power of the light, a natural logarithm within five e-folds; 0.02 suits calibrated lux, and tells the limb darkening")
	fs.Var(&opt.control, "control", "logs of a day without eclipse at the same place, `LOG,...` or a folder; may be given again")
	if err := cli.Parse(fs, args, out); err != nil {
		return err
	}
	opt.files = fs.Args()
	opt.given = map[string]bool{}
	fs.Visit(func(f *flag.Flag) { opt.given[f.Name] = true })
	s, files, control, err := opt.open()
	if err != nil {
		return err
	}
	rep, err := station.Reduce(ctx, s, files, station.Options{SmoothMoon: opt.Limb == cli.Mean, Control: control, Fit: opt.fit})
	if err != nil {
		return explain(err)
	}
	if err := save(opt.Out, rep); err != nil {
		return err
	}
	if opt.JSON {
		return writeJSON(out, rep)
	}
	return writeText(out, rep)
}

// deciders are the flags that settle what a layout leaves open.
var deciders = map[string]string{
	"columns": "-columns", "delimiter": "-delimiter", "decimal": "-decimal", "light": "-light",
	"order": "-order", "date": "-date", "starts": "-starts", "tick": "-tick",
}

// explain adds the flag that decides to a layout that could not be decided.
func explain(err error) error {
	if l := (*logfile.LayoutError)(nil); errors.As(err, &l) && deciders[l.Decides] != "" {
		return fmt.Errorf("%w (decide with %s)", err, deciders[l.Decides])
	}
	return err
}

// save writes everything into the folder; none is asked for with an empty name.
func save(folder string, rep *station.Report) error {
	if folder == "" {
		return nil
	}
	write := func(name string, f func(io.Writer, *station.Report) error) error {
		return cli.WriteFile(folder, name, func(w io.Writer) error { return f(w, rep) })
	}
	if err := write("reduce.txt", writeText); err != nil {
		return err
	}
	if err := write("reduce.json", writeJSON); err != nil {
		return err
	}
	if err := write("report.html", writePage); err != nil {
		return err
	}
	if !pictured(rep) {
		return nil
	}
	if rep.Cooling != nil {
		if err := write("air.svg", writeAirPicture); err != nil {
			return err
		}
	}
	return write("light.svg", writePicture)
}
