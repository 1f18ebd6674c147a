package station

import (
	"fmt"
	"math"
	"time"

	"example.org/noonfall/eclipse/fit"
)

// A ClockNote is a look at the logger's clock beside a better one, as somebody wrote it
// down: the one check of the clock that asks nothing of the sky.
type ClockNote struct {
	// Stamp is what the logger's clock showed, 2027-08-02T06:31:42.5, read in the
	// station's zone as the log's stamps are, unless it carries a zone of its own.
	Stamp string `json:"stamp"`
	// UTC is the better clock at that moment, RFC 3339: 2027-08-02T06:31:00Z, or with
	// another zone than Z.
	UTC string `json:"utc"`
	// U is the standard uncertainty of their difference, seconds, more than 0 to 3600: 0.5
	// for two displays of whole seconds compared by eye (common practice, no source).
	U float64 `json:"u_s"`
}

// instants are the note's two clocks, both as UTC; zone is that of a stamp without one,
// nil for UTC. The error is a *FieldError with the key in the note.
func (n ClockNote) instants(zone *time.Location) (stamp, utc time.Time, err error) {
	if zone == nil {
		zone = time.UTC
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02 15:04:05"} {
		if stamp, err = time.ParseInLocation(layout, n.Stamp, zone); err == nil {
			break
		}
	}
	if err != nil {
		return stamp, utc, &FieldError{Key: "stamp", Reason: fmt.Sprintf("%.40q is no stamp like 2027-08-02T06:31:42", n.Stamp)}
	}
	if utc, err = time.Parse(time.RFC3339, n.UTC); err != nil {
		return stamp, utc, &FieldError{Key: "utc", Reason: fmt.Sprintf("%.40q is no instant with its zone, like 2027-08-02T06:31:00Z", n.UTC)}
	}
	return stamp.UTC(), utc.UTC(), nil
}

// mostNoted is by how much a clock in a note may be off, s: one whose date was never set
// is no clock to compare. Common practice, no source.
const mostNoted = 400 * 86400.0

// noteFaults are what is wrong with the notes.
func (s *Station) noteFaults() []*FieldError {
	var faults []*FieldError
	zone, _ := ParseZone(s.Zone) // told of at its own key
	for i, n := range s.ClockNotes {
		key := fmt.Sprintf("clock_notes[%d].", i)
		stamp, utc, err := n.instants(zone)
		if wrong, ok := err.(*FieldError); ok {
			faults = append(faults, &FieldError{Key: key + wrong.Key, Reason: wrong.Reason})
		} else if off := stamp.Sub(utc).Seconds(); !(math.Abs(off) <= mostNoted) {
			faults = append(faults, &FieldError{Key: key + "stamp", Reason: fmt.Sprintf("it is %.0f days from utc: are the dates right?", off/86400)})
		}
		if !(n.U > 0 && n.U <= 3600) {
			faults = append(faults, &FieldError{Key: key + "u_s", Reason: fmt.Sprintf("it is %g, want more than 0 to 3600 s: 0.5 suits two displays of seconds compared by eye", n.U)})
		}
	}
	return faults
}

// A Noted is what the notes of the clock say, and how that goes with the light.
type Noted struct {
	Notes []NotedOnce // ascending in true time
	// At is the instant of Offset: the predicted maximum, or the last note where there is
	// none.
	At time.Time
	// Offset is stamp minus UTC then, s, by the straight line through the notes, and
	// OffsetU its standard uncertainty with what a crystal wanders from there to At.
	Offset, OffsetU float64
	// Drift is nil with fewer than two notes a minute apart.
	Drift *NotedDrift
	// Scatter is the root of the squared deviations from the line over what the notes'
	// own uncertainties allow; 0 with fewer than three. Above 1 it widens OffsetU.
	Scatter float64
	// Normalised is Offset minus the light's, over the root of their squared standard
	// uncertainties; nil where the light told nothing. It should be within 2 or so.
	Normalised *float64
	// Fit is the light's offset that was compared, nil where there is none.
	Fit *fit.Result
}

// A NotedOnce is one note with its offset, stamp minus UTC, s.
type NotedOnce struct {
	Stamp, UTC time.Time // the logger's clock and the better one, both as UTC
	Offset, U  float64   // Stamp minus UTC and its standard uncertainty, s
	// Normalised is this note's offset minus the light's, as in Noted, with what a crystal
	// may wander between the note and the maximum; nil where there is nothing to compare.
	Normalised *float64
}

// A NotedDrift is the clock's rate between the notes.
type NotedDrift struct {
	PPM float64 // millionths, positive where the clock gains
	U   float64 // its standard uncertainty
}

// What a battery clock's crystal does, ppm. From memory of data sheets, as in package
// sensor/crystal: 20 for one of which nothing is known; 3 is 0.034 ppm/K² at ten kelvin
// from the turnover, which is what a measured rate changes by between a cool morning and
// noon in a box.
const (
	unknownPPM = 20.0
	steadyPPM  = 3.0
)

// apartLeast is how far the first and the last note must be from each other for a drift.
const apartLeast = time.Minute

// noted reads the notes, lays a line through them and compares it with the light.
func (r *Report) noted() error {
	if len(r.Station.ClockNotes) == 0 {
		return nil
	}
	zone, err := ParseZone(r.Station.Zone)
	if err != nil {
		return err
	}
	n := &Noted{}
	for _, note := range r.Station.ClockNotes {
		stamp, utc, err := note.instants(zone)
		if err != nil {
			return err
		}
		n.Notes = append(n.Notes, NotedOnce{Stamp: stamp, UTC: utc, Offset: stamp.Sub(utc).Seconds(), U: note.U})
	}
	sortByUTC(n.Notes)
	n.Fit = r.Clock
	same := r.sameClock(n.Notes)
	if len(same) < len(n.Notes) && len(same) > 0 {
		r.warn("the clock was moved in the log: %d of %d notes are of the stretch that tells the time best, and count", len(same), len(n.Notes))
	}
	if len(same) == 0 {
		r.warn("the clock was moved in the log, and no note is of the stretch that tells the time best: they are not compared")
		same, n.Fit = n.Notes, nil
	}
	n.At = same[len(same)-1].UTC
	if k := r.Circumstances.Max; k.Exists {
		n.At = k.UTC
	}
	n.line(same)
	n.compare()
	r.Noted = n
	r.doubtNotes()
	return nil
}

// sameClock are the notes from the stretch of the log whose clock is the report's; all of
// them where the clock was never moved.
func (r *Report) sameClock(notes []NotedOnce) []NotedOnce {
	if len(r.Segments) == 0 || r.Clock == nil {
		return notes
	}
	var same []NotedOnce
	for _, n := range notes {
		nearest, least := -1, time.Duration(math.MaxInt64)
		for i, s := range r.Segments {
			away := max(s.From.Sub(n.Stamp), n.Stamp.Sub(s.To), 0)
			if away < least {
				nearest, least = i, away
			}
		}
		if c := r.Segments[nearest].Clock; c != nil && c.Offset == r.Clock.Offset {
			same = append(same, n)
		}
	}
	return same
}
