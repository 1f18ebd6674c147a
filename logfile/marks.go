package logfile

import "bytes"

// delimiterNames are what delimiters are called in reasons and refusals.
var delimiterNames = map[byte]string{',': "commas", ';': "semicolons", '\t': "tabs", '|': "bars", ' ': "blanks"}

func delimiterName(c byte) string { return delimiterNames[c] }

// marksGiven checks the delimiter and the decimal mark that the caller gives.
func (o *Options) marksGiven(fail failer) error {
	if o.Delimiter != 0 && delimiterName(o.Delimiter) == "" {
		return fail("delimiter", "%q is no delimiter", o.Delimiter)
	}
	if o.Decimal != 0 && o.Decimal != '.' && o.Decimal != ',' {
		return fail("decimal", "%q is no decimal mark", o.Decimal)
	}
	return nil
}

// bestDraft tries every way to cut the sample that the caller leaves open. Where the
// best has a decimal point and a comma there is as good, that one is the other.
func bestDraft(sample [][]byte, opt Options) (best, other *draft) {
	best = &draft{}
	for _, d := range delimiters {
		if opt.Delimiter != 0 && opt.Delimiter != d.char {
			continue
		}
		for _, mark := range []byte(d.marks) {
			if opt.Decimal != 0 && opt.Decimal != mark {
				continue
			}
			c := cut(sample, d.char, mark, opt.Columns)
			c.score *= d.weight
			switch {
			case c.score > best.score*1.0001:
				best, other = c, nil
			case c.delimiter == best.delimiter && c.score*1.0001 >= best.score:
				other = c
			}
		}
	}
	return best, other
}

// cutBecause says how the lines are cut, and what the decimal mark is.
func (l *Layout) cutBecause(d *draft, opt Options) {
	given := ""
	if opt.Delimiter != 0 {
		given = ", as given"
	}
	l.because("cut at %s%s: %d of %d sampled lines with a number or a stamp have %d fields", delimiterName(d.delimiter), given, len(d.rows), d.all, d.width)
	mark := "point"
	if l.DecimalComma {
		mark = "comma"
	}
	switch {
	case opt.Decimal != 0:
		l.because("the decimal mark is a %s, as given", mark)
	case d.marked():
		l.because("the decimal mark is a %s", mark)
	case l.either:
		l.because("no number shows a decimal mark yet: it may be a point or a comma")
	}
}

// thousandsMark is what stands between groups of three digits where a file has such;
// a blank and an apostrophe may too. The blanks that do not break are those of UTF-8,
// U+00A0 and U+202F, and of Latin-1.
func thousandsMark(b []byte, mark byte) (bytesOf int) {
	switch c := b[0]; {
	case c == ' ', c == '\'', c == ',' && mark == '.', c == '.' && mark == ',', c == 0xa0:
		return 1
	case bytes.HasPrefix(b, []byte("\u00a0")):
		return 2
	case bytes.HasPrefix(b, []byte("\u202f")):
		return 3
	}
	return 0
}

// ungroup takes the marks between thousands out of a number: one to three digits,
// then groups of three behind the same mark. Where the mark is a decimal comma, a lone
// point needs decimals behind its group: 1.234 alone is more likely a number with a
// point.
func ungroup(out, b []byte, mark byte) ([]byte, bool) {
	i := 0
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		i++
	}
	from := i
	for i < len(b) && b[i]-'0' <= 9 {
		i++
	}
	if i == from || i-from > 3 || i == len(b) {
		return out, false
	}
	n := thousandsMark(b[i:], mark)
	if n == 0 || b[from] == '0' {
		return out, false
	}
	out = append(out, b[:i]...)
	between, groups := b[i:i+n], 0
	for bytes.HasPrefix(b[i:], between) {
		group := b[i+n:]
		if len(group) < 3 || group[0]-'0' > 9 || group[1]-'0' > 9 || group[2]-'0' > 9 {
			return out, false
		}
		out = append(out, group[:3]...)
		i += n + 3
		groups++
	}
	if i < len(b) && b[i] != mark {
		return out, false
	}
	if between[0] == '.' && groups == 1 && i == len(b) {
		return out, false
	}
	return append(out, b[i:]...), true
}
