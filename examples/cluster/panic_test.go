package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/examples/internal/pooled"
)

// explosive is the demo's file system with a defect: two stations' files make it panic.
type explosive struct{ demoFiles }

func init() {
	filesystem.Register("explosive", func(context.Context) filesystem.Interface { return explosive{demoFiles{demo.Network()}} })
}

func (e explosive) List(ctx context.Context, glob string) ([]string, error) {
	names, err := e.demoFiles.List(ctx, strings.Replace(glob, "explosive", demoScheme, 1))
	for i := range names {
		names[i] = strings.Replace(names[i], demoScheme, "explosive", 1)
	}
	return names, err
}

func (e explosive) OpenRead(ctx context.Context, name string) (io.ReadCloser, error) {
	if strings.Contains(name, "SCHOOL-03/station.json") || strings.Contains(name, "SCHOOL-05") && strings.HasSuffix(name, ".gz") {
		panic("made up")
	}
	return e.demoFiles.OpenRead(ctx, strings.Replace(name, "explosive", demoScheme, 1))
}

// A panic fails its own station, by name, and the text says so.
func TestPanicFailsOneStation(t *testing.T) {
	o := given(t, "explosive://*/"+demo.StationFile)
	var a pooled.Answer
	require.NoError(t, json.Unmarshal(o.answered(t), &a))
	if len(a.Stations) != 10 || len(a.Failed) != 2 {
		t.Fatalf("%d stations, failed %v", len(a.Stations), a.Failed)
	}
	o = given(t, o.patterns...)
	o.JSON = false
	var out bytes.Buffer
	require.NoError(t, o.answer(context.Background(), &out))
	words := strings.Join(strings.Fields(out.String()), " ")
	for i, code := range []string{"SCHOOL-03", "SCHOOL-05"} {
		if !strings.Contains(a.Failed[i].Name, code) || !strings.Contains(a.Failed[i].Reason, "made up") || !strings.Contains(words, a.Failed[i].Reason) {
			t.Errorf("%+v\n%s", a.Failed[i], words)
		}
	}
	if !strings.Contains(words, "2 failed") {
		t.Error(words)
	}
}
