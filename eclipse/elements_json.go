package eclipse

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"example.org/noonfall/sun/timescale"
)

// elementsVersion is that of the JSON form.
const elementsVersion = 1

// elementsJSON names the unit in every key. T0 is split at the whole day, so that
// the text keeps the microsecond.
type elementsJSON struct {
	Version int     `json:"version"`
	Date    string  `json:"date"`
	T0      string  `json:"t0_tt"` // TT, written like a UTC instant without a zone
	Span    float64 `json:"span_h"`
	X       Poly    `json:"x_earth_radii"`
	Y       Poly    `json:"y_earth_radii"`
	D       Poly    `json:"d_deg"`
	Mu      Poly    `json:"mu_deg"`
	L1      Poly    `json:"l1_earth_radii"`
	L2      Poly    `json:"l2_earth_radii"`
	TanF1   Poly    `json:"tan_f1"`
	TanF2   Poly    `json:"tan_f2"`
	K1      float64 `json:"k1"`
	K2      float64 `json:"k2"`
	DeltaT  float64 `json:"delta_t_s"`
	Source  string  `json:"source,omitempty"`
	TimeU   float64 `json:"time_u_s"`
}

const t0Layout = "2006-01-02T15:04:05.999999"

// MarshalJSON writes version 1 of the elements' form, units in the keys. The error is for
// numbers that JSON cannot hold: validate first.
func (e *Elements) MarshalJSON() ([]byte, error) {
	return json.Marshal(elementsJSON{
		Version: elementsVersion, Date: e.Date, T0: timescale.UT1(e.T0).Time().Format(t0Layout), Span: e.Span,
		X: e.X, Y: e.Y, D: e.D, Mu: e.Mu, L1: e.L1, L2: e.L2, TanF1: e.TanF1, TanF2: e.TanF2,
		K1: e.K1, K2: e.K2, DeltaT: e.DeltaT, Source: e.Source, TimeU: e.TimeU,
	})
}

// UnmarshalJSON reads version 1 and validates it; a key that it does not know is
// an error, since it may be a coefficient misspelt.
func (e *Elements) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var in elementsJSON
	if err := d.Decode(&in); err != nil {
		return fmt.Errorf("eclipse: elements: %w", err)
	}
	if in.Version != elementsVersion {
		return &ElementsError{in.Date, "version", fmt.Sprintf("is %d, want %d", in.Version, elementsVersion)}
	}
	at, err := time.Parse(t0Layout, in.T0)
	if err != nil {
		return &ElementsError{in.Date, "t0_tt", fmt.Sprintf("is %q, want a TT instant like 2027-08-02T10:00:00", in.T0)}
	}
	j2000 := time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)
	*e = Elements{
		Date: in.Date, T0: timescale.TT(at.Unix()-j2000.Unix()) + timescale.TT(float64(at.Nanosecond())*1e-9), Span: in.Span,
		X: in.X, Y: in.Y, D: in.D, Mu: in.Mu, L1: in.L1, L2: in.L2, TanF1: in.TanF1, TanF2: in.TanF2,
		K1: in.K1, K2: in.K2, DeltaT: in.DeltaT, Source: in.Source, TimeU: in.TimeU,
	}
	return e.Validate()
}
