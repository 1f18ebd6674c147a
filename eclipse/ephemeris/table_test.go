package ephemeris

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sun/timescale"
)

func TestTableGivesItsRows(t *testing.T) {
	p := passages(t)[100]
	table := p.table(t)
	for i, row := range p.rows {
		got, err := table.Sky(p.t0 - 4*3600 + 1800*timescale.TT(i))
		require.NoError(t, err)
		for j, v := range got.values() {
			if !(math.Abs(v-row.values()[j]) <= 1e-12) { // unwrapping may cost a bit of 360 degrees
				t.Errorf("row %d, value %d: %v, want %v", i, j, v, row.values()[j])
			}
		}
	}
}

// The printed rows themselves are the witness: make a table of every second row
// and ask it for those left out. It is twice as coarse as the one it
// speaks for, so its error of interpolation is hundreds of times larger.
func TestTableFindsRowsLeftOut(t *testing.T) {
	var angle, distance float64
	for _, p := range passages(t) {
		var half []Sky
		for i := 0; i < len(p.rows); i += 2 {
			half = append(half, p.rows[i])
		}
		table, err := NewTable(Origin{}, p.t0-4*3600, 3600, half)
		require.NoError(t, err)
		for i := 3; i < len(p.rows)-3; i += 2 {
			got, err := table.Sky(p.t0 - 4*3600 + 1800*timescale.TT(i))
			require.NoError(t, err)
			want := p.rows[i].values()
			for j, v := range got.values() {
				switch j {
				case sunDistance, moonDistance:
					distance = math.Max(distance, math.Abs(v-want[j]))
				default:
					angle = math.Max(angle, math.Abs(math.Remainder(v-want[j], 360)))
				}
			}
		}
	}
	t.Logf("rows left out come back within %.1e degrees, %.1e km", angle, distance)
	// rows are printed to 1e-9 degrees and 1e-4 km; the weights of nine rows
	// sum to less than 3 in size there
	if !(angle <= 3e-9) || !(distance <= 3e-4) {
		t.Errorf("rows left out come back within %.1e degrees and %.1e km, want 3e-9 and 3e-4", angle, distance)
	}
}

func TestTableAcrossTheEquinox(t *testing.T) {
	rows := make([]Sky, 6)
	for i := range rows {
		ra := circle(358 + float64(i))
		rows[i] = Sky{
			Sun:      Place{RA: ra, Distance: AstronomicalUnit},
			Moon:     Place{RA: ra, Distance: 60 * EarthRadius},
			Sidereal: circle(350 + 15*float64(i)),
		}
	}
	table, err := NewTable(Origin{}, 0, 3600, rows)
	require.NoError(t, err)
	got, err := table.Sky(1.5 * 3600)
	require.NoError(t, err)
	if !(math.Abs(math.Remainder(got.Sun.RA-359.5, 360)) <= 1e-12) || !(math.Abs(math.Remainder(got.Sidereal-12.5, 360)) <= 1e-12) {
		t.Errorf("between 359 and 0 degrees: ra %v, sidereal time %v, want 359.5 and 12.5", got.Sun.RA, got.Sidereal)
	}
}

func TestTableRefuses(t *testing.T) {
	good := make([]Sky, 9)
	for i := range good {
		good[i] = aligned
	}
	_, err := NewTable(Origin{}, 0, 3600, good[:4])
	if !errors.Is(err, ErrFewRows) {
		t.Errorf("four rows: %v, want %v", err, ErrFewRows)
	}
	for _, step := range []float64{0, -1800, math.NaN(), math.Inf(1)} {
		if _, err := NewTable(Origin{}, 0, step, good); !isRange(err) {
			t.Errorf("step %v: %v, want a RangeError", step, err)
		}
	}
	bad := append([]Sky(nil), good...)
	bad[3].Sun.RA = math.NaN()
	if _, err := NewTable(Origin{}, 0, 3600, bad); !isRange(err) {
		t.Errorf("a row that is not a number: %v, want a RangeError", err)
	}
	table, err := NewTable(Origin{}, 0, 3600, good)
	require.NoError(t, err)
	for _, at := range []float64{-1, 8*3600 + 1, math.NaN()} {
		if _, err := table.Sky(timescale.TT(at)); !isRange(err) {
			t.Errorf("%v s from the first row: %v, want a RangeError", at, err)
		}
	}
}

func isRange(err error) bool {
	_, ok := errors.AsType[*RangeError](err)
	return ok
}
