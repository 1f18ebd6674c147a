package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/sun"
)

// madeFiles is a file system of stations that share sixteen logs.
type madeFiles struct {
	demoFiles
	logs     [][]byte
	stations int
}

var made madeFiles

func init() {
	filesystem.Register("made", func(context.Context) filesystem.Interface { return made })
}

func (m madeFiles) List(context.Context, string) ([]string, error) {
	names := make([]string, m.stations)
	for i := range names {
		names[i] = fmt.Sprintf("made://%06d/station.json", i)
	}
	return names, nil
}

// opened counts, for a look at the memory now and then; mostHeap is the most that was seen.
var opened, mostHeap atomic.Uint64

func (m madeFiles) OpenRead(_ context.Context, name string) (io.ReadCloser, error) {
	if opened.Add(1)%64 == 0 {
		var now runtime.MemStats
		runtime.ReadMemStats(&now)
		mostHeap.Store(max(mostHeap.Load(), now.HeapAlloc))
	}
	i, err := strconv.Atoi(strings.TrimPrefix(name, "made://")[:6])
	if err != nil {
		return nil, err
	}
	if strings.HasSuffix(name, ".csv") {
		return io.NopCloser(bytes.NewReader(m.logs[i%len(m.logs)])), nil
	}
	at := place(i % len(m.logs))
	s := &station.Station{Version: station.Version, Code: fmt.Sprintf("MADE-UP-%06d", i), Eclipse: "2027-08-02", ClockSet: station.SetByNetwork, Files: []string{"log.csv"},
		Site: station.Site{Lat: at.Lat + 0.01*(float64(i*37%101)/101-0.5), Lon: at.Lon + 0.01*(float64(i*61%103)/103-0.5)}}
	text, err := json.Marshal(s)
	return io.NopCloser(bytes.NewReader(text)), err
}

func place(i int) sun.Site {
	return sun.Site{Lat: 35.2 + 0.11*float64(i), Lon: -6.5 + 0.17*float64(i*5%13)}
}

// rehearsed makes a log.
func rehearsed(b *testing.B, i int, cadence, margin time.Duration) []byte {
	b.Helper()
	catalogue, err := canon.Load()
	require.NoError(b, err)
	e, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	require.NoError(b, err)
	skies := []rehearsal.Weather{rehearsal.Clear, rehearsal.Haze, rehearsal.Cumulus, rehearsal.Shade}
	l, err := rehearsal.Make(context.Background(), rehearsal.Plan{Elements: e, Site: place(i), Cadence: cadence, Margin: margin, Offset: float64(i%7) - 3, Seed: uint64(i), Weather: skies[i%len(skies)]})
	require.NoError(b, err)
	var text bytes.Buffer
	_, err = l.WriteTo(&text)
	require.NoError(b, err)
	return text.Bytes()
}

// BenchmarkStations runs the whole of it over stations with small logs, one reading a minute:
// NOONFALL_STATIONS says how many, 100 where nothing is said and 16 under -short. It reports what
// must not grow with their number, the time of a station and the bytes of it in the groups' files,
// and what does: the most that the heap held, of engine and program together. On a machine with
// other work the shell's time has the processor's share of it.
func BenchmarkStations(b *testing.B) { stationsOf(b, time.Minute, 0) }

// BenchmarkDays does so with a day at one reading a second, four megabytes each.
func BenchmarkDays(b *testing.B) { stationsOf(b, time.Second, 10*time.Hour+40*time.Minute) }

func stationsOf(b *testing.B, cadence, margin time.Duration) {
	made.stations = 100
	if s := os.Getenv("NOONFALL_STATIONS"); s != "" {
		var err error
		made.stations, err = strconv.Atoi(s)
		require.NoError(b, err)
	} else if testing.Short() {
		made.stations = 16
	}
	made.logs = nil
	for i := range 16 {
		made.logs = append(made.logs, rehearsed(b, i, cadence, margin))
	}
	mostHeap.Store(0)
	var moved int64
	for b.Loop() {
		o := given(b, "made://")
		o.JSON = false
		var out bytes.Buffer
		require.NoError(b, o.answer(context.Background(), &out))
		require.Contains(b, out.String(), fmt.Sprintf("%d stations", made.stations))
		moved = 0
		names, err := filepath.Glob(o.parts() + "/*.json")
		require.NoError(b, err)
		for _, name := range names {
			info, err := os.Stat(name)
			require.NoError(b, err)
			moved += info.Size()
		}
	}
	each := float64(made.stations)
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/each, "ms/station")
	b.ReportMetric(float64(len(made.logs[0]))/1e6, "MB/log")
	b.ReportMetric(float64(moved)/each/1e3, "kB/station")
	b.ReportMetric(float64(mostHeap.Load())/1e6, "MB")
}
