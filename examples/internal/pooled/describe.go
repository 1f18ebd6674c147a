package pooled

import (
	"encoding/json"
	"fmt"

	"example.org/noonfall/eclipse/station"
)

// Describe reads one file: a station's description, or a summary that somebody sent, told by the
// key that only a summary has. One of the two is nil. A Delta T overrules the description's, nil
// leaves it. Errors begin with the name, which is used for nothing else.
func Describe(name string, text []byte, deltaT *float64) (*station.Station, *station.Summary, error) {
	var kind struct {
		Rounded *float64 `json:"rounded_deg"`
	}
	if json.Unmarshal(text, &kind) == nil && kind.Rounded != nil {
		summary, err := station.ParseSummary(text)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", name, err)
		}
		return nil, summary, nil
	}
	s, err := station.Parse(text)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(s.Files) == 0 {
		return nil, nil, fmt.Errorf("%s: station %q names no files: list the logs under \"files\"", name, s.Code)
	}
	if deltaT != nil {
		s.DeltaT = deltaT
	}
	return s, nil, nil
}
