package logfile

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/require"
)

// FuzzRead holds the law for any bytes: all are accounted for, nothing panics, and
// neither the size of the reads nor the short way makes a difference. The first
// byte picks the options.
func FuzzRead(f *testing.F) {
	names, err := filepath.Glob("testdata/torn/*")
	require.NoError(f, err)
	odd, err := filepath.Glob("testdata/odd/*")
	require.NoError(f, err)
	names = append(names, odd...)
	require.NotEmpty(f, names)
	for _, name := range names {
		b, err := os.ReadFile(name)
		require.NoError(f, err)
		for i := range fuzzOptions {
			f.Add(byte(i), b)
		}
	}
	f.Fuzz(func(t *testing.T, pick byte, in []byte) {
		opt := fuzzOptions[int(pick)%len(fuzzOptions)]
		recs, rep, err := drain(t, bytes.NewReader(in), opt)
		lawful(t, rep, int64(len(in)))
		if int64(len(recs)) != rep.Lines.Records {
			t.Fatalf("%d records came out, %d are counted", len(recs), rep.Lines.Records)
		}
		again, rep1, err1 := drain(t, iotest.OneByteReader(bytes.NewReader(in)), opt)
		if !same(recs, again) || fmt.Sprint(rep, err) != fmt.Sprint(rep1, err1) {
			t.Fatalf("a byte at a time reads otherwise:\n%v %v\n%v %v", rep, err, rep1, err1)
		}
		r := NewReader(bytes.NewReader(in), opt)
		r.slow = true
		careful, rep2, err2 := walk(t, r)
		if !same(recs, careful) || fmt.Sprint(rep, err) != fmt.Sprint(rep2, err2) || fmt.Sprint(rep.Layout) != fmt.Sprint(rep2.Layout) {
			t.Fatalf("the careful way reads otherwise:\n%v %v\n%v %v", rep, err, rep2, err2)
		}
		Events(recs)
		if merged, duplicates := Merge(recs, recs); len(merged) > len(recs) || duplicates < len(recs) {
			t.Fatalf("%d records merged with themselves are %d and %d duplicates", len(recs), len(merged), duplicates)
		}
	})
}

var fuzzOptions = []Options{
	{},
	{Name: "20270802.csv", Order: DMY},
	{Zone: time.FixedZone("", 7200), Columns: []Role{Time, Light}, MaxProblems: 3},
	{Light: "2", Order: MDY, Date: time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC)},
}
