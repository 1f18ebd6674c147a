package main

import (
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"example.org/noonfall/eclipse/ephemeris"
	"example.org/noonfall/sun/timescale"
)

// A passage is the table of positions around one eclipse.
type passage struct {
	date  string // of greatest eclipse, TT, as the file has it
	t0    timescale.TT
	table *ephemeris.Table
}

const (
	rowsEach  = 17   // per eclipse
	rowStep   = 1800 // seconds
	rowsAhead = 8    // rows before t0
)

// columns that the file must have; their order is free.
var columns = []string{
	"eclipse", "t0_jd0_tt", "t0_frac_day", "dt_h", "jd0_tt", "frac_day_tt",
	"sun_ra_deg", "sun_dec_deg", "sun_dist_km", "moon_ra_deg", "moon_dec_deg", "moon_dist_km",
	"gast_ut1eqtt_deg",
}

// readPositions reads a packed file of positions into passages, in the order of
// the file.
func readPositions(packed []byte) ([]passage, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	r := csv.NewReader(z)
	r.ReuseRecord = true
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("header: %w", err)
	}
	at := make(map[string]int)
	for i, name := range header {
		at[name] = i
	}
	for _, name := range columns {
		if _, ok := at[name]; !ok {
			return nil, fmt.Errorf("header has no column %q", name)
		}
	}
	var all []passage
	var rows []row
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		next, err := readRow(record, at)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", line, err)
		}
		rows = append(rows, next)
		if len(rows) < rowsEach {
			continue
		}
		p, err := join(rows)
		if err != nil {
			return nil, fmt.Errorf("eclipse ending in line %d: %w", line, err)
		}
		all, rows = append(all, p), rows[:0]
	}
	if len(rows) != 0 {
		return nil, fmt.Errorf("last eclipse has %d rows, want %d", len(rows), rowsEach)
	}
	return all, nil
}

// A row is one line of the file.
type row struct {
	date      string
	t0        timescale.TT
	hours     float64
	instant   timescale.TT
	positions ephemeris.Sky
}

func readRow(record []string, at map[string]int) (row, error) {
	var faults []error
	value := func(name string) float64 {
		v, err := strconv.ParseFloat(record[at[name]], 64)
		if err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", name, err))
		}
		return v
	}
	r := row{
		date:    record[at["eclipse"]],
		t0:      wholeSecond(timescale.FromJulianDate(value("t0_jd0_tt"), value("t0_frac_day"))),
		hours:   value("dt_h"),
		instant: wholeSecond(timescale.FromJulianDate(value("jd0_tt"), value("frac_day_tt"))),
		positions: ephemeris.Sky{
			Sun:      ephemeris.Place{RA: value("sun_ra_deg"), Dec: value("sun_dec_deg"), Distance: value("sun_dist_km")},
			Moon:     ephemeris.Place{RA: value("moon_ra_deg"), Dec: value("moon_dec_deg"), Distance: value("moon_dist_km")},
			Sidereal: value("gast_ut1eqtt_deg"),
		},
	}
	return r, errors.Join(faults...)
}

// wholeSecond removes the rounding of the file's fractions of a day, which have
// twelve decimals or 0.1 microseconds; its instants are whole seconds.
func wholeSecond(t timescale.TT) timescale.TT { return timescale.TT(math.Round(float64(t))) }

// join makes a passage of the rows of one eclipse.
func join(rows []row) (passage, error) {
	first := rows[0]
	skies := make([]ephemeris.Sky, len(rows))
	for i, r := range rows {
		want := first.t0 + timescale.TT((i-rowsAhead)*rowStep)
		if r.date != first.date || r.t0 != first.t0 || r.instant != want || r.hours*3600 != float64(want-first.t0) {
			return passage{}, fmt.Errorf("row %d is of %s at %+.1f h, want %s at %+.1f h",
				i+1, r.date, r.hours, first.date, float64(want-first.t0)/3600)
		}
		skies[i] = r.positions
	}
	table, err := ephemeris.NewTable(origin, first.t0-rowsAhead*rowStep, rowStep, skies)
	return passage{date: first.date, t0: first.t0, table: table}, err
}
