package campaign

import (
	"context"
	"fmt"
	"iter"
	"runtime"
	"sync"

	"example.org/noonfall/eclipse/station"
)

// A Job is one station that is to be reduced.
type Job struct {
	Name    string           // in messages; a file's, say
	Station *station.Station // as station.Reduce wants it
	// Files are the station's logs, Control those of days without eclipse.
	Files, Control []station.File
	// Err is why there is nothing to reduce. It comes out in the outcome as it is, so that a
	// station whose description cannot be read is not lost on the way.
	Err error
}

// An Outcome is what became of a job: a summary or an error.
type Outcome struct {
	Name    string           // the job's
	Summary *station.Summary // nil where Err is not
	Err     error            // why that station has no summary
}

// ReduceOptions tunes Reduce. The zero value is the recommended setting.
type ReduceOptions struct {
	Station station.Options        // its Control is the job's
	Summary station.SummaryOptions // how far sites are rounded
	// Workers is how many stations are reduced at a time; 0 means one for each processor.
	Workers int
}

// Reduce reduces stations, several at a time on goroutines of its own, and yields the
// outcomes as they come, which is in no particular order: a campaign does not mind. Memory is
// that of the stations at work. A file that cannot be read, or a panic, fails that station alone. The jobs
// are drawn one at a time. Once the context ends, stations at work end with its error, and no
// further ones are begun. The iterator is single-use.
func Reduce(ctx context.Context, jobs iter.Seq[Job], opt ReduceOptions) iter.Seq[Outcome] {
	return func(yield func(Outcome) bool) {
		ctx, stop := context.WithCancel(ctx)
		workers := opt.Workers
		if workers <= 0 {
			workers = runtime.GOMAXPROCS(0)
		}
		in, out := make(chan Job), make(chan Outcome)
		var at sync.WaitGroup
		at.Go(func() {
			defer close(in)
			for j := range jobs {
				select {
				case in <- j:
				case <-ctx.Done():
					return
				}
			}
		})
		var work sync.WaitGroup
		for range workers {
			work.Go(func() {
				for j := range in {
					out <- one(ctx, j, opt)
				}
			})
		}
		at.Go(func() {
			work.Wait()
			close(out)
		})
		// Whoever stops early still waits for the stations at work, so that nothing is left behind.
		defer at.Wait()
		defer func() {
			stop()
			for range out {
			}
		}()
		for o := range out {
			if !yield(o) {
				return
			}
		}
	}
}

// one reduces one job here and now.
func one(ctx context.Context, j Job, opt ReduceOptions) (out Outcome) {
	out.Name = j.Name
	defer func() {
		if fault := recover(); fault != nil {
			out.Summary, out.Err = nil, fmt.Errorf("station %q (%s): a defect of this library, please report it: %v", j.code(), j.Name, fault)
		}
	}()
	if out.Err = j.Err; out.Err != nil {
		return out
	}
	o := opt.Station
	o.Control = j.Control
	report, err := station.Reduce(ctx, j.Station, j.Files, o)
	if err != nil {
		out.Err = fmt.Errorf("station %q (%s): %w", j.code(), j.Name, err)
		return out
	}
	out.Summary, out.Err = report.Summary(opt.Summary)
	return out
}

func (j *Job) code() string {
	if j.Station == nil {
		return ""
	}
	return j.Station.Code
}
