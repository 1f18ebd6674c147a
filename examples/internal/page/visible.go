package page

import (
	"strconv"
	"strings"
)

// Visible spells out what has no shape of its own, as Go's quoted strings do: control characters,
// marks that turn the direction of reading, characters of no width. A log that holds them
// shows them, and cannot pass for another text. What joins letters or leaves them apart in Persian
// and Hindi stays, and so do line ends and tabs. Bytes that are no UTF-8 become U+FFFD.
func Visible(text string) string {
	const joiner, nonJoiner = '\u200d', '\u200c'
	var b strings.Builder
	for _, r := range text {
		if strconv.IsGraphic(r) || r == '\n' || r == '\t' || r == joiner || r == nonJoiner {
			b.WriteRune(r)
			continue
		}
		quoted := strconv.QuoteRuneToASCII(r)
		b.WriteString(quoted[1 : len(quoted)-1])
	}
	return b.String()
}
