package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strconv"
	"testing"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"
	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/pooled"
)

func encode(s *station.Summary) ([]byte, error) { return json.Marshal(s) }

func init() {
	beam.RegisterType(reflect.TypeFor[makeFn]())
	register.DoFn2x1[int, func(string, Part), error](&makeFn{})
}

// makeFn gives summaries without logs, Each for every element.
type makeFn struct {
	Like []byte
	Each int
}

func (f *makeFn) ProcessElement(first int, emit func(string, Part)) error {
	for i := first; i < first+f.Each; i++ {
		s, err := varied(f.Like, i)
		if err != nil {
			return err
		}
		emit(partOf(campaign.Outcome{Name: s.Code, Summary: s}))
	}
	return nil
}

// largestMessage is what many an engine's transport takes, gRPC's default.
const largestMessage = 4 << 20

// TestManySummaries sends summaries through the second half of the pipeline: none is lost, no
// group comes near the limit, and the pooling has the bytes of the same summaries without
// an engine. NOONFALL_SUMMARIES says how many, 2000 where nothing is said.
func TestManySummaries(t *testing.T) {
	n := 2000
	if s := os.Getenv("NOONFALL_SUMMARIES"); s != "" {
		var err error
		n, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	const each = 500
	like := full(t)
	var firsts []int
	for i := 0; i < n; i += each {
		firsts = append(firsts, i)
	}
	begin := time.Now()
	o := given(t)
	p, s := beam.NewPipelineWithRoot()
	collect(s, beam.ParDo(s, &makeFn{like, each}, beam.Reshuffle(s, beam.CreateList(s, firsts))), o.parts())
	_, err := beamx.RunWithMetrics(context.Background(), p)
	require.NoError(t, err)
	engine := time.Since(begin)
	names, err := filepath.Glob(o.parts() + "/*.json")
	require.NoError(t, err)
	var largest, total int64
	for _, name := range names {
		info, err := os.Stat(name)
		require.NoError(t, err)
		largest, total = max(largest, info.Size()), total+info.Size()
	}
	all, err := merge(context.Background(), o.parts())
	require.NoError(t, err)
	n = len(firsts) * each
	if all.summaries.Len() != n || !(largest < largestMessage/4) || !(n < 1000 || len(names) > n/8 || len(names) > 4000) {
		t.Errorf("%d summaries of %d in %d files, the largest of %d bytes", all.summaries.Len(), n, len(names), largest)
	}
	merged := time.Since(begin)
	got := bytesOf(t, all)
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	t.Logf("%d summaries, %.1f kB each: %.1f s through the engine, %.1f s to merge, %.1f s to pool; %d files, the largest %.0f kB; %.0f MB from the system",
		n, float64(total)/float64(n)/1e3, engine.Seconds(), (merged - engine).Seconds(), (time.Since(begin) - merged).Seconds(), len(names), float64(largest)/1e3, float64(m.Sys)/1e6)
	want := newPart()
	for i := range n {
		s, err := varied(like, i)
		require.NoError(t, err)
		require.NoError(t, want.summaries.Add(s))
	}
	if !bytes.Equal(got, bytesOf(t, want)) {
		t.Error("the engine's bytes are not those of the same summaries without it")
	}
}

func bytesOf(t *testing.T, all Part) []byte {
	t.Helper()
	p, err := pooled.Pool(all.summaries, nil, time.Time{}, eclipse.Options{})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, p.WriteJSON(&out))
	return out.Bytes()
}
