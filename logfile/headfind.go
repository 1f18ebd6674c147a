package logfile

import "slices"

// belowHeader leaves out lines such as Interval (s),5 that stand above a header
// that tells the time: what is told before the data, and none of it.
func belowHeader(rows, words []row, widths map[int]int) []row {
	for _, w := range words {
		if len(w.fields) < 2 || !tellsTime(w.fields) || meanings(w.fields) < 2 {
			continue
		}
		return slices.DeleteFunc(rows, func(r row) bool {
			told := r.sample < w.sample && beginsWithWord(r.fields)
			if told {
				widths[len(r.fields)]--
			}
			return told
		})
	}
	return rows
}

// findHead looks for the header among the lines of the width: words without a
// number, or a first row whose time is a word while the others' are stamps.
func (d *draft) findHead() {
	d.head = d.wordsThatTell()
	if d.head == nil {
		d.headAmongRows()
	}
	if d.head == nil {
		d.headOfOtherWidth()
	}
	if d.head == nil && len(d.words) > 0 {
		d.head = &d.words[0]
	}
	if d.head == nil {
		return
	}
	next := d.head.sample + 1
	for _, w := range d.words {
		if w.sample == next {
			d.below = append(d.below, w)
			next++
		}
	}
}

// wordsThatTell is the line of words with most headings that have a meaning, the first
// of equals; a line of units stands below the header.
func (d *draft) wordsThatTell() (head *row) {
	most := 0
	for i, w := range d.words {
		if n := meanings(w.fields); len(d.words) == 1 || tellsHeading(w.fields) && n > most {
			head, most = &d.words[i], n
			if i > 0 && d.words[i-1].sample == w.sample-1 && (unitsOnly(w.fields) || tellsTime(d.words[i-1].fields)) {
				head = &d.words[i-1]
			}
		}
	}
	return head
}

// headAmongRows takes a first row for the header whose time is a word while the others'
// are stamps: headings may be numbers.
func (d *draft) headAmongRows() {
	first := d.rows[0]
	for i := range d.shapes {
		s := &d.shapes[i]
		if s.text != 1 || s.stampCells() == 0 || s.stampCells() != s.cells-1 || !hasLetter(first.fields[i]) {
			continue
		}
		if _, form := parseStamp(first.fields[i], Auto); !form {
			d.head, d.rows = &first, d.rows[1:]
			d.all--
			d.measure()
			return
		}
	}
}

// headOfOtherWidth takes a line of words above the data for the header though it has not
// as many names as the lines have fields: one name over a date and a time of day, a unit
// in brackets behind a blank, or names for the first columns only. The names for the time
// must stand over times; where they do not, or names are left over, the line is the
// header all the same and names nothing.
func (d *draft) headOfOtherWidth() {
	for i, w := range d.others {
		if w.sample > d.rows[0].sample {
			return
		}
		if !tellsTime(w.fields) || meanings(w.fields) < 2 {
			continue
		}
		d.oddHead = &d.others[i]
		fields := w.fields
		if d.delimiter == ' ' {
			fields = bracketsJoined(fields)
		}
		for _, names := range [][][]byte{d.timeTwice(fields), fields} {
			if names != nil && d.timesUnder(names) {
				all := make([][]byte, d.width)
				copy(all, names)
				d.head = &row{all, w.sample}
				return
			}
		}
	}
}

// bracketsJoined joins a name and the unit in brackets behind it.
func bracketsJoined(fields [][]byte) (out [][]byte) {
	for _, f := range fields {
		if n := len(out); n > 0 && len(f) > 0 && (f[0] == '(' || f[0] == '[') {
			out[n-1] = slices.Concat(out[n-1], []byte(" "), f)
		} else {
			out = append(out, f)
		}
	}
	return out
}

// timeTwice repeats the name over a date and a time of day that stand side by side; nil
// where no name is wanting.
func (d *draft) timeTwice(fields [][]byte) [][]byte {
	if len(fields)+1 != d.width {
		return nil
	}
	for i := range fields {
		a, b := &d.shapes[i], &d.shapes[i+1]
		if a.mostly(a.dates) && b.mostly(b.clocks) || a.mostly(a.clocks) && b.mostly(b.dates) {
			return slices.Insert(slices.Clone(fields), i, fields[i])
		}
	}
	return nil
}

// timesUnder says that there are times under all names for the time, and fields under all
// names.
func (d *draft) timesUnder(names [][]byte) bool {
	if len(names) > d.width {
		return false
	}
	for i, name := range names {
		s := &d.shapes[i]
		if r, _, _ := meaning(heading(name)); r == Time && !s.mostly(s.stampCells()) && s.scale() == 0 {
			return false
		}
	}
	return true
}
