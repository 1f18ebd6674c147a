package cli

import "strings"

const width = 88 // of the page, columns

// Wrap breaks a paragraph into lines for people and ends it with a newline. The first
// line begins with first, the others with rest.
func Wrap(text, first, rest string) string {
	var b strings.Builder
	line := first
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
			line += word
		case len(line)+1+len(word) > width:
			b.WriteString(line + "\n")
			line = rest + word
		default:
			line += " " + word
		}
	}
	return b.String() + line + "\n"
}
