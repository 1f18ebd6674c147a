package logfile

import (
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestWriterRefusesFields(t *testing.T) {
	clock := Field{"time", Time, ""}
	for name, fields := range map[string][]Field{
		"none": nil, "no time": {{"light", Light, "lx"}, {"temp", Temp, "Cel"}}, "only time": {clock},
		"name twice": {clock, {"Time", Light, "lx"}}, "role twice": {clock, {"a", Light, ""}, {"b", Light, ""}},
		"no name": {clock, {"", Light, ""}}, "blanks": {clock, {" light", Light, ""}}, "formula": {clock, {"=light", Light, ""}},
		"comment": {{"#time", Time, ""}, {"light", Light, ""}}, "number": {clock, {"12", Light, ""}}, "break": {clock, {"li\nght", Light, ""}},
		"date": {clock, {"day", Date, ""}}, "no role": {clock, {"x", roleCount, ""}}, "unit": {clock, {"light", Light, "lux"}},
		"unit of time": {{"time", Time, "s"}, {"light", Light, ""}}, "not UTF-8": {clock, {"l\xff", Light, ""}},
	} {
		_, err := NewWriter(io.Discard, fields, WriterOptions{})
		if _, ok := errors.AsType[*WriteError](err); !ok || !errors.Is(err, ErrField) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, opt := range []WriterOptions{{Fraction: -1}, {Fraction: 10}, {Grid: Grid{Step: 7}}, {Grid: Grid{SecondsPerKm: -1}}} {
		if _, err := NewWriter(io.Discard, allFields, opt); !errors.Is(err, ErrField) {
			t.Errorf("%+v: %v", opt, err)
		}
	}
	for _, fields := range [][]Field{sampleFields, {clock, {"lat", Lat, "deg"}}, {clock, {"lon", Lon, "deg"}}} { // no place, or half of one
		if _, err := NewWriter(io.Discard, fields, WriterOptions{Grid: Grid{Step: 0.1}}); !errors.Is(err, ErrField) {
			t.Errorf("a grid over %v: %v", fields, err)
		}
	}
}

// What would not come back is refused, nothing of it is written, and the next row
// is taken.
func TestWriterRefusesCells(t *testing.T) {
	at := time.Date(2027, 8, 2, 8, 45, 0, 0, time.UTC)
	fields := []Field{{"time", Time, ""}, {"light", Light, "lx"}, {"temp", Temp, "Cel"}, {"lat", Lat, "deg"}, {"battery", Skip, "V"}, {"note", Skip, ""}}
	for name, tt := range map[string]struct {
		change func(*Record)
		own    []string
		column string
	}{
		"infinite":    {func(r *Record) { r.Light = math.Inf(1) }, []string{"", ""}, "light"},
		"failed":      {func(r *Record) { r.Temp = -127 }, []string{"", ""}, "temp"},
		"latitude":    {func(r *Record) { r.Lat = 91 }, []string{"", ""}, "lat"},
		"year":        {func(r *Record) { r.Time = time.Time{} }, []string{"", ""}, "time"},
		"leap":        {func(r *Record) { r.Leap, r.Time = true, at.Add(time.Second) }, []string{"", ""}, "time"},
		"digits":      {func(r *Record) { r.Time = at.Add(time.Microsecond) }, []string{"", ""}, "time"},
		"break":       {func(*Record) {}, []string{"", "a\nb"}, "note"},
		"NUL":         {func(*Record) {}, []string{"", "a\x00b"}, "note"},
		"Latin-1":     {func(*Record) {}, []string{"", "\xe4"}, "note"},
		"no number":   {func(*Record) {}, []string{"3,7", ""}, "battery"},
		"few cells":   {func(*Record) {}, []string{""}, "Skip"},
		"many cells":  {func(*Record) {}, []string{"", "", ""}, "Skip"},
		"endless row": {func(*Record) {}, []string{"", strings.Repeat("x", 70000)}, "row"},
	} {
		got, _ := write(t, fields, WriterOptions{Fraction: 3}, func(w *Writer) {
			bad := blank(at)
			tt.change(&bad)
			err := w.Write(bad, tt.own...)
			e, ok := errors.AsType[*WriteError](err)
			if !ok || !errors.Is(err, ErrCell) || e.Column != tt.column || e.Row != 1 || e.Reason == "" {
				t.Errorf("%s: %v", name, err)
			}
			require.NoError(t, w.Write(blank(at), "3.7", ""))
		})
		if want := "time,light,temp,lat,battery,note\r\n2027-08-02T08:45:00.000Z,,,,3.7,\r\n"; got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
}

type fullDisk struct{}

var errFull = errors.New("disk full")

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestWriterKeepsTheDestinationsError(t *testing.T) {
	w, err := NewWriter(fullDisk{}, sampleFields, WriterOptions{})
	require.NoError(t, err)
	rec := blank(time.Date(2027, 8, 2, 8, 45, 0, 0, time.UTC))
	require.NoError(t, w.Write(rec, "", "")) // held back
	if err := w.Flush(); !errors.Is(err, errFull) {
		t.Errorf("flush: %v", err)
	}
	if err := w.Write(rec, "", ""); !errors.Is(err, errFull) {
		t.Errorf("a write behind it: %v", err)
	}
}
