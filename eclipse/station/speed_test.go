package station

import (
	"context"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"
)

// BenchmarkHealth reduces a day at one a second on which there is no eclipse: reading,
// merging and health, no fit.
func BenchmarkHealth(b *testing.B) {
	m := wholeDay()
	m.from, m.to, m.every = 0, 24*time.Hour, time.Second
	text, _ := m.text(b)
	s := &Station{Version: Version, Code: "MADE-UP", Site: yard, Eclipse: m.day.Format(time.DateOnly)}
	files := FilesIn(fstest.MapFS{"a.csv": {Data: []byte(text)}}, "a.csv")
	b.ReportAllocs()
	for b.Loop() {
		rep, err := Reduce(context.Background(), s, files, Options{})
		require.NoError(b, err)
		require.Len(b, rep.Samples, 86400)
	}
}
