package disc

import (
	"encoding/json"
	"fmt"
	"strings"
)

type kind uint8

const (
	uniform kind = iota
	polynomial
	power
)

// kinds is the one table of what kinds there are. Their brightness is in Intensity, its
// integral in ring and ringAndDrop, and how its light is summed in Flux.
var kinds = [...]struct {
	name   string
	params int
	build  func(c []float64) (Law, error) // of so many coefficients
}{
	uniform:    {"uniform", 0, func([]float64) (Law, error) { return Uniform(), nil }},
	polynomial: {"polynomial", 6, func(c []float64) (Law, error) { return Polynomial([6]float64(c)) }},
	power:      {"power", 1, func(c []float64) (Law, error) { return Power(c[0]) }},
}

// String names the law and its coefficients.
func (l Law) String() string {
	k := kinds[l.kind]
	if k.params == 0 {
		return k.name
	}
	return fmt.Sprintf("%s%.6g", k.name, l.a[:k.params])
}

// lawJSON is how a law is written beside a result.
type lawJSON struct {
	Version      int       `json:"version"`
	Law          string    `json:"law"`
	Coefficients []float64 `json:"coefficients,omitempty"`
}

// MarshalJSON writes the law's name and coefficients:
//
//	{"version":1,"law":"uniform"}
//	{"version":1,"law":"power","coefficients":[0.503]}
//	{"version":1,"law":"polynomial","coefficients":[0.3,0.93,-0.23,0,0,0]}
//
// The error is always nil.
func (l Law) MarshalJSON() ([]byte, error) {
	k := kinds[l.kind]
	return json.Marshal(lawJSON{1, k.name, l.a[:k.params]})
}

// UnmarshalJSON reads what MarshalJSON wrote, to the same law bit for bit. It
// validates as the constructors do, with a *LawError, and takes text without a
// version, such as a person would write, for version 1.
func (l *Law) UnmarshalJSON(data []byte) error {
	in := lawJSON{Version: 1}
	if err := json.Unmarshal(data, &in); err != nil {
		return fmt.Errorf("disc: a limb-darkening law: %w", err)
	}
	refuse := func(reason string) error { return &LawError{in.Law, in.Coefficients, reason} }
	if in.Version != 1 {
		return refuse(fmt.Sprintf("version %d, only 1 is known", in.Version))
	}
	var known []string
	for _, row := range kinds {
		if row.name != in.Law {
			known = append(known, row.name)
			continue
		}
		if len(in.Coefficients) != row.params {
			return refuse(fmt.Sprintf("%d coefficients found, %d wanted", len(in.Coefficients), row.params))
		}
		law, err := row.build(in.Coefficients)
		if err != nil {
			return err
		}
		*l = law
		return nil
	}
	return refuse("no such law; known are " + strings.Join(known, ", "))
}
