package logfile

import (
	"bytes"
	"unicode/utf8"
)

// longUnit is longer than any unit and the word behind it; common practice, no
// source.
const longUnit = 24

// cellUnit cuts a cell such as 22% moisture or 23.5 °C into its number and what
// stands behind that. Nothing is a unit that begins like the rest of a stamp or of
// another number, or that holds more than a single digit in a row (W/m2).
func cellUnit(cell []byte, mark byte) (number, unit []byte, ok bool) {
	cell = trim(cell)
	i := 0
	if i < len(cell) && (cell[i] == '-' || cell[i] == '+') {
		i++
	}
	for i < len(cell) && (cell[i]-'0' <= 9 || cell[i] == mark) {
		i++
	}
	unit = trim(cell[i:])
	if len(unit) == 0 || len(unit) > longUnit || !beginsUnit(unit[0]) {
		return nil, nil, false
	}
	for j := 1; j < len(unit); j++ {
		if unit[j]-'0' <= 9 && unit[j-1]|0x20-'a' >= 26 {
			return nil, nil, false
		}
	}
	_, ok = parseNumber(cell[:i], mark)
	return cell[:i], unit, ok
}

func beginsUnit(c byte) bool { return c|0x20-'a' < 26 || c == '%' || c >= utf8.RuneSelf }

// commonUnit is what stands behind the number in every cell of a column, nil where
// one of them has no unit or another: degrees of two kinds are not to be mixed.
// Cells of a sensor that failed say nothing.
func (d *draft) commonUnit(column int) (unit []byte) {
	for _, row := range d.rows {
		cell := row.fields[column]
		if isFailure(cell) {
			continue
		}
		_, u, ok := cellUnit(cell, d.mark)
		if !ok || unit != nil && !bytes.Equal(u, unit) {
			return nil
		}
		if unit == nil {
			if _, form := parseStamp(cell, Auto); form {
				return nil // 2 Aug 2027
			}
			unit = u
		}
	}
	return unit
}

// cellUnits takes down the units inside cells, and says so.
func (l *Layout) cellUnits(d *draft) {
	for i := range d.shapes {
		if d.shapes[i].unit == nil {
			continue
		}
		c := &l.Columns[i]
		c.suffix = string(d.shapes[i].unit)
		unit := heading(d.shapes[i].unit)
		c.hint = unit
		if c.Unit == "" {
			c.Unit = unit
		}
		l.united = true
		l.because("column %d has %q behind every number, which is taken off", i+1, unit)
	}
}

// saysNothing is a heading without a meaning.
func saysNothing(name string) bool {
	role, _, other := meaning(name)
	return role == Skip && !other
}

// celsius are the ways to write the unit of most thermometers; common practice, no
// source.
var celsius = []string{"°c", "℃", "ºc", "degc", "deg c", "celsius", "c"}

// meaningOf is what a column's heading says of it or, where that says nothing, its
// unit.
func (c *Column) meaningOf() (role Role, rank int, other bool) {
	if c.hint == "" || !saysNothing(c.Name) {
		return meaning(c.Name)
	}
	for _, name := range celsius {
		if equalFold(c.hint, name) {
			return Temp, 1, false
		}
	}
	return meaning(c.hint)
}

// evidence is what meaningOf went by.
func (c *Column) evidence() string {
	if c.hint == "" || !saysNothing(c.Name) {
		return c.Name
	}
	return c.hint
}

// unitBeside takes the unit of a lone column of numbers from a column that is
// headed so and says the same in every row.
func (l *Layout) unitBeside(d *draft) {
	said, of := "", -1
	for i := range d.shapes {
		switch s := &d.shapes[i]; {
		case anyOf([]string{"unit", "units"}, tokens(l.Columns[i].Name)) && s.text == s.cells:
			if said = d.constant(i); said == "" {
				return
			}
		case !s.mostly(s.numbers) || l.Columns[i].Role != Skip:
		case of >= 0:
			return
		default:
			of = i
		}
	}
	if said == "" || of < 0 || l.Columns[of].Unit != "" {
		return
	}
	l.Columns[of].Unit, l.Columns[of].hint = said, said
	l.because("column %d has the unit %q, by the column beside it", of+1, said)
}

// constant is the text that all cells of a column hold, empty where they differ.
func (d *draft) constant(column int) string {
	first := trim(d.rows[0].fields[column])
	for _, row := range d.rows {
		if !bytes.Equal(trim(row.fields[column]), first) {
			return ""
		}
	}
	return heading(first)
}

// bare takes the column's unit off a cell; nil where it is missing or another.
func (c *Column) bare(cell []byte) []byte {
	cell = trim(cell)
	n := len(cell) - len(c.suffix)
	if n < 0 || string(cell[n:]) != c.suffix {
		return nil
	}
	return cell[:n]
}
