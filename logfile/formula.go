package logfile

import "strings"

// Guard makes text safe to be opened in a spreadsheet, which runs a cell that
// begins like a formula. The rule: where the text, behind any blanks and
// apostrophes at its front, begins with one of = + - @, a wide form of these, a
// tab or a line break, one apostrophe is put before it, and the spreadsheet
// shows text. A number with a sign (-12.5, +3e4) is no formula and stays. Text that
// begins like a number with a decimal comma (3,5 or ,5 m) gets an apostrophe too,
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

// decimalComma says that text begins with a sign, digits, a comma and a digit, of
// which the first two may be missing.
func decimalComma(text string) bool {
	rest := strings.TrimLeft(strings.TrimLeft(text, "+-"), "0123456789")
	return len(rest) > 1 && rest[0] == ',' && rest[1]-'0' <= 9
}

func firstRune(s string) rune {
	for _, r := range s {
		return r
	}
	return 0
}
