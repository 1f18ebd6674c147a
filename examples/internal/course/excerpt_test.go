package course

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// leftOut is the line of an excerpt that stands for any number of lines.
const leftOut = "..."

// misquoted says what is wrong with an excerpt of an output, or nothing. Between lines
// of three points an excerpt has whole lines, in the order and the neighbourhood in
// which they were printed; where it does not begin or end with three points, nor does
// the output. Blanks at the ends of lines do not count.
func misquoted(excerpt, output string) error {
	printed := lines(output)
	pieces := split(lines(excerpt))
	at, last := 0, len(pieces)-1
	for i, piece := range pieces {
		where, near := find(piece, printed[at:])
		switch {
		case i == last && len(piece) > 0: // it ends where the output ends
			where = len(printed) - at - len(piece)
			if where < 0 || !slices.Equal(printed[at+where:], piece) {
				return fmt.Errorf("the output does not end with\n%s", strings.Join(piece, "\n"))
			}
		case where < 0:
			return fmt.Errorf("not in the output, or not in this order: %q", near)
		}
		if i == 0 && len(piece) > 0 && where != 0 {
			return fmt.Errorf("the output does not begin with\n%s", strings.Join(piece, "\n"))
		}
		at += where + len(piece)
	}
	return nil
}

// lines cuts a text without the empty lines around it.
func lines(text string) []string {
	all := strings.Split(strings.Trim(text, "\n"), "\n")
	for i := range all {
		all[i] = strings.TrimRight(all[i], " \t\r")
	}
	return all
}

// split cuts an excerpt at its three points: what stands before, between and after them,
// which is nothing where it begins or ends with them.
func split(excerpt []string) (pieces [][]string) {
	var piece []string
	for _, line := range excerpt {
		if strings.TrimSpace(line) == leftOut {
			pieces, piece = append(pieces, piece), nil
			continue
		}
		piece = append(piece, line)
	}
	return append(pieces, piece)
}

// find says at which line a piece first stands, -1 for nowhere, and then the line that
// was looked for in vain where as much as possible of the piece was found.
func find(piece, printed []string) (where int, near string) {
	best := -1
	for i := range len(printed) + 1 {
		n := 0
		for n < len(piece) && i+n < len(printed) && printed[i+n] == piece[n] {
			n++
		}
		if n == len(piece) {
			return i, ""
		}
		if n > best {
			best, near = n, piece[n]
		}
	}
	return -1, near
}

// The comparison must be able to fail, in each of its ways.
func TestMisquoted(t *testing.T) {
	const output = "one\n\n  two  \nthree\nfour\nthree\nfive\n"
	for _, tt := range []struct {
		name, excerpt string
		good          bool
	}{
		{"the whole", output, true},
		{"from the middle", "...\n  two\nthree\n...", true},
		{"points that are indented", "one\n  ...\nfive", true},
		{"two pieces", "...\nthree\n...\nthree\nfive", true},
		{"nothing but points", "...", true},
		{"a figure is wrong", "...\n  two\nthee\n...", false},
		{"the indent is wrong", "...\ntwo\n...", false},
		{"a line is left out without a word", "...\n  two\nfour\n...", false},
		{"another order", "...\nfour\n...\n  two\n...", false},
		{"once more than printed", "...\nfive\n...\nfive\n...", false},
		{"it begins earlier", "  two\n...", false},
		{"it goes on", "one\n...\nfour", false},
		{"longer than the output", output + "six\n", false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if err := misquoted(tt.excerpt, output); (err == nil) != tt.good {
				t.Errorf("%v", err)
			}
		})
	}
}
