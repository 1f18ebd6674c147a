package station_test

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse/station"
)

// A folder may hold a picture and a page of notes beside the logs. What was named is
// refused, what was only found is passed over, unless there is nothing else.
func TestFoundFilesThatAreNoLogs(t *testing.T) {
	file := func(name, text string, found bool) station.File {
		return station.File{Name: name, Found: found, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }}
	}
	var rows strings.Builder
	rows.WriteString("time,light\n")
	for i := range 200 {
		fmt.Fprintf(&rows, "2027-08-02T07:%02d:%02dZ,%d\n", i/60, i%60, 4000+i)
	}
	log := file("20270802.csv", rows.String(), true)
	s := &station.Station{Version: station.Version, Code: "x", Site: station.Site{Lat: 36, Lon: -5.6}, Eclipse: "2027-08-02"}
	for name, text := range map[string]string{"notes.txt": "It was a clear morning\nand we saw it all.\n", "station.json": "{\n  \"version\": 1\n}\n", "yard.png": "\x89PNG\r\n\x1a\n\x00\x01\x02"} {
		rep, err := station.Reduce(context.Background(), s, []station.File{file(name, text, true), log}, station.Options{})
		require.NoError(t, err)
		if rep.Records != 200 || len(rep.Files) != 1 || !slices.ContainsFunc(rep.Warnings, func(w string) bool { return strings.Contains(w, name) }) {
			t.Errorf("%s: %d records of %d files, %q", name, rep.Records, len(rep.Files), rep.Warnings)
		}
		for _, files := range [][]station.File{{file(name, text, false), log}, {file(name, text, true)}} {
			if _, err := station.Reduce(context.Background(), s, files, station.Options{}); err == nil || !strings.Contains(err.Error(), name) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}
