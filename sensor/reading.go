package sensor

import "fmt"

// A Status tells a number from a bound.
type Status uint8

// The statuses. The zero value is a number.
const (
	OK        Status = iota
	TooDark          // the light is at most Reading.Lux
	Saturated        // the light is at least Reading.Lux
)

var statusNames = [...]string{OK: "ok", TooDark: "too dark", Saturated: "saturated"}

func (s Status) String() string {
	if int(s) < len(statusNames) {
		return statusNames[s]
	}
	return fmt.Sprintf("status %d", uint8(s))
}

// A Reading is one sample turned into light.
type Reading struct {
	Lux float64 // illuminance, lx; a bound where Status is not OK
	// LuxU is the standard uncertainty, lx, of all causes; RandomU is the part
	// that is this sample's own: counting and rounding.
	LuxU, RandomU float64
	Status        Status
}
