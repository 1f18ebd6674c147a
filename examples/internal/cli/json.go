package cli

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strconv"
	"time"

	"example.org/noonfall/sun"
)

// An Instant is a time in JSON: RFC 3339, UTC, rounded to the millisecond. The
// zero time is null.
type Instant time.Time

const instantLayout = "2006-01-02T15:04:05.000Z"

// MarshalJSON writes the instant, or null.
func (i Instant) MarshalJSON() ([]byte, error) {
	t := time.Time(i)
	if t.IsZero() {
		return []byte("null"), nil
	}
	// Format cuts digits off; Round does not.
	return []byte(`"` + t.UTC().Round(time.Millisecond).Format(instantLayout) + `"`), nil
}

// A Number is a figure in JSON, rounded to six decimals: a tenth of a metre in a
// longitude, a microsecond in a second. What is not finite does not exist: null.
type Number float64

// MarshalJSON writes the number, or null.
func (n Number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	if r := math.Round(v*1e6) / 1e6; !math.IsInf(r, 0) {
		v = r
	}
	return strconv.AppendFloat(nil, v+0, 'f', -1, 64), nil // +0 turns -0 into 0
}

// A Site is a place in JSON.
type Site struct {
	Lat    Number `json:"lat_deg"`
	Lon    Number `json:"lon_deg"`
	Height Number `json:"height_m"`
}

// SiteOf gives a place its form in JSON.
func SiteOf(s sun.Site) Site { return Site{Number(s.Lat), Number(s.Lon), Number(s.Height)} }

// WriteJSON writes a value as indented JSON with a newline at its end.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// JSON returns what WriteJSON writes.
func JSON(v any) ([]byte, error) {
	var b bytes.Buffer
	err := WriteJSON(&b, v)
	return b.Bytes(), err
}
