package logfile

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"testing"
	"time"
)

// generated is a text of lines that are made as they are read.
type generated struct {
	line func(i int) string // "" is the end
	i    int
	rest string
	size int64
}

func (g *generated) Read(p []byte) (n int, err error) {
	for n < len(p) {
		if g.rest == "" {
			if g.rest = g.line(g.i); g.rest == "" {
				return n, io.EOF
			}
			g.i++
		}
		k := copy(p[n:], g.rest)
		n, g.rest = n+k, g.rest[k:]
		g.size += int64(k)
	}
	return n, nil
}

// heapPeak runs f and says by how much the heap grew at most, dead objects included,
// with a collector that is told to leave few of those.
func heapPeak(f func()) int64 {
	defer debug.SetGCPercent(debug.SetGCPercent(10))
	heap := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	read := func() int64 {
		metrics.Read(heap)
		return int64(heap[0].Value.Uint64())
	}
	runtime.GC()
	before, most := read(), int64(0)
	stop, done := make(chan bool), make(chan bool)
	go func() {
		defer close(done)
		for {
			most = max(most, read())
			select {
			case <-stop:
				return
			case <-time.After(100 * time.Microsecond):
			}
		}
	}()
	f()
	close(stop)
	<-done
	return max(most, read()) - before
}

// lineOf is head, then unit as often as it fits into so many bytes, then an end.
func lineOf(head, unit string, size int) string {
	return head + strings.Repeat(unit, (size-len(head)-1)/len(unit)) + "\n"
}

// What a reader holds stays below the bound whatever comes: measured, not computed.
// What is dead and not yet collected is in it too.
func TestMemoryIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	rows := func(from int) func(i int) string {
		return func(i int) string {
			return fmt.Sprintf("2027-08-02 %02d:%02d:%02d,%d\n", 7+i/3600%17, i/60%60, i%60, from+i)
		}
	}
	plain := rows(1000)
	upTo := func(n int, line func(i int) string) func(i int) string {
		return func(i int) string {
			if i == n {
				return ""
			}
			return line(i)
		}
	}
	behind := func(line func(i int) string) func(i int) string { // a log, then this
		return func(i int) string {
			switch {
			case i == 0:
				return "time,light\n"
			case i < 100:
				return plain(i)
			}
			return line(i)
		}
	}
	same := func(s string) func(int) string { return func(int) string { return s } }
	commas, numbers := lineOf("", ",", lineCap-1), lineOf("", "1,", lineCap-1)
	wideHeader := lineOf("time,light", ",x", lineCap-1)
	headers := func(i int) string {
		switch i % 3 {
		case 0:
			return fmt.Sprintf("time,light,more%d\n", i)
		case 1:
			return strings.TrimSuffix(plain(i), "\n") + ",5\n"
		}
		return fmt.Sprintf("light,time,other%d,name%d\n", i, i)
	}
	stamped := func(i int) string { // as many columns as are read
		if i == 0 {
			return "time,light" + strings.Repeat(",x", mostColumns-2) + "\n"
		}
		return fmt.Sprintf("2027-08-02 07:%02d:%02d%s\n", i/60%60, i%60, strings.Repeat(",\"7.5\"", mostColumns-1))
	}
	for name, line := range map[string]func(i int) string{
		"empty lines":                    upTo(3_000_000, same("\n")),
		"shortest lines, no layout":      upTo(1_000_000, same("1\n")),
		"a log, then empty lines":        upTo(3_000_000, behind(same("\r\n"))),
		"headers that change the layout": upTo(300_000, behind(headers)),
		"headers before any row":         upTo(300_000, func(i int) string { return fmt.Sprintf("time,light%d\n", i) }),
		"problems, each another":         upTo(500_000, behind(func(i int) string { return fmt.Sprintf("%d torn %s\n", i, strings.Repeat("x", i%150)) })),
		"lines of a million columns":     upTo(30, same(strings.Repeat(",", 1e6)+"\n")),
		"a log, then a million columns":  upTo(130, behind(same(strings.Repeat("1,", 1e6)+"\n"))),
		"delimiters to the cap":          upTo(30, same(commas)),
		"a log, then those":              upTo(300, behind(same(commas))),
		"numbers to the cap":             upTo(30, same(numbers)),
		"a log, then those numbers":      upTo(300, behind(same(numbers))),
		"a header to the cap":            upTo(30, func(i int) string { return []string{wideHeader, numbers}[i%2] }),
		"a log, then those headers":      upTo(400, behind(func(i int) string { return []string{wideHeader, plain(i)}[i%2] })),
		"as many columns as are read":    upTo(3000, stamped),
		"dates that never tell":          upTo(100_000, func(i int) string { return fmt.Sprintf("02/08/2027 07:%02d:%02d,%d\n", i/60%60, i%60, i) }),
		"dates that never tell, shortest": upTo(100_000, func(i int) string {
			if i < 100 {
				return fmt.Sprintf("02/08/2027 07:%02d:%02d,%d\n", i/60%60, i%60, i)
			}
			return "1\n"
		}),
		"headers of many columns": upTo(300, behind(func(i int) string {
			return "time,light" + strings.Repeat(fmt.Sprintf(",%d more", i), mostColumns-2) + "\n"
		})),
	} {
		g := &generated{line: line}
		var rep Report
		var r *Reader
		begin := time.Now()
		peak := heapPeak(func() {
			r = NewReader(g, Options{})
			for range r.Records() {
			}
			rep = r.Report()
		})
		lawful(t, rep, g.size)
		if !(peak <= heldMost) {
			t.Errorf("%s: the heap grew by %.1f MiB, more than %d", name, float64(peak)/(1<<20), heldMost>>20)
		}
		if len(rep.Layout.Reasons) > mostReasons || len(rep.List) > 1000 || len(rep.Layout.Columns) > mostColumns {
			t.Errorf("%s: %d reasons, %d problems, %d columns", name, len(rep.Layout.Reasons), len(rep.List), len(rep.Layout.Columns))
		}
		t.Logf("%-32s %5.1f MiB, %d records, %v, %d MB", name, float64(peak)/(1<<20), rep.Lines.Records, time.Since(begin).Round(time.Millisecond), g.size/1e6)
	}
}

// A file of as many columns as are read is read, one more is not unless they are
// named.
func TestMostColumns(t *testing.T) {
	for n, want := range map[int]int{mostColumns: 5, mostColumns + 1: 0} {
		in := strings.Repeat("2027-08-02T07:00:00Z"+strings.Repeat(",7", n-1)+"\n", 5)
		recs, rep, err := drain(t, strings.NewReader("time,light"+strings.Repeat(",x", n-2)+"\n"+in), Options{})
		if len(recs) != want || (err == nil) != (want > 0) {
			t.Errorf("%d columns: %d records, %v %v", n, len(recs), err, rep)
		}
		roles := make([]Role, n)
		roles[0], roles[n-1] = Time, Light
		if recs, _, err := drain(t, strings.NewReader(in), Options{Columns: roles}); len(recs) != 5 || err != nil {
			t.Errorf("%d columns named: %d records, %v", n, len(recs), err)
		}
	}
}

// Reasons are as many and as long as is bounded, and the last says that there were
// more.
func TestReasonsAreBounded(t *testing.T) {
	var l Layout
	for i := range 3 * mostReasons {
		l.because("%d %s", i, strings.Repeat("é", reasonCap))
	}
	if n := len(l.Reasons); n != mostReasons || len(l.Reasons[0]) > reasonCap+3 || !strings.Contains(l.Reasons[n-1], "not listed") {
		t.Errorf("%d reasons of %d bytes, the last %q", n, len(l.Reasons[0]), l.Reasons[n-1])
	}
}
