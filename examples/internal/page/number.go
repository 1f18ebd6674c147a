package page

import (
	"math"
	"strconv"
	"strings"
)

// Number is a cell with so many digits after the point, empty for what is no number: a
// spreadsheet leaves it out of a mean. There is no minus zero.
func Number(v float64, digits int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// Count is a whole number as a cell.
func Count(n int) string { return strconv.Itoa(n) }
