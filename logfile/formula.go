package logfile

import "strings"

// Guard makes text safe to be opened in a spreadsheet, which runs a cell that
// begins like a formula. The rule: where the text, after any blanks and
// apostrophes at its front, begins with one of = + - @, a wide form of these, a
// tab or a line break, one apostrophe is put before it, and the spreadsheet
// shows text. A number with a sign (-12.5, +3e4) is no formula and stays. Text that
// begins like a number with a decimal comma (3,5 or ,5 m or 3,) gets an apostrophe too,
// or a Reader that looks at it could think that the file's numbers have one. Unguard
// takes the apostrophe off again: Unguard(Guard(s)) is s for every s.
//
// The weakness has the number CWE-1236; the list of first characters is common
// practice, from memory. The rule protects where the file is cut at its commas; a
// spreadsheet that is told to cut at another character makes cells that no writer
// has seen.
func Guard(text string) string {
	if runs(text) {
		return "'" + text
	}
	return text
}

// Unguard gives back the text that Guard made safe; other cells it leaves alone.
func Unguard(cell string) string {
	if rest, guarded := strings.CutPrefix(cell, "'"); guarded && runs(rest) {
		return rest
	}
	return cell
}

// runs says that a cell would be run, or misread. Apostrophes at the front are looked
// through, so that what is guarded already gets another one and Unguard can tell
// the two apart.
func runs(text string) bool {
	core := strings.TrimLeft(text, "' \u00a0\u3000\u200b\ufeff")
	if decimalComma(core) {
		return true
	}
	if core == "" || !strings.ContainsRune("=+-@＝＋－＠\t\r\n", firstRune(core)) {
		return false
	}
	_, number := parseNumber([]byte(core), '.')
	return !number
}

// decimalComma says that text begins with a number that has a comma in it or behind
// it: 3,5 and ,5 and 3, are all read as numbers where the mark is a comma.
func decimalComma(text string) bool {
	text = strings.TrimLeft(text, "+-")
	rest := strings.TrimLeft(text, "0123456789")
	if !strings.HasPrefix(rest, ",") {
		return false
	}
	return rest != text || len(rest) > 1 && rest[1]-'0' <= 9
}

func firstRune(s string) rune {
	for _, r := range s {
		return r
	}
	return 0
}
