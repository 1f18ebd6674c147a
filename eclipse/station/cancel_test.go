package station

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
)

// An endless log never ends by itself.
type endless struct{ line func(i int) string }

// file is the log as a file; late counts the bytes that are read once the context has ended.
func (e endless) file(ctx context.Context, name string, late *int) File {
	return File{Name: name, Open: func() (io.ReadCloser, error) {
		i, rest := 0, ""
		return io.NopCloser(readerFunc(func(p []byte) (int, error) {
			if ctx.Err() != nil {
				*late += len(rest)
			}
			if rest == "" {
				rest = e.line(i)
				i++
			}
			n := copy(p, rest)
			rest = rest[n:]
			return n, nil
		})), nil
	}}
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(p []byte) (int, error) { return f(p) }

// A context that ends stops the reading of a log without end, be its lines records or not.
func TestCancelledWhileReading(t *testing.T) {
	s, err := Parse([]byte(plain))
	require.NoError(t, err)
	day := time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)
	record := func(i int) string {
		return day.Add(time.Duration(i)*time.Millisecond).Format("2006-01-02T15:04:05.000Z") + ",4000\n"
	}
	for name, line := range map[string]func(int) string{
		"records": record,
		"remarks": func(int) string { return "# nothing here\n" },
		"torn": func(i int) string {
			if i < 100 {
				return record(i)
			}
			return "2027-08-02T0\x00\x00,,,x\n"
		},
		"one line": func(int) string { return "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx" },
	} {
		// The log itself ends the context, not a timer: WebAssembly's one thread never gets to it.
		ctx, stop := context.WithCancel(context.Background())
		late, lines := 0, 0
		line := func(i int) string {
			if lines++; lines == 20_000 {
				stop()
			}
			return line(i)
		}
		_, err := Reduce(ctx, s, []File{endless{line}.file(ctx, "a.csv", &late)}, Options{})
		stop()
		if !errors.Is(err, context.Canceled) || !(late < lateMost) {
			t.Errorf("%s: %v after %d bytes more", name, err, late)
		}
	}
}

// lateMost is how many bytes may still be read after the context has ended: those of a call
// that was under way, since each one looks first.
const lateMost = 64

// cancelMost is how long a reduction may go on after its context has ended: a fraction of
// a second, with room for a machine that has other things to do. (Measured alone: 0.25 s
// at most of 3.1 s, two cores.)
const cancelMost = 500 * time.Millisecond

// A long log, ten days at one a second with the eclipse in it, is left within a fraction of
// a second, whatever the reduction was about.
func TestCancelledAnywhere(t *testing.T) {
	if testing.Short() {
		t.Skip("it reduces a long log some dozen times")
	}
	text := longLog(t)
	s, err := Parse([]byte(plain))
	require.NoError(t, err)
	file := []File{{Name: "a.csv", Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }}}
	opt := Options{Control: file}
	start := time.Now()
	_, err = Reduce(context.Background(), s, file, opt)
	require.NoError(t, err)
	whole := time.Since(start)
	worst := time.Duration(0)
	const stops = 8
	most := max(cancelMost, whole/6) // on a machine that is busy all is slower alike
	for i := range stops {
		after := whole * time.Duration(i) / stops
		late := lateness(t, s, file, opt, after)
		for range 2 { // whoever else uses the machine may have delayed the end
			if late < most {
				break
			}
			late = min(late, lateness(t, s, file, opt, after))
		}
		worst = max(worst, late)
		if !(late < most) {
			t.Errorf("stop %d, after %v: it went on for %v, want %v at most", i, after, late, most)
		}
	}
	t.Logf("%d MB, %v for the whole, at most %v after the context ended", len(text)>>20, whole, worst)
}

// lateness is how long a reduction goes on that is told to stop after a while.
func lateness(t *testing.T, s *Station, file []File, opt Options, after time.Duration) time.Duration {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan time.Time, 1)
	go func() {
		time.Sleep(after)
		ended <- time.Now()
		stop()
	}()
	_, err := Reduce(ctx, s, file, opt)
	back := time.Now()
	if err != nil && !errors.Is(err, context.Canceled) {
		t.Errorf("after %v: %v", after, err)
	}
	return back.Sub(<-ended)
}

// longLog is ten days of an invented logger, one line a second.
func longLog(t *testing.T) string {
	t.Helper()
	c, err := canon.Load()
	require.NoError(t, err)
	e, err := c.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	log, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: yard.Sun(), Offset: -17, Seed: 3, Margin: 11 * time.Hour})
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("time,light\n")
	for day := -5; day < 5; day++ {
		for _, s := range log.Samples {
			fmt.Fprintf(&b, "%s,%g\n", s.Stamp.AddDate(0, 0, day).Format(time.RFC3339), s.Counts)
		}
	}
	return b.String()
}
