package main

import (
	"bytes"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os"
	"text/tabwriter"
	"time"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor/dips"
)

//go:generate go run ./internal/genbench -out demo

// demoBench is an invented evening with a ball and a lamp, made by internal/genbench.
//
//go:embed demo/bench.csv
var demoBench []byte

const demoName = "demo"

// A benchLog is a log of the bench with what was found in it.
type benchLog struct {
	name     string
	readings []dips.Sample
	lines    logfile.Accounts
	found    *dips.Result
}

// runBench reads the log, finds the passages and answers.
func (o *settings) runBench(ctx context.Context, out io.Writer) error {
	b, err := o.readBench()
	if err != nil {
		return err
	}
	b.found, err = dips.Find(ctx, b.readings, dips.Options{Sense: o.sense, Dark: o.dark, MinDepth: o.leastDip})
	if err != nil {
		return fmt.Errorf("%s: %w%s", b.name, err, benchRemedy(err))
	}
	if err := b.save(o.Out); err != nil {
		return err
	}
	if o.JSON {
		return b.writeJSON(out)
	}
	return b.writeText(out)
}

// benchRemedy names the flag that helps.
func benchRemedy(err error) string {
	switch {
	case errors.Is(err, dips.ErrDark):
		return " (-dark)"
	case errors.Is(err, dips.ErrFew):
		return "; -light names the column"
	}
	return ""
}

// readBench reads stamps and light, whatever state the file is in.
func (o *settings) readBench() (*benchLog, error) {
	b := &benchLog{name: o.bench}
	var source io.Reader = bytes.NewReader(demoBench)
	if o.bench == demoName {
		b.name = "bench.csv (invented)"
	} else {
		f, err := os.Open(o.bench)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		source = f
	}
	r := logfile.NewReader(source, logfile.Options{
		Name: o.bench, Light: o.light, NearDate: o.Date,
		Starts: []time.Time{o.Date}, // for a log that counts from its logger's start: midnight stands for that
		Tick:   ticks[o.tick],
	})
	for rec, err := range r.Records() {
		if l := (*logfile.LayoutError)(nil); errors.As(err, &l) {
			return nil, fmt.Errorf("%w (%s)", err, deciders[l.Decides])
		}
		if err != nil {
			return nil, err
		}
		b.readings = append(b.readings, dips.Sample{Time: rec.Time, Counts: rec.Light})
	}
	b.lines = r.Report().Lines
	return b, nil
}

// ticks are what a count since the logger's start may count; nothing is for the reader to find.
var ticks = map[string]time.Duration{"": 0, "s": time.Second, "ms": time.Millisecond, "us": time.Microsecond}

// deciders say what settles a layout that the reader leaves open.
var deciders = func() map[string]string {
	out := map[string]string{"light": "decide with -light", "tick": "decide with -tick"}
	for _, other := range []string{"columns", "delimiter", "decimal", "order", "date", "starts"} {
		out[other] = "a heading line of time,light and stamps as 2027-07-20T20:15:00Z settle it"
	}
	return out
}()

// save writes everything into the folder; none is asked for with an empty name.
func (b *benchLog) save(folder string) error {
	if folder == "" {
		return nil
	}
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
	}{{"bench.txt", b.writeText}, {"bench.json", b.writeJSON}, {"bench.svg", b.writePicture}} {
		if err := cli.WriteFile(folder, f.name, f.write); err != nil {
			return err
		}
	}
	return nil
}

func (b *benchLog) writeText(w io.Writer) error {
	var t bytes.Buffer
	fmt.Fprintf(&t, "BENCH %s\n", b.name)
	t.WriteString(cli.Wrap(b.readWords(), "  ", "  "))
	fmt.Fprintf(&t, "\nPASSAGES\n")
	if len(b.found.Dips) == 0 {
		t.WriteString(cli.Wrap("None was found. A passage needs three readings or more, a return to the level before, and a depth that stands out of the noise.", "  ", "  "))
	} else {
		b.table(&t)
		t.WriteString(cli.Wrap("Start and end are the first and the last touch of ball and lamp, +- is one standard uncertainty. The depth is the part of the light that was taken"+b.depthWords()+".", "  ", "  "))
	}
	if len(b.found.Aside) > 0 {
		fmt.Fprintf(&t, "\nSET ASIDE\n")
		for _, a := range b.found.Aside {
			t.WriteString(cli.Wrap(fmt.Sprintf("%s: %s", a.Time.UTC().Format(time.TimeOnly), asideWords[a.Reason]), "  ", "    "))
		}
	}
	cautions(&t)
	_, err := w.Write(trailing.ReplaceAll(t.Bytes(), nil))
	return err
}

var asideWords = map[dips.Reason]string{
	dips.Switched: "off and on again as if by a switch",
	dips.Step:     "a step: the level did not come back",
	dips.Cut:      "an edge lies in a gap or beyond the log's end",
	dips.Shallow:  "too shallow, or not told from noise",
	dips.Short:    "too short to be told from a wild reading",
	dips.Long:     "too long",
}

func (b *benchLog) readWords() string {
	first, last := b.readings[0].Time, b.readings[0].Time
	for _, s := range b.readings {
		if s.Time.Before(first) {
			first = s.Time
		}
		if s.Time.After(last) {
			last = s.Time
		}
	}
	f := b.found
	return fmt.Sprintf("%d records from %s to %s UTC, one every %v; %d lines refused, %d readings without a number. From one reading to the next they scatter by %.3g; their least step is %.3g.",
		b.lines.Records, first.UTC().Format(time.DateTime), last.UTC().Format(time.TimeOnly), f.Cadence.Round(time.Millisecond), b.lines.Problems, f.Skipped, f.Jitter, f.Step)
}

func (b *benchLog) depthWords() string {
	if b.found.Sense == dips.Rising {
		return ", from readings that rise as the light falls: as 1/light, unless -dark has the reading in darkness"
	}
	return ", counted from a reading of 0 in darkness or from that of -dark"
}

func (b *benchLog) table(w io.Writer) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  \tstart\t+- s\tleast\t+- s\tend\t+- s\tdepth\t+-\tbottom\n")
	const clock = "15:04:05.0"
	at := func(x time.Time) string { return x.UTC().Round(100 * time.Millisecond).Format(clock) }
	for i, d := range b.found.Dips {
		fmt.Fprintf(t, "  %d\t%s\t%.1f\t%s\t%.1f\t%s\t%.1f\t%.3f\t%.3f\t%v\n", i+1, at(d.Start), d.StartU.Seconds(),
			at(d.Least), d.LeastU.Seconds(), at(d.End), d.EndU.Seconds(), d.Depth, d.DepthU, d.Shape)
	}
	t.Flush()
}
