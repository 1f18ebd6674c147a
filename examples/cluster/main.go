// Cluster is pool past one machine: it reduces the stations on any engine that runs Apache Beam
// pipelines, and comes to the answer of examples/pool, byte for byte. It is a Go module of its own,
// so that who imports the library downloads no engine.
//
//	cd examples/cluster
//	go run .
//	go run . -out /tmp/all '/FOLDER/*/station.json'
//	go run . -json '/FOLDER/*/station.json' >pool.json
//
// Without arguments it takes the dozen invented schools that pool takes, and the engine's local
// runner within its own process: no server, no network but the machine with itself. An argument
// is a pattern of descriptions (or of summaries) in any file system that the engine knows,
// gs://BUCKET/2027/*/station.json for one. Logs lie beside or below the description that names
// them, gzip-compressed or not.
//
// # What you will learn
//
// A job for many machines is two functions: one works on an element and knows of no other, and
// one joins two results, of which the engine asks that order and grouping do not matter. Here the
// first reduces a station and the second is the union of two sets. The engine also asks that an
// element may come twice, since it does a batch again when a worker was lost; most things that are
// counted double on clusters were counted so. A union does not mind that either.
//
//	patterns -> batches of names -> shuffle -> a station each -> union by group -> a file for each group
//	files -> union -> median, shadow, Moon, on the machine that asked
//
// The first shuffle moves nothing but names. It is there because an engine fuses steps: without it
// whoever lists the folder reduces it all.
//
// # The physics
//
// There is none but arithmetic. On sets, union is
//
//	(A u B) u C = A u (B u C),   A u B = B u A,   A u A = A
//
// and a sum of rounded numbers has the second of these alone: 0.1 + (0.2 + 0.3) is 0.6, and
// (0.1 + 0.2) + 0.3 is 0.6000000000000001. So no number is added up on the way, where the engine chooses
// the brackets. What travels are summaries, each under a key made of its own bytes; all adding is done
// once, at the end, in the order of the keys, and one machine and a thousand give the same bits.
//
// Sources: D. Goldberg, ACM Computing Surveys 23 (1991) 5, for the sums; M. Shapiro and others, Conflict-free
// replicated data types (2011), for the unions; both from memory.
//
// # A run
//
//	go run .
//
// prints what the engine counted, and the figures of all stations together:
//
//	12 stations of the solar eclipse of 2027-08-02.
//
//	The engine counted 12 summaries (1 of them refused a clock), 0 failed, 9430 records, 18
//	lines refused, 12 files.
//
//	...
//	The shadow's speed over the ground: 1.373 +- 0.019 km/s (7 stations).
//	...
//
// # What fails
//
// A log that is missing, a description that cannot be read, a defect that panics: each fails its
// own station, in the answer under "failed" by name and with the reason, and no other. A log torn off
// in the middle gives what was read up to there, as in pool. The engine's counters (namespace
// noonfall: stations, failed, refused, records, problems, files) say meanwhile how it goes; they may count
// twice a batch that ran twice, the answer does not.
//
// # No message is large
//
// Engines talk in messages, and many refuse one above 4 MiB, gRPC's default. A summary has 3 or 4 kB:
// a thousand of them in one accumulator would be too much. So they are joined in 4096 groups, by the first
// three hexadecimal digits of a digest, which spreads them evenly: 25 to a group or 100 kB of 100,000 stations,
// 1 MB of a million. Whoever joined a group writes it into FOLDER/parts, and its name alone goes on. The
// last union reads these files, one at a time.
//
// # On a cluster
//
// The engine's own flags choose it. They want -out beside them, a folder that every worker can write to and
// the machine that asks can read:
//
//	go run . -runner flink -endpoint HOST:8099 -out gs://BUCKET/all 'gs://BUCKET/2027/*/station.json'
//	go run . -h          # lists all flags, the engine's among them
//
// An engine that starts a process for each processor wants -workers 1, or its stations stand in each
// other's way. -batch is how many stations are lost with a worker, and done again. Another file system
// is one more import of a package below the engine's io/filesystem. It was tried with the engine's local
// runner as a server and a worker in a process of its own; on a cluster of machines it was not.
//
// # What it costs
//
// Measured with the local runner on a shared machine of two cores that had other work, so that what counts is
// processor time (user and system, of engine and program, less that of making the logs); how long it took by
// the clock says more of the others. Stations with small logs, a reading a minute (BenchmarkStations):
//
//	stations   processor time each   in the shuffle, each   most heap, engine and program
//	     100               0.08 s                 3.1 kB                           0.03 GB
//	   1,000               0.08 s                 3.1 kB                           0.05 GB
//	  10,000               0.08 s                 3.1 kB                           0.14 GB
//
// A station costs the same among many, and the engine adds nothing that shows. A day at a reading a second,
// 4.3 MB, is 0.20 s (116 stations, BenchmarkDays), with two at work 0.7 GB of heap, of which the logs of the
// benchmark are a tenth. The second half alone, with 100,000 summaries (TestManySummaries): 150 s of processor time,
// 4096 files of at most 0.14 MB; 6.6 GB of memory with all that the local runner keeps and the answer
// in JSON, 7 kB each, made ready to compare. A summary is 2.2 kB in memory, and pooling 20,000 took 0.7 GB in all.
//
// So 100,000 stations with 5 MB each, 500 GB, would cost, by proportion and not by trial: 6 core-hours for
// reducing, to which reading 500 GB over the network comes; under 1 GB of memory for two processors of a
// worker; 6 MB of names and 0.4 GB of summaries through the shuffle, and as much in the groups' files; then a
// minute of processor time and some 4 GB on the machine that asked.
//
// # An exercise
//
// Take the figures of the curve out of what -json prints (median, low and high), and add them up
// with any program that shows seventeen digits: from first to last, sorted, and in groups of three
// whose sums are added. Which digits can you believe? What would a thousand workers print,
// if the second function were a sum?
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
	_ "time/tzdata" // zones by name on machines that have none

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/core/metrics"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/examples/internal/pooled"
)

func main() { cli.Main("cluster", run) }

// settings are the flags.
type settings struct {
	cli.Common
	batch    int
	workers  int
	patterns []string
	day      bool // -date was given
}

// defaultBatch is enough stations to keep the processors of one machine busy, and few enough
// that a worker that is lost has lost little.
const defaultBatch = 16

// run reads the flags, ours and the engine's. A worker never comes back from beam.Init.
func run(ctx context.Context, out io.Writer, args []string) error {
	fs, o := flag.CommandLine, settings{Common: cli.Scenario()}
	fs.Init("cluster", flag.ContinueOnError)
	o.Limb = cli.Real
	o.Register(fs)
	fs.IntVar(&o.batch, "batch", defaultBatch, "`stations` that a worker takes on at a time")
	fs.IntVar(&o.workers, "workers", 0, "`stations` of a batch reduced at a time; 0 for one each processor")
	if err := cli.Parse(fs, args, out); err != nil {
		return err
	}
	fs.Visit(func(f *flag.Flag) { o.day = o.day || f.Name == "date" })
	log.LogLevel = "warn" // the engine's own, on standard error
	beam.Init()
	switch {
	case o.batch < 1:
		return cli.Usagef("-batch is %d, want 1 or more", o.batch)
	case o.workers < 0:
		return cli.Usagef("-workers is %d, want 0 or more", o.workers)
	case o.Out == "" && *runners.Runner != "":
		return cli.Usagef("-runner wants -out too: a folder that every worker can write to and this machine can read")
	}
	if o.patterns = fs.Args(); len(o.patterns) == 0 {
		o.patterns = []string{demoScheme + "://*/" + demo.StationFile}
	}
	return o.answer(ctx, out)
}

// answer runs the pipeline, merges what it wrote, and tells.
func (o *settings) answer(ctx context.Context, out io.Writer) error {
	remove, err := o.ready(ctx)
	if err != nil {
		return err
	}
	defer remove()
	counted, err := o.pipe(ctx)
	if err != nil {
		return err
	}
	all, err := merge(ctx, o.parts())
	if err != nil {
		return err
	}
	var day time.Time
	if o.day {
		day = o.Date
	}
	p, err := pooled.Pool(all.summaries, all.failures(), day, eclipse.Options{Scale: o.Scale()})
	if err != nil {
		return err
	}
	return o.write(ctx, out, p, counted)
}

// folder is -out, and parts the one in it that the pipeline writes into.
func (o *settings) folder() string { return strings.TrimSuffix(o.Out, "/") }
func (o *settings) parts() string  { return o.folder() + "/parts" }

// ready sees to the folder. Parts of another run would be taken for this one's.
func (o *settings) ready(ctx context.Context) (remove func(), err error) {
	if o.Out == "" {
		o.Out, err = os.MkdirTemp("", "cluster")
		return func() { os.RemoveAll(o.Out) }, err
	}
	names, err := list(ctx, o.parts()+"/*.json")
	if err == nil && len(names) > 0 {
		err = fmt.Errorf("%s holds the parts of another run: empty it, or choose another folder with -out", o.parts())
	}
	return func() {}, err
}

// pipe runs the pipeline on the engine that -runner names, or else in this process.
func (o *settings) pipe(ctx context.Context) (map[string]int64, error) {
	p, s := beam.NewPipelineWithRoot()
	o.construct(p, s)
	result, err := beamx.RunWithMetrics(ctx, p)
	if err != nil {
		return nil, err
	}
	return countedBy(result), nil
}

// reducer is the step of the work.
func (o *settings) reducer() *reduceFn {
	return &reduceFn{SmoothMoon: o.Limb == cli.Mean, DeltaT: o.DeltaT, Workers: o.workers}
}

// countedBy sums the counters over the steps.
func countedBy(result beam.PipelineResult) map[string]int64 {
	out := map[string]int64{}
	ours := func(r metrics.SingleResult) bool { return r.Namespace() == counters }
	for _, c := range result.Metrics().Query(ours).Counters() {
		out[c.Name()] += c.Result()
	}
	return out
}
