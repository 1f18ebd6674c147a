package shadow

import (
	"bufio"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// WriteCSV writes a line for each site, "lat,lon,value", rows and columns in order,
// after a header with the units: lat_deg, lon_deg and Name with an underscore for all
// but letters and digits, or "value". Longitudes are those of X. A value that does not
// exist leaves its field empty. All others read back bit by bit. The error is the writer's.
func (g *Grid) WriteCSV(w io.Writer) error {
	out := bufio.NewWriter(w)
	name := "value"
	if g.Name != "" {
		name = strings.Map(word, g.Name)
	}
	line := append([]byte("lat_deg,lon_deg,"), name...)
	for i := range g.Rows {
		for j := range g.Cols {
			if _, err := out.Write(append(line, '\n')); err != nil {
				return err
			}
			line = strconv.AppendFloat(line[:0], g.Y(i), 'g', -1, 64)
			line = strconv.AppendFloat(append(line, ','), g.X(j), 'g', -1, 64)
			line = append(line, ',')
			if v := g.At(i, j); !math.IsNaN(v) {
				line = strconv.AppendFloat(line, v, 'g', -1, 64)
			}
		}
	}
	if _, err := out.Write(append(line, '\n')); err != nil {
		return err
	}
	return out.Flush()
}

// word keeps what needs no quotes.
func word(c rune) rune {
	if unicode.IsLetter(c) || unicode.IsDigit(c) {
		return c
	}
	return '_'
}
