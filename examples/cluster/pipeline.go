package main

import (
	"context"
	"fmt"
	"io"
	"reflect"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/pooled"
)

// What the engine must know by name, here and on every worker.
func init() {
	beam.RegisterType(reflect.TypeFor[Batch]())
	beam.RegisterType(reflect.TypeFor[Part]())
	beam.RegisterCoder(reflect.TypeFor[Part](), encodePart, decodePart)
	register.DoFn3x1[context.Context, string, func(Batch), error](&listFn{})
	register.DoFn3x1[context.Context, Batch, func(string, Part), error](&reduceFn{})
	register.Combiner1[Part](&mergeFn{})
	register.DoFn4x1[context.Context, string, Part, func(string), error](&writeFn{})
	register.DoFn2x0[context.Context, string](&writtenFn{})
	register.Emitter1[string]()
	register.Emitter1[Batch]()
	register.Emitter2[string, Part]()
}

// construct is the whole pipeline:
//
//	patterns -> batches of names -> reduced stations -> groups -> a file for each
//
// The shuffle after the first step lets other workers have the batches; without it the engine
// would reduce all stations where it has listed them.
func (o *settings) construct(p *beam.Pipeline, s beam.Scope) {
	names := beam.ParDo(s.Scope("list"), &listFn{Size: o.batch}, beam.CreateList(s, o.patterns))
	reduced := beam.ParDo(s.Scope("reduce"), o.reducer(), beam.Reshuffle(s, names))
	collect(s, reduced, o.parts())
}

// collect is the second half: parts with their groups, joined, and written into a folder. The files'
// names go one step further, where they are counted, since the local runner waits for a
// step without output in a busy loop, and has no processor left for the step itself.
func collect(s beam.Scope, reduced beam.PCollection, into string) {
	joined := beam.CombinePerKey(s.Scope("join"), &mergeFn{}, reduced)
	written := beam.ParDo(s.Scope("write"), &writeFn{Folder: into}, joined)
	beam.ParDo0(s.Scope("written"), &writtenFn{}, beam.Reshuffle(s, written))
}

// A Batch is some descriptions' names, all of one file system: what a worker takes on at a time.
type Batch struct{ Names []string }

// listFn lists the descriptions that a pattern stands for.
type listFn struct{ Size int }

// ProcessElement leaves a pattern that nothing matches as it is: opening it fails, and says so.
func (f *listFn) ProcessElement(ctx context.Context, pattern string, emit func(Batch)) error {
	files, err := filesystem.New(ctx, pattern)
	if err != nil {
		return err
	}
	defer files.Close()
	names, err := files.List(ctx, pattern)
	if err != nil {
		return fmt.Errorf("%s: %w", pattern, err)
	}
	if len(names) == 0 {
		names = []string{pattern}
	}
	for some := range slices.Chunk(names, f.Size) {
		emit(Batch{some})
	}
	return nil
}

// Counters, for whoever watches the engine. One that runs a batch again may count it twice.
var (
	countStations = beam.NewCounter(counters, "stations")
	countFailed   = beam.NewCounter(counters, "failed")
	countRefused  = beam.NewCounter(counters, "refused")
	countRecords  = beam.NewCounter(counters, "records")
	countProblems = beam.NewCounter(counters, "problems")
	countFiles    = beam.NewCounter(counters, "files")
)

const counters = "noonfall"

// reduceFn reduces the stations of a batch. Its fields travel to the workers as JSON.
type reduceFn struct {
	SmoothMoon bool
	DeltaT     *float64
	Workers    int
}

func (f *reduceFn) ProcessElement(ctx context.Context, b Batch, emit func(string, Part)) error {
	files, err := filesystem.New(ctx, b.Names[0])
	if err != nil {
		return err
	}
	defer files.Close()
	out := func(o campaign.Outcome) {
		count(ctx, o)
		emit(partOf(o))
	}
	var jobs []campaign.Job
	for _, name := range b.Names {
		j, summary := f.describe(ctx, files, name)
		if summary != nil {
			out(campaign.Outcome{Name: name, Summary: summary})
			continue
		}
		jobs = append(jobs, j)
	}
	opt := campaign.ReduceOptions{Station: station.Options{SmoothMoon: f.SmoothMoon}, Workers: f.Workers}
	for o := range campaign.Reduce(ctx, slices.Values(jobs), opt) {
		if ctx.Err() != nil {
			break
		}
		out(o)
	}
	return ctx.Err() // a worker that is stopped has no failed stations
}

// describe reads a description, or a summary. Whatever is wrong with it, be it a defect of the
// file system's code, is the station's own failure.
func (f *reduceFn) describe(ctx context.Context, files filesystem.Interface, name string) (j campaign.Job, summary *station.Summary) {
	j.Name = name
	defer func() {
		if fault := recover(); fault != nil {
			j.Err = fmt.Errorf("%s: a defect of this program, please report it: %v", name, fault)
		}
	}()
	in, base := folderOf(files, name)
	text, err := in.read(ctx, base)
	if err != nil {
		j.Err = fmt.Errorf("%s: %w", name, err)
		return j, nil
	}
	if j.Station, summary, j.Err = pooled.Describe(name, text, f.DeltaT); j.Station != nil {
		j.Files, j.Control = in.logs(ctx, j.Station.Files), in.logs(ctx, j.Station.Control)
	}
	return j, summary
}

func count(ctx context.Context, o campaign.Outcome) {
	if o.Err != nil {
		countFailed.Inc(ctx, 1)
		return
	}
	countStations.Inc(ctx, 1)
	countRecords.Inc(ctx, int64(o.Summary.Records))
	countProblems.Inc(ctx, int64(o.Summary.Problems))
	if o.Summary.Refusal != nil {
		countRefused.Inc(ctx, 1)
	}
}

// writeFn writes each group into a file of its name. A second writing of the same group
// replaces the first by the same bytes.
type writeFn struct{ Folder string }

func (f *writeFn) ProcessElement(ctx context.Context, group string, p Part, emit func(string)) error {
	text, err := encodePart(p)
	if err != nil {
		return err
	}
	err = writeFile(ctx, f.Folder+"/"+group+".json", func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return err
	}
	emit(group)
	return nil
}

// writtenFn counts the files.
type writtenFn struct{}

func (*writtenFn) ProcessElement(ctx context.Context, _ string) { countFiles.Inc(ctx, 1) }
