package main

import (
	"bytes"
	"context"
	"flag"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
)

func TestMain(m *testing.M) {
	flag.Parse()
	log.LogLevel = "error"
	beam.Init()
	os.Exit(m.Run())
}

func given(t testing.TB, patterns ...string) *settings {
	t.Helper()
	o := &settings{Common: cli.Scenario(), batch: defaultBatch, patterns: patterns}
	o.Limb, o.JSON, o.Out = cli.Real, true, filepath.ToSlash(t.TempDir())
	return o
}

func (o *settings) answered(t testing.TB) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, o.answer(context.Background(), &out))
	return out.Bytes()
}

// pool is what the program on one machine says.
func pool(t *testing.T, names ...string) []byte {
	t.Helper()
	c := exec.Command("go", append([]string{"run", "-buildvcs=false", "./examples/pool", "-json"}, names...)...)
	c.Dir, c.Stderr = "../..", os.Stderr
	out, err := c.Output()
	require.NoError(t, err)
	return out
}

// spread writes the school network into a folder, and spoils some of it: a log torn in two, one
// that is gone, a description that is none, one that reaches for a file elsewhere.
func spread(t *testing.T) (folder string, names []string) {
	t.Helper()
	folder = filepath.ToSlash(t.TempDir())
	require.NoError(t, os.CopyFS(folder, demo.Network()))
	names, err := filepath.Glob(folder + "/*/" + demo.StationFile)
	require.NoError(t, err)
	require.Len(t, names, 12)
	logs := func(i int) string {
		all, err := filepath.Glob(filepath.Dir(names[i]) + "/*.gz")
		require.NoError(t, err)
		require.Len(t, all, 1)
		return all[0]
	}
	info, err := os.Stat(logs(1))
	require.NoError(t, err)
	require.NoError(t, os.Truncate(logs(1), info.Size()/2))
	require.NoError(t, os.Remove(logs(2)))
	require.NoError(t, os.WriteFile(names[3], []byte("{"), 0o600))
	text, err := os.ReadFile(names[4])
	require.NoError(t, err)
	text = bytes.Replace(text, []byte(filepath.Base(logs(4))), []byte("../"+filepath.Base(logs(4))), 1)
	require.NoError(t, os.WriteFile(names[4], text, 0o600))
	return folder, names
}

// However the stations are bundled, in whatever order they come, and if each is reduced
// twice, the answer has the bytes of examples/pool.
func TestSameBytesAsPool(t *testing.T) {
	folder, names := spread(t)
	shuffled := slices.Clone(names)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	want := pool(t, names...)
	for _, code := range []string{"SCHOOL-03", "SCHOOL-04", "SCHOOL-05"} {
		if failed := want[bytes.Index(want, []byte(`"failed"`)):]; !bytes.Contains(failed, []byte(code)) {
			t.Fatalf("%s did not fail: %s", code, failed)
		}
	}
	for _, tt := range []struct {
		name           string
		batch, workers int
		patterns       []string
	}{
		{"one pattern", defaultBatch, 0, []string{folder + "/*/station.json"}},
		{"one at a time", 1, 1, []string{folder + "/*/station.json"}},
		{"five at a time", 5, 3, []string{folder + "/*/station.json"}},
		{"shuffled", defaultBatch, 2, shuffled},
		{"each reduced twice", 7, 2, []string{folder + "/*/station.json", folder + "/SCHOOL-*/station.json"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			o := given(t, tt.patterns...)
			o.batch, o.workers = tt.batch, tt.workers
			if got := o.answered(t); !bytes.Equal(got, want) {
				t.Errorf("%d bytes, pool has %d: they differ from %s", len(got), len(want), from(got, want))
			}
		})
	}
}

// from is where two answers part.
func from(a, b []byte) string {
	i := 0
	for i < min(len(a), len(b)) && a[i] == b[i] {
		i++
	}
	return string(a[max(0, i-100):min(len(a), i+100)])
}

// The demo, which needs no files, has the bytes that pool has without arguments; the counters
// are those of its summaries, and the whole is kept.
func TestDemo(t *testing.T) {
	o := given(t, demoScheme+"://*/"+demo.StationFile)
	got := o.answered(t)
	if want := pool(t); !bytes.Equal(got, want) {
		t.Errorf("they differ from %s", from(got, want))
	}
	kept, err := os.ReadFile(o.Out + "/pool.json")
	require.NoError(t, err)
	require.Equal(t, got, kept)
	all, err := merge(context.Background(), o.parts())
	require.NoError(t, err)
	records, problems := 0, 0
	for _, s := range all.summaries.All() {
		records, problems = records+s.Records, problems+s.Problems
	}
	o = given(t, o.patterns...)
	counted, err := o.pipe(context.Background())
	require.NoError(t, err)
	want := map[string]int64{"stations": 12, "refused": 1, "records": int64(records), "problems": int64(problems), "files": 12}
	require.Equal(t, want, counted)
}

// A folder with parts is no place for another run.
func TestFolderIsEmpty(t *testing.T) {
	o := given(t, demoScheme+"://SCHOOL-01/"+demo.StationFile)
	o.answered(t)
	var out bytes.Buffer
	if err := o.answer(context.Background(), &out); err == nil || !strings.Contains(err.Error(), "another run") {
		t.Errorf("%v", err)
	}
	names, err := fs.Glob(os.DirFS(o.parts()), "*.json")
	require.NoError(t, err)
	require.Len(t, names, 1)
	require.NoError(t, os.Truncate(o.parts()+"/"+names[0], 10))
	if _, err := merge(context.Background(), o.parts()); err == nil || !strings.Contains(err.Error(), names[0]) {
		t.Errorf("a part that is cut off: %v", err)
	}
}
