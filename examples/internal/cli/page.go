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

// Stop ends a sentence that has no end of its own with a full stop.
func Stop(text string) string {
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") || strings.HasSuffix(text, "!") {
		return text
	}
	return text + "."
}
