package logfile

import (
	"bytes"
	"io"
	"math"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// endlessLog is one day after another, of the same rows under another date.
type endlessLog struct {
	day  []byte
	date time.Time
	at   int // in day
	left int // days
}

func (e *endlessLog) Read(p []byte) (int, error) {
	if e.at == len(e.day) {
		if e.left--; e.left <= 0 {
			return 0, io.EOF
		}
		old := e.date.Format(time.DateOnly)
		e.date, e.at = e.date.AddDate(0, 0, 1), 0
		date := []byte(e.date.Format(time.DateOnly))
		for i := bytes.Index(e.day, []byte(old)); i < len(e.day); {
			copy(e.day[i:], date)
			n := bytes.Index(e.day[i:], []byte(old))
			if n < 0 {
				break
			}
			i += n
		}
	}
	n := copy(p, e.day[e.at:])
	e.at += n
	return n, nil
}

// peakResident is the most memory that the process ever had, bytes; 0 where the system
// does not say.
func peakResident() int64 {
	status, _ := os.ReadFile("/proc/self/status") // there is none on most systems
	for l := range strings.Lines(string(status)) {
		if text, ok := strings.CutPrefix(l, "VmHWM:"); ok {
			kB, _ := strconv.ParseInt(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "kB")), 10, 64)
			return kB << 10
		}
	}
	return 0
}

// An endless log is read through a Reader, a Watch and an Averager: all bytes and
// records are there, and memory stays below 64 MB. NOONFALL_GB says how much is read,
// GB.
func TestStream(t *testing.T) {
	const most = 64e6 // bytes
	gb := 0.1
	if s := os.Getenv("NOONFALL_GB"); s != "" {
		var err error
		gb, err = strconv.ParseFloat(s, 64)
		require.NoError(t, err)
	}
	day := madeUpDay()
	day = append(day, "36.00000,-5.60"...) // the power fails: each day ends with a torn line
	day = append(day, "\r\n"...)
	days := int(math.Ceil(gb * 1e9 / float64(len(day))))
	size := int64(days) * int64(len(day))
	means, err := NewAverager(time.Minute)
	require.NoError(t, err)
	var watch Watch
	events, windows, heap := 0, 0, uint64(0)
	before, begin := peakResident(), time.Now()
	r := NewReader(&endlessLog{day: day, date: time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), left: days}, Options{})
	n := 0
	for rec, err := range r.Records() {
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := watch.See(rec); ok {
			events++
		}
		if _, ok := means.See(rec); ok {
			windows++
		}
		if n++; n%1_000_000 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			heap = max(heap, m.HeapInuse)
		}
	}
	took, resident := time.Since(begin), peakResident()
	rep := r.Report()
	lawful(t, rep, size)
	if want := (Accounts{Records: int64(days) * dayRows, Headers: int64(days), Problems: int64(days)}); rep.Lines != want || int64(n) != want.Records {
		t.Errorf("%+v, want %+v", rep.Lines, want)
	}
	if events != 0 || windows != days*1440-1 { // the last is still open
		t.Errorf("%d events, %d windows in %d days", events, windows, days)
	}
	if !(float64(heap) <= most) || resident > before && !(float64(resident) <= most) {
		t.Errorf("the heap grew to %d bytes, the process to %d", heap, resident)
	}
	t.Logf("%.2f GB, %d records in %v: %.0f MB/s; heap %.1f MB, process %.1f MB", float64(size)/1e9, n, took.Round(time.Millisecond),
		float64(size)/1e6/took.Seconds(), float64(heap)/1e6, float64(resident)/1e6)
}
