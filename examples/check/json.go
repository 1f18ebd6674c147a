package main

import (
	"encoding/json"
	"io"
	"math"
	"strconv"

	"example.org/noonfall/examples/internal/cli"
)

// The shape that programs rely on: keys may be added, not renamed. The claims
// file's own columns follow behind these.
type line struct {
	ID         *string  `json:"id"`
	Quantity   string   `json:"quantity"`
	Claimed    figure   `json:"claimed"`
	Computed   figure   `json:"computed"`
	Difference *decimal `json:"difference"` // claimed minus computed; null where there is nothing to compare
	Unit       *string  `json:"unit"`       // null where the quantity is unknown
	Verdict    string   `json:"verdict"`
	Tolerance  *decimal `json:"tolerance"`
	Scale      *string  `json:"scale"`          // of claimed and computed, where they are instants
	Reason     *string  `json:"reason"`         // where there is nothing to compare
	Line       int      `json:"line"`           // of the claims file, from 1
	Limb       string   `json:"limb,omitempty"` // "real" where the Moon's real edge was asked
}

// reserved are the keys of line.
var reserved = []string{"id", "quantity", "claimed", "computed", "difference", "unit", "verdict", "tolerance", "scale", "reason", "line", "limb"}

// A decimal is a number in JSON to nine decimals: a claim may have more of them than
// the six of a cli.Number, and its difference with it.
type decimal float64

// MarshalJSON writes the number, or null for what is not finite.
func (d decimal) MarshalJSON() ([]byte, error) {
	v := float64(d)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	if r := math.Round(v*1e9) / 1e9; !math.IsInf(r, 0) {
		v = r
	}
	return strconv.AppendFloat(nil, v+0, 'f', -1, 64), nil // +0 turns -0 into 0
}

// MarshalJSON writes an instant, a number or null.
func (f figure) MarshalJSON() ([]byte, error) {
	switch f.kind {
	case anInstant:
		return cli.Instant(f.at).MarshalJSON()
	case aNumber:
		return decimal(f.v).MarshalJSON()
	}
	return []byte("null"), nil
}

// writeLine writes one finding.
func writeLine(w io.Writer, f *finding) error {
	l := line{ID: f.id, Quantity: f.name, Claimed: f.claim.value, Computed: f.computed, Verdict: f.verdict.String(), Line: f.line}
	if f.edged {
		l.Limb = cli.Real.String()
	}
	if q := f.claim.quantity; q != nil {
		l.Unit = &q.unit
		if q.kind == anInstant && f.claim.value.kind == anInstant {
			l.Scale = new(string)
			*l.Scale = f.claim.scaleName()
		}
	}
	if f.reason != "" {
		l.Reason = &f.reason
	}
	if f.verdict != badClaim {
		l.Tolerance = (*decimal)(&f.claim.tolerance)
	}
	if f.computed.kind != nothing {
		l.Difference = (*decimal)(&f.diff)
	}
	b, err := json.Marshal(&l)
	if err != nil {
		return err
	}
	b = b[:len(b)-1]
	for _, p := range f.keys {
		for i, s := range []string{p.key, f.cells[p.column]} {
			text, err := json.Marshal(s)
			if err != nil {
				return err
			}
			b = append(append(b, ",:"[i]), text...)
		}
	}
	_, err = w.Write(append(b, '}', '\n'))
	return err
}

func (c *claim) scaleName() string {
	if c.ut {
		return "UT"
	}
	return "UTC"
}
