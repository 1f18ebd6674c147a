package logfile

import (
	"fmt"
	"strings"
)

// String says on a line for each column how the file's lines are read.
func (l Layout) String() string {
	var b strings.Builder
	mark := "point"
	if l.DecimalComma {
		mark = "comma"
	}
	fmt.Fprintf(&b, "%d columns between %s, decimal %s, dates %v", len(l.Columns), delimiterName(l.Delimiter), mark, l.Order)
	for i, c := range l.Columns {
		fmt.Fprintf(&b, "\n%3d  %v", i+1, c)
	}
	return b.String()
}

// String is the column's role, name, unit and what a count in it counts.
func (c Column) String() string {
	s := fmt.Sprintf("%-8v", c.Role)
	if c.Name != "" {
		s += fmt.Sprintf(" %q", c.Name)
	}
	if c.Unit != "" {
		s += fmt.Sprintf(" in %s", c.Unit)
	}
	if c.Scale != 0 {
		s += fmt.Sprintf(", %g in a second since 1970", c.Scale)
	}
	if c.Tick != 0 {
		s += fmt.Sprintf(", each %v since the start", c.Tick)
	}
	return strings.TrimRight(s, " ")
}

// Differences says in words where two layouts would read a line in different ways; none
// where every record would be the same. Names, units and reasons make none. The layout
// of a file's first lines may so be held against that of the whole, or of another day.
func (l Layout) Differences(other Layout) []string {
	var out []string
	differ := func(what string, a, b any) {
		if a != b {
			out = append(out, fmt.Sprintf("%s: %v, %v", what, a, b))
		}
	}
	differ("delimiter", delimiterName(l.Delimiter), delimiterName(other.Delimiter))
	differ("decimal comma", l.DecimalComma, other.DecimalComma)
	differ("order of dates", l.Order, other.Order)
	if l.Zone != "" && other.Zone != "" { // else one of them has seen no record yet
		differ("zone", l.Zone, other.Zone)
	}
	differ("columns", len(l.Columns), len(other.Columns))
	for i := range min(len(l.Columns), len(other.Columns)) {
		a, b := &l.Columns[i], &other.Columns[i]
		differ(fmt.Sprintf("role of column %d", i+1), a.Role, b.Role)
		differ(fmt.Sprintf("scale of column %d", i+1), a.Scale, b.Scale)
		differ(fmt.Sprintf("tick of column %d", i+1), a.Tick, b.Tick)
		differ(fmt.Sprintf("unit behind the numbers of column %d", i+1), a.suffix, b.suffix)
	}
	return out
}
