package station

import (
	"errors"
	"fmt"
	"time"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// Version is the version of a station's JSON that this package writes and reads.
const Version = 1

// A Station is one logger at one site on the day of one eclipse, as data; the package
// comment says what each key means. Its zero value is refused by Validate, which says
// what to set. Safe to share while nobody changes it.
type Station struct {
	Version int    `json:"version"` // 1
	Code    string `json:"code"`    // short name on maps and in tables; no person's name
	Site    Site   `json:"site"`    // where the logger stands
	// Eclipse is the calendar day of greatest eclipse, YYYY-MM-DD; a day either
	// side finds it too.
	Eclipse string `json:"eclipse"`
	// DeltaT overrides TT - UT1, seconds; null for the library's own.
	DeltaT *float64 `json:"delta_t_s,omitempty"`
	// Zone is the zone of stamps that carry none: "+02:00" or an IANA name.
	// Empty means UTC.
	Zone string `json:"zone,omitempty"`
	// ClockSet says how the clock was set: "network", "satellite", "radio", "phone", "hand" or
	// "unknown".
	ClockSet ClockSet `json:"clock_set,omitempty"`
	// Chain turns the light column's counts into lux. Null takes the column as
	// it is: the fit needs no calibration.
	Chain *sensor.Chain `json:"chain,omitempty"`
	// Files are the logs, relative to the station's own file.
	Files []string `json:"files,omitempty"`
	// Control are logs of days without eclipse at the same place, relative likewise.
	Control []string `json:"control,omitempty"`
	// ClockNotes are what somebody noted of the clock against a better one.
	ClockNotes []ClockNote `json:"clock_notes,omitempty"`
	// Thermometer is the thermometer's lag, which the cooling is freed of; null is one of
	// which nothing is known.
	Thermometer *Thermometer `json:"thermometer,omitempty"`
	// Layout overrules what the reader infers.
	Layout Layout `json:"layout,omitzero"`
	// Remarks are the owner's words; they leave the station's file in no summary.
	Remarks string `json:"remarks,omitempty"`
}

// A Site is sun.Site with units in its keys.
type Site struct {
	Lat    float64 `json:"lat_deg"`            // degrees, north positive
	Lon    float64 `json:"lon_deg"`            // degrees, east positive
	Height float64 `json:"height_m,omitempty"` // metres above the WGS84 ellipsoid
}

// Sun is the site as the rest of the library takes it.
func (s Site) Sun() sun.Site { return sun.Site{Lat: s.Lat, Lon: s.Lon, Height: s.Height} }

// Day is the eclipse's calendar day, UTC. The error is for an Eclipse that is no day.
func (s *Station) Day() (time.Time, error) {
	t, err := time.Parse(time.DateOnly, s.Eclipse)
	if err != nil {
		return t, fmt.Errorf("eclipse is %q, want a day like 2027-08-02", s.Eclipse)
	}
	return t, nil
}

// ParseZone reads a zone: "" and "Z" for UTC, "+HH:MM" for a fixed offset, or
// an IANA name such as Europe/Madrid. The error says what was found; the machine's own zone,
// Local, is refused.
func ParseZone(zone string) (*time.Location, error) {
	switch zone {
	case "", "Z", "UTC":
		return time.UTC, nil
	case "Local":
		return nil, errors.New("zone Local depends on the machine; name the zone")
	}
	if zone[0] == '+' || zone[0] == '-' {
		t, err := time.Parse("-07:00", zone)
		if err != nil {
			return nil, fmt.Errorf("zone is %q, want +HH:MM or an IANA name", zone)
		}
		_, offset := t.Zone()
		return time.FixedZone("UTC"+zone, offset), nil
	}
	loc, err := time.LoadLocation(zone)
	if err != nil {
		return nil, fmt.Errorf("zone is %q, want +HH:MM or an IANA name: %w", zone, err)
	}
	return loc, nil
}
