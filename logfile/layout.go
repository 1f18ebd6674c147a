package logfile

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A Column is one column of a layout.
type Column struct {
	Name string // from the header; empty without one
	Role Role
	// Scale divides a number to give seconds since 1970, for a Time column that
	// holds an epoch: 1, 1e3 or 1e6; 0 where it holds a written stamp.
	Scale float64
}

// A Layout is how a file's lines are to be read.
type Layout struct {
	Delimiter    byte // a blank stands for runs of blanks and tabs
	DecimalComma bool
	Header       bool
	Columns      []Column
	Order        Order // YMD where no date of the file starts with day or month
	// Reasons say in words what was decided and why.
	Reasons []string
}

func (l *Layout) because(format string, args ...any) {
	l.Reasons = append(l.Reasons, fmt.Sprintf(format, args...))
}

// has is the column of a role, or -1.
func (l *Layout) has(r Role) int {
	return slices.IndexFunc(l.Columns, func(c Column) bool { return c.Role == r })
}

// delimiters in the order in which equals are preferred.
var delimiters = []byte{',', ';', '\t', '|', ' '}

// A shape is a column of the sample: how many of its cells are what.
type shape struct {
	cells, numbers, stamps, dates, clocks, text int
	min, max                                    float64
	rises                                       bool // every number at least the one before
	last                                        float64
}

// A draft is one way to cut the sample.
type draft struct {
	delimiter byte
	comma     bool
	width     int // most frequent number of fields
	share     float64
	rows      [][][]byte // the lines of that width
	head      [][]byte   // the first line whose cells are not what its columns are
	shapes    []shape
	score     float64
}

// infer decides the layout from a sample of lines, by the consistency of the
// pattern times the consistency of the types (after G. J. J. van den Burg, A.
// Nazabal & C. Sutton, Data Min. Knowl. Disc. 33 (2019) 1799).
func infer(sample [][]byte, opt Options) (*Layout, error) {
	fail := func(decides, format string, args ...any) error {
		return &LayoutError{File: opt.Name, Decides: decides, Reason: fmt.Sprintf(format, args...)}
	}
	var best draft
	for _, d := range delimiters {
		for _, comma := range []bool{false, true} {
			if comma && (d == ',' || d == ' ') {
				continue
			}
			if c := cut(sample, d, comma, opt.Order); c.score > best.score*1.0001 {
				best = c
			}
		}
	}
	if best.width < 2 {
		return nil, fail("columns", "no delimiter cuts the lines into a time and a value; say what the columns are")
	}
	l := &Layout{Delimiter: best.delimiter, DecimalComma: best.comma, Columns: make([]Column, best.width)}
	name := strconv.QuoteRune(rune(best.delimiter))
	l.because("cut at %s: %.0f %% of the sampled lines have %d fields", name, 100*best.share, best.width)
	l.Header = best.head != nil
	if l.Header {
		for i, h := range best.head {
			l.Columns[i].Name = strings.ToValidUTF8(string(trim(h)), "?")
		}
	}
	if err := l.assign(best, opt, fail); err != nil {
		return nil, err
	}
	return l, l.order(best, opt, fail)
}

// cut tries one delimiter on the sample.
func cut(sample [][]byte, delimiter byte, comma bool, order Order) draft {
	d := draft{delimiter: delimiter, comma: comma}
	widths := map[int]int{}
	all := make([][][]byte, 0, len(sample))
	for _, s := range sample {
		fields, ok := split(nil, bytes.Clone(s), delimiter)
		if !ok {
			continue
		}
		all = append(all, fields)
		widths[len(fields)]++
	}
	for w, n := range widths {
		if n > widths[d.width] || n == widths[d.width] && w > d.width {
			d.width = w
		}
	}
	if d.width < 2 {
		return d
	}
	d.share = float64(widths[d.width]) / float64(len(sample))
	for _, f := range all {
		if len(f) == d.width {
			d.rows = append(d.rows, f)
		}
	}
	d.measure(order)
	// The header is looked for once the columns' types are known, so that a column
	// of words does not make every line look like one.
	typed := 0.0
	for _, s := range d.shapes {
		if n := max(s.numbers, s.stamps, s.dates, s.clocks); s.cells > 0 {
			typed += float64(n) / float64(s.cells)
		}
	}
	for _, f := range d.rows {
		if d.isHeader(f) {
			d.head = f
			break
		}
	}
	d.score = d.share * (0.1 + typed/float64(d.width)) * (1 - 1/float64(d.width+1))
	return d
}

// measure counts what the cells of each column are.
func (d *draft) measure(order Order) {
	d.shapes = make([]shape, d.width)
	for i := range d.shapes {
		s := &d.shapes[i]
		s.min, s.max, s.rises, s.last = math.Inf(1), math.Inf(-1), true, math.Inf(-1)
		for _, row := range d.rows {
			cell := trim(row[i])
			if len(cell) == 0 {
				continue
			}
			s.cells++
			if v, ok := parseNumber(cell, d.comma); ok {
				s.numbers++
				s.min, s.max = math.Min(s.min, v), math.Max(s.max, v)
				s.rises = s.rises && v >= s.last
				s.last = v
				continue
			}
			st, ok := parseStamp(cell, order)
			switch {
			case !ok:
				s.text++
			case st.hasDate && st.hasClock:
				s.stamps++
			case st.hasDate:
				s.dates++
			default:
				s.clocks++
			}
		}
	}
}

// isHeader says that no cell of a line is what its column mostly is, and that
// at least one column is mostly numbers or stamps.
func (d *draft) isHeader(row [][]byte) bool {
	against := 0
	for i, cell := range row {
		cell = trim(cell)
		s := &d.shapes[i]
		if max(s.numbers, s.stamps, s.dates, s.clocks) <= s.text || len(cell) == 0 {
			continue
		}
		if _, ok := parseNumber(cell, d.comma); ok {
			return false
		}
		if _, ok := parseStamp(cell, Auto); ok {
			return false
		}
		against++
	}
	return against > 0
}

type failer = func(decides, format string, args ...any) error

// assign gives the columns their roles: by the caller's list, by their names, or
// by what they hold.
func (l *Layout) assign(d draft, opt Options, fail failer) error {
	if opt.Columns != nil {
		if len(opt.Columns) != d.width {
			return fail("columns", "%d columns are named, the lines have %d fields", len(opt.Columns), d.width)
		}
		for i, r := range opt.Columns {
			l.Columns[i].Role = r
		}
		l.because("columns as given")
	} else {
		l.byContent(d)
		if l.Header {
			l.byName(d)
		}
	}
	l.epochs(d)
	if l.has(Time) < 0 && l.has(Clock) < 0 {
		return fail("columns", "no column holds a time of day or an instant; say what the columns are")
	}
	if err := l.light(d, opt, fail); err != nil {
		return err
	}
	if l.has(Time) < 0 && l.has(Date) < 0 && opt.Date.IsZero() {
		return fail("date", "the stamps are times of day and neither the file's name nor the caller gives the date")
	}
	return nil
}

// byContent finds the stamps.
func (l *Layout) byContent(d draft) {
	for i, s := range d.shapes {
		most := func(n int) bool { return n > 0 && n*2 > s.cells-1 && n >= s.text }
		switch {
		case most(s.stamps) && l.has(Time) < 0:
			l.Columns[i].Role = Time
			l.because("column %d holds instants", i+1)
		case most(s.dates) && l.has(Date) < 0:
			l.Columns[i].Role = Date
			l.because("column %d holds dates", i+1)
		case most(s.clocks) && l.has(Clock) < 0:
			l.Columns[i].Role = Clock
			l.because("column %d holds times of day", i+1)
		}
	}
	if l.has(Time) >= 0 { // a whole instant needs no halves
		for i := range l.Columns {
			if r := l.Columns[i].Role; r == Date || r == Clock {
				l.Columns[i].Role = Skip
			}
		}
	}
	if l.has(Clock) < 0 && l.has(Time) < 0 {
		// Numbers that only rise and are of the size of seconds since 1970.
		for i, s := range d.shapes {
			if epochScale(s) > 0 && s.rises {
				l.Columns[i].Role = Time
				l.because("column %d rises like an epoch", i+1)
				return
			}
		}
	}
}

// epochScale is the unit that makes a column's numbers instants between 2000 and
// 2100, or 0.
func epochScale(s shape) float64 {
	const from, to = 946684800.0, 4102444800.0
	for _, scale := range []float64{1, 1e3, 1e6} {
		if s.numbers > 0 && s.numbers*2 > s.cells && s.min >= from*scale && s.max < to*scale {
			return scale
		}
	}
	return 0
}

// epochs sets the scale of a Time column that holds numbers.
func (l *Layout) epochs(d draft) {
	if i := l.has(Time); i >= 0 && d.shapes[i].numbers > d.shapes[i].stamps {
		l.Columns[i].Scale = epochScale(d.shapes[i])
		if l.Columns[i].Scale == 0 {
			l.Columns[i].Role = Skip
			l.because("column %d is numbers that are no instants", i+1)
		}
	}
}

// A word in a heading that gives its column away.
type word struct {
	text string
	role Role
	rank int // of several light columns the least wins
}

var words = []word{
	{"illuminance", Light, 1}, {"illumination", Light, 1}, {"lux", Light, 1},
	{"light", Light, 2}, {"ldr", Light, 3}, {"photo", Light, 3}, {"brightness", Light, 3},
	{"clear", Light, 4}, {"ghi", Light, 4}, {"irradiance", Light, 5}, {"counts", Light, 6}, {"adc", Light, 6}, {"raw", Light, 7},
	{"temp", Temp, 1}, {"humid", Humidity, 1}, {"press", Pressure, 1}, {"latitude", Lat, 1}, {"longitude", Lon, 1},
}

// whole headings.
var wholes = map[string]Role{
	"lat": Lat, "lon": Lon, "lng": Lon, "long": Lon, "light2": Light2, "lux2": Light2, "rh": Humidity, "hum": Humidity, "t": Temp,
}

// byName reads the headings; what a column holds must agree.
func (l *Layout) byName(d draft) {
	rank := math.MaxInt
	for i := range l.Columns {
		c := &l.Columns[i]
		if c.Role != Skip || d.shapes[i].numbers == 0 {
			continue
		}
		name := strings.ToLower(c.Name)
		if r, ok := wholes[name]; ok && l.has(r) < 0 {
			c.Role = r
			continue
		}
		if l.has(Time) < 0 && l.has(Clock) < 0 && (strings.Contains(name, "time") || strings.Contains(name, "epoch")) && epochScale(d.shapes[i]) > 0 {
			c.Role = Time
			continue
		}
		for _, w := range words {
			if !strings.Contains(name, w.text) {
				continue
			}
			switch {
			case w.role == Light:
				if w.rank < rank {
					if old := l.has(Light); old >= 0 {
						l.Columns[old].Role = Skip
					}
					c.Role, rank = Light, w.rank
				}
			case l.has(w.role) < 0:
				c.Role = w.role
			}
			break
		}
	}
	if i := l.has(Light); i >= 0 {
		l.because("column %d is light by its heading %q", i+1, l.Columns[i].Name)
	}
}

// light settles which column is light.
func (l *Layout) light(d draft, opt Options, fail failer) error {
	if opt.Light != "" {
		i, err := l.named(opt.Light)
		if err != nil {
			return fail("light", "%v", err)
		}
		if old := l.has(Light); old >= 0 {
			l.Columns[old].Role = Skip
		}
		l.Columns[i].Role = Light
		l.because("column %d is light, as given", i+1)
		return nil
	}
	if l.has(Light) >= 0 || opt.Columns != nil {
		if l.has(Light) < 0 {
			return fail("columns", "none of the columns given is light")
		}
		return nil
	}
	var free []int
	for i, s := range d.shapes {
		if l.Columns[i].Role == Skip && s.numbers > 0 && s.numbers >= s.text {
			free = append(free, i)
		}
	}
	if len(free) == 1 {
		l.Columns[free[0]].Role = Light
		l.because("column %d is the only number beside the time", free[0]+1)
		return nil
	}
	if len(free) == 0 {
		return fail("light", "no column holds numbers that could be light")
	}
	return fail("light", "%d columns could be light and no heading says which; name one", len(free))
}

// named finds a column by its heading or its number from 1.
func (l *Layout) named(name string) (int, error) {
	for i, c := range l.Columns {
		if strings.EqualFold(c.Name, name) && name != "" {
			return i, nil
		}
	}
	if n, err := strconv.Atoi(name); err == nil {
		if n >= 1 && n <= len(l.Columns) {
			return n - 1, nil
		}
		return 0, fmt.Errorf("there is no column %d, the lines have %d", n, len(l.Columns))
	}
	var names []string
	for _, c := range l.Columns {
		names = append(names, strconv.Quote(c.Name))
	}
	return 0, fmt.Errorf("there is no column %q; there are %s", name, strings.Join(names, ", "))
}

// order decides between day-month-year and month-day-year over the sample.
func (l *Layout) order(d draft, opt Options, fail failer) error {
	l.Order = opt.Order
	if l.Order != Auto {
		l.because("dates are %v, as given", l.Order)
		return nil
	}
	l.Order = YMD
	i := l.has(Time)
	if i < 0 {
		i = l.has(Date)
	}
	if i < 0 || l.Columns[i].Scale != 0 {
		return nil
	}
	big := [2]bool{}
	late := false
	for _, row := range d.rows {
		if s, ok := parseStamp(row[i], Auto); ok && s.yearLast {
			late = true
			big[0] = big[0] || s.first > 12
			big[1] = big[1] || s.second > 12
		}
	}
	switch {
	case !late:
	case big[0] && !big[1]:
		l.Order = DMY
		l.because("dates are day, month, year: one starts with a number over 12")
	case big[1] && !big[0]:
		l.Order = MDY
		l.because("dates are month, day, year: one has a second number over 12")
	default:
		return fail("order", "no date tells day from month; say the order, dmy or mdy")
	}
	return nil
}
