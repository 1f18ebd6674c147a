package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/sun/timescale"
)

// A result is all that was tried.
type result struct {
	o        *settings
	elements *eclipse.Elements
	observer eclipse.Options
	local    eclipse.Circumstances
	fears    []tried
	advice   []string // of the quiet day's log
}

// A tried fear has its days.
type tried struct {
	fear
	days    []day
	verdict verdict
	first   *rehearsal.Log // of the first day
	text    []byte         // its file
}

// A day is one made-up log, reduced.
type day struct {
	truth   rehearsal.Truth
	seed    uint64
	refusal *station.Refusal
	offset  float64 // s, where there is no refusal
	u       float64
	ci      [2]float64
	zone    float64
	bytes   int64
	sum     int64 // of the bytes that are accounted for
	read    int   // records
	refused int   // lines
	gap     float64
	cloud   float64
}

func demoFile(name string) ([]byte, error) { return fs.ReadFile(demo.Station(), name) }

// rehearse makes up and reduces every day of every fear.
func (o *settings) rehearse(ctx context.Context) (*result, error) {
	r := &result{o: o, observer: eclipse.Options{Scale: scale(o)}}
	when, err := o.desc.Day()
	if err != nil {
		return nil, err
	}
	catalogue, err := canon.Load()
	if err != nil {
		return nil, err
	}
	if r.elements, err = catalogue.On(when); err != nil {
		return nil, err
	}
	ob, err := eclipse.NewObserver(r.elements, o.desc.Site.Sun(), r.observer)
	if err != nil {
		return nil, err
	}
	r.local = ob.Circumstances()
	if r.local.Seen == eclipse.None {
		return r, nil
	}
	for _, f := range o.fears() {
		t := tried{fear: f}
		for k := range o.days {
			if err := r.try(ctx, &t, k); err != nil {
				return nil, err
			}
		}
		t.verdict = t.judged(o.within)
		r.fears = append(r.fears, t)
	}
	return r, nil
}

func scale(o *settings) timescale.Scale {
	c := cli.Common{DeltaT: o.DeltaT}
	return c.Scale()
}

// try makes one day of a fear and reduces it.
func (r *result) try(ctx context.Context, t *tried, k int) error {
	p := r.plan(t.fear, k)
	log, err := rehearsal.Make(ctx, p)
	if errors.Is(err, rehearsal.ErrPlan) {
		return cli.Usagef("%s: %v", t.name, err)
	}
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if _, err := log.WriteTo(&text); err != nil {
		return err
	}
	s := *r.o.desc
	s.Files = []string{t.key + ".csv"}
	file := station.File{Name: s.Files[0], Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(text.Bytes())), nil }}
	rep, err := station.Reduce(ctx, &s, []station.File{file}, station.Options{SmoothMoon: r.o.Limb == cli.Mean})
	if err != nil {
		return err
	}
	t.days = append(t.days, dayOf(log, rep, p.Seed))
	if k > 0 {
		return nil
	}
	t.first, t.text = log, text.Bytes()
	if t.key == "quiet" {
		for _, a := range rep.Health.Advice {
			r.advice = append(r.advice, a.Text)
		}
	}
	return nil
}

// dayOf holds a report against its truth.
func dayOf(log *rehearsal.Log, rep *station.Report, seed uint64) day {
	d := day{truth: log.Truth, seed: seed, read: rep.Records, refusal: rep.Refusal, gap: rep.Health.Gaps.TotalS}
	for _, f := range rep.Files {
		d.bytes += f.Bytes.Sum()
		d.sum += f.Bytes.Records + f.Bytes.Headers + f.Bytes.Comments + f.Bytes.Blanks + f.Bytes.Problems
		d.refused += int(f.Lines.Problems)
	}
	if c := rep.Clock; c != nil {
		d.offset, d.u, d.ci, d.zone, d.cloud = c.Offset, c.OffsetU, c.CI95, c.ZoneH, c.CloudFraction
	}
	return d
}

// miss is by how much of the interval's half-width the truth is off its middle.
func (d day) miss() float64 {
	return math.Abs(d.truth.Offset-(d.ci[0]+d.ci[1])/2) / d.half()
}

func (d day) half() float64 { return math.Max((d.ci[1]-d.ci[0])/2, 1e-9) }

// holds says that the 95 % interval holds the truth.
func (d day) holds() bool { return d.refusal == nil && d.miss() <= 1 }
