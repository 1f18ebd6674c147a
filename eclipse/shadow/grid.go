package shadow

import (
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// A Grid is one number at each site of an Area, in rows from south to north and from
// west to east within a row. Its methods Dims, X, Y and Z are those that contouring
// and heat maps commonly ask for, longitude along X. A Grid is plain data: copy it,
// change it, share it while nobody writes. The zero value has no sites.
type Grid struct {
	Name, Unit string // of what; empty where the caller's own function was asked
	Area       Area
	// T0 is that of the elements. Values that are instants are seconds after it:
	// T0 + timescale.TT(value).
	T0         timescale.TT
	Rows, Cols int       // numbers of sites to the north and to the east
	Values     []float64 // of row i and column j at i*Cols + j; NaN where there is none
}

// GridOptions tunes a grid. The zero value is the recommended setting.
type GridOptions struct {
	// Options are the observers': Horizon decides what is seen, Scale gives Delta T.
	Options eclipse.Options
	// Workers is how many rows are worked on at a time; zero means one for each core
	// the program may use. The values are the same for any number, bit by bit.
	Workers int
}

// NewGrid computes a quantity over an area. Rows are shared out to goroutines, which
// have ended when it returns; with one worker there are none. A context that is
// cancelled stops them within a row or so, and the error wraps its cause. Other
// errors are a *sun.RangeError or *TooManySitesError for the area, an
// *eclipse.ElementsError, or say that there is no such quantity or horizon.
//
// The values are within 1e-7 of those of eclipse.Observer.Circumstances in magnitude
// and obscuration, within 0.02 s in Maximum, within 0.0001 degrees in SunAltitude, and
// bit by bit those where they are a duration or a contact.
func NewGrid(ctx context.Context, e *eclipse.Elements, area Area, q Quantity, opt GridOptions) (*Grid, error) {
	if int(q) >= len(quantities) {
		return nil, fmt.Errorf("shadow: the quantity is %d, want one of %d from 0", q, len(quantities))
	}
	g, err := grid(ctx, e, area, quantities[q].of, opt)
	if err != nil {
		return nil, err
	}
	g.Name, g.Unit = q.String(), q.Unit()
	return g, nil
}

// GridOf is NewGrid for any function of a site's circumstances. It is called once for
// each site, those included that see nothing, from as many goroutines as there are
// workers, so that it must be safe for that; it may not keep the pointer. Errors are those
// of [NewGrid], and one where there is no function.
func GridOf(ctx context.Context, e *eclipse.Elements, area Area, of func(*eclipse.Circumstances) float64, opt GridOptions) (*Grid, error) {
	if of == nil {
		return nil, fmt.Errorf("shadow: GridOf has no function of the circumstances")
	}
	return grid(ctx, e, area, func(r *eclipse.Parallel) float64 {
		c := r.Circumstances()
		return of(&c)
	}, opt)
}

func grid(ctx context.Context, e *eclipse.Elements, area Area, of func(*eclipse.Parallel) float64, opt GridOptions) (*Grid, error) {
	if err := area.Validate(); err != nil {
		return nil, err
	}
	p, err := eclipse.Prepare(e, opt.Options)
	if err != nil {
		return nil, err
	}
	g := &Grid{Area: area, T0: e.T0}
	g.Rows, g.Cols = area.size()
	g.Values = make([]float64, g.Rows*g.Cols)
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	if err := g.share(ctx, min(workers, g.Rows), func(row int) error { return g.fill(p, row, of) }); err != nil {
		return nil, err
	}
	return g, nil
}

// fill works out a row. It starts from nothing, so that it does not matter who has
// done the row before.
func (g *Grid) fill(p *eclipse.Prepared, row int, of func(*eclipse.Parallel) float64) error {
	r, err := p.Parallel(g.Y(row), g.Area.Height)
	if err != nil {
		return err
	}
	values := g.Values[row*g.Cols : (row+1)*g.Cols]
	for j := range values {
		r.At(g.X(j))
		values[j] = of(&r)
	}
	return nil
}

// share hands out rows one by one, as they take unequal time, until all are done, one
// fails or the context ends.
func (g *Grid) share(ctx context.Context, workers int, do func(row int) error) error {
	var next atomic.Int64
	work := func() error {
		for {
			row := int(next.Add(1)) - 1
			if row >= g.Rows {
				return nil
			}
			if ctx.Err() != nil {
				return fmt.Errorf("shadow: grid stopped at row %d of %d: %w", row, g.Rows, context.Cause(ctx))
			}
			if err := do(row); err != nil {
				return err
			}
		}
	}
	if workers == 1 {
		return work()
	}
	errs := make([]error, workers)
	var all sync.WaitGroup
	for i := range errs {
		all.Go(func() { errs[i] = work() })
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
