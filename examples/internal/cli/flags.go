package cli

import (
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// Common holds the flags that the examples share. A field's value before
// [Common.Register] is the flag's default. The zero value asks for the
// intersection of equator and prime meridian on no date: start from [Scenario].
type Common struct {
	Site   sun.Site  // -site LAT,LON[,HEIGHT]: degrees north, degrees east, metres
	Date   time.Time // -date YYYY-MM-DD: midnight UTC of the eclipse's day
	DeltaT *float64  // -deltat: TT-UT1 in seconds; nil means the library's own
	Limb   Limb      // -limb mean|real
	JSON   bool      // -json
	Out    string    // -out: the folder for everything that is written; empty for nothing
}

// Scenario returns the flags' defaults: a school yard near the Strait of
// Gibraltar, in the path of the total eclipse of 2 August 2027, where the
// project's invented network of loggers is at work.
func Scenario() Common {
	return Common{
		Site: sun.Site{Lat: 36.0, Lon: -5.6, Height: 10},
		Date: time.Date(2027, time.August, 2, 0, 0, 0, 0, time.UTC),
	}
}

// Register adds the flags to a set.
func (c *Common) Register(fs *flag.FlagSet) {
	fs.Var((*siteFlag)(&c.Site), "site", "`LAT,LON[,HEIGHT]`: degrees north, degrees east, metres above the ellipsoid")
	fs.Var((*dateFlag)(&c.Date), "date", "`YYYY-MM-DD` of the eclipse; a day either side serves too")
	fs.Var(deltaTFlag{&c.DeltaT}, "deltat", "TT-UT1 in `seconds`, instead of the built-in value")
	c.registerLimb(fs)
	fs.BoolVar(&c.JSON, "json", c.JSON, "answer in JSON on standard output")
	fs.StringVar(&c.Out, "out", c.Out, "`folder` for everything that is written, made if absent")
}

// Scale returns the clocks: the library's own, or those of the given Delta T.
func (c *Common) Scale() timescale.Scale {
	if c.DeltaT == nil {
		return timescale.Scale{}
	}
	return timescale.FixedDeltaT(*c.DeltaT)
}

// NewFlagSet returns an empty set whose help opens with the synopsis.
func NewFlagSet(name, synopsis string) *flag.FlagSet {
	fs := flag.NewFlagSet(name, flag.ContinueOnError)
	fs.Usage = func() {
		fmt.Fprintf(fs.Output(), "%s: %s\n\n", name, synopsis)
		fs.PrintDefaults()
	}
	return fs
}

// Parse reads the arguments. A mistake is a [*UsageError]; -h writes the help to
// the given writer and returns [flag.ErrHelp], which [Status] counts as success.
func Parse(fs *flag.FlagSet, args []string, help io.Writer) error {
	fs.SetOutput(io.Discard) // a mistake is reported once, by Main
	err := fs.Parse(args)
	switch {
	case err == flag.ErrHelp:
		fs.SetOutput(help)
		fs.Usage()
		return err
	case err != nil:
		return &UsageError{fmt.Errorf("%w (-h lists the flags)", err)}
	}
	return nil
}

type siteFlag sun.Site

func (f *siteFlag) String() string { return fmt.Sprintf("%g,%g,%g", f.Lat, f.Lon, f.Height) }

func (f *siteFlag) Set(s string) error {
	parts := strings.Split(s, ",")
	if len(parts) != 2 && len(parts) != 3 {
		return fmt.Errorf("want LAT,LON or LAT,LON,HEIGHT with a point for the decimals")
	}
	var site sun.Site
	for i, field := range []*float64{&site.Lat, &site.Lon, &site.Height}[:len(parts)] {
		v, err := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		if err != nil {
			return fmt.Errorf("%q is no number, want LAT,LON or LAT,LON,HEIGHT", parts[i])
		}
		*field = v
	}
	if err := site.Validate(); err != nil {
		return err
	}
	*f = siteFlag(site)
	return nil
}

type dateFlag time.Time

func (f *dateFlag) String() string { return time.Time(*f).Format(time.DateOnly) }

func (f *dateFlag) Set(s string) error {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return fmt.Errorf("want a day of the calendar as YYYY-MM-DD")
	}
	*f = dateFlag(t)
	return nil
}

type deltaTFlag struct{ seconds **float64 }

func (f deltaTFlag) String() string {
	if f.seconds == nil || *f.seconds == nil { // the flag package asks a zero value
		return ""
	}
	return strconv.FormatFloat(**f.seconds, 'g', -1, 64)
}

func (f deltaTFlag) Set(s string) error {
	v, err := strconv.ParseFloat(s, 64)
	// A day is far beyond any Delta T of recorded history (17,000 s in 500 BC by the
	// polynomials of Espenak & Meeus 2006); NaN fails the comparison.
	if err != nil || !(math.Abs(v) <= 86400) {
		return fmt.Errorf("want seconds from -86400 to 86400")
	}
	*f.seconds = &v
	return nil
}
