package station

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// A FoundZone is the zone of the stamps where it is not the one that they were read in.
// It is named and never acted on.
type FoundZone struct {
	// Hours are what the stamps are ahead of the zone they were read in, in quarters.
	Hours float64
	// Read is that zone, and Found the one that the light shows, as "+02:00".
	Read, Found string
	// ByDaylight says that dawn and dusk alone tell it, and not the eclipse.
	ByDaylight bool
}

// String is a sentence for people.
func (z *FoundZone) String() string {
	by := "the eclipse shows"
	if z.ByDaylight {
		by = "dawn and dusk show"
	}
	return fmt.Sprintf("the stamps were read in the zone %s, and %s them in %s, %+g h from it: if so, set \"zone\" to that", z.Read, by, z.Found, z.Hours)
}

// zoneName is a zone by its seconds east of UTC.
func zoneName(seconds int) string {
	return time.Unix(0, 0).In(time.FixedZone("", seconds)).Format("-07:00")
}

// readIn is by how many seconds the zone of bare stamps is ahead of UTC.
func (r *Report) readIn() int {
	zone, err := ParseZone(r.Station.Zone)
	if err != nil {
		return 0
	}
	at := r.day
	if len(r.Samples) > 0 {
		at = r.Samples[0].Time
	}
	_, seconds := at.In(zone).Zone()
	return seconds
}

func (r *Report) zoneOf(hours float64, daylight bool) *FoundZone {
	read := r.readIn()
	return &FoundZone{Hours: hours, Read: zoneName(read), Found: zoneName(read + int(3600*hours)), ByDaylight: daylight}
}

// localMost is by how many hours a zone's noon may be off the Sun's: summer time and
// wide zones (from memory of maps of the zones; western China reaches three).
const localMost = 2.6

// isLocal says that stamps so many hours off could be local time at a longitude.
func (r *Report) isLocal(hours, lon float64) bool {
	zone := float64(r.readIn())/3600 + hours
	return math.Abs(math.Remainder(lon, 360)/15-zone) <= localMost && math.Abs(zone) <= 14
}

// oddZones are the zones that are no whole hours, in hours (from memory of the zones' map).
var oddZones = []float64{-9.5, -3.5, -2.5, 3.5, 4.5, 5.5, 5.75, 6.5, 8.75, 9.5, 10.5, 12.75}

// oddLess is by how many hours an odd zone must be nearer than a whole one, of which there
// are so many more (common practice, no source).
const oddLess = 0.15

// nearestZone are the hours from the zone that was read to the one that explains a noon
// best: dawn and dusk tell it to half an hour or so.
func (r *Report) nearestZone(late float64) float64 {
	read := float64(r.readIn()) / 3600
	best := math.Round(read + late)
	apart := math.Abs(read + late - best)
	for _, odd := range oddZones {
		if d := math.Abs(read+late-odd) + oddLess; d < apart {
			best, apart = odd, d
		}
	}
	return best - read
}

// byDaylight asks the dawns and dusks of the log where it was and in which zone, when the
// eclipse did not tell; and doubts a clock of the fit that they contradict.
func (r *Report) byDaylight(ends []dayEnd) {
	if r.Misplaced != nil || r.Zone != nil || !r.Station.sited() {
		return
	}
	here := r.Station.Site
	if c := r.Clock; c != nil {
		if is, late := sunAt(ends, here, time.Duration(c.Offset*1e9), r.scale()); is == misfits {
			r.warn("the fit's offset is not what dawn and dusk show of the clock, whose noon is %s off with it: do not believe it before the log has been looked at by eye", lasting(3600*math.Abs(late)))
		} else if c.ZoneH != 0 && r.isLocal(c.ZoneH, here.Lon) {
			r.Zone = r.zoneOf(c.ZoneH, false)
		} else if c.ZoneH != 0 {
			r.warn("the fit's offset has %+g h in it, which makes no zone of this longitude: are the site, the date and the clock's hour right?", c.ZoneH)
		}
		return
	}
	is, late := sunAt(ends, here, 0, r.scale())
	if is != misfits {
		return
	}
	var sites []Misplaced
	for _, s := range swaps {
		if site, ok := s.of(here, misplacedLeast); ok {
			if is, _ := sunAt(ends, site, 0, r.scale()); is == fits {
				sites = append(sites, Misplaced{What: s.what, Site: site})
			}
		}
	}
	hours := r.nearestZone(late)
	if is, _ := sunAt(ends, here, time.Duration(hours*float64(time.Hour)), r.scale()); is == fits && r.isLocal(hours, here.Lon) {
		r.Zone = r.zoneOf(hours, true)
	}
	r.name(sites)
}

// name takes down what the daylight fits, if it is one thing; several are only told.
func (r *Report) name(sites []Misplaced) {
	switch {
	case len(sites) == 1 && r.Zone == nil:
		r.Misplaced = &sites[0]
	case len(sites) > 0:
		var words []string
		for _, m := range sites {
			words = append(words, m.What)
		}
		slices.Sort(words)
		words = slices.Compact(words)
		if r.Zone != nil {
			words = append(words, "stamps in the zone "+r.Zone.Found)
			r.Zone = nil
		}
		r.warn("dawn and dusk do not go with the site and the zone that are written; they would with any of these: %s", strings.Join(words, "; "))
	case r.Zone == nil:
		r.warn("dawn and dusk do not go with the site and the zone that are written, and no usual mistake explains them: was the clock set, the sensor covered, the place another?")
	}
}
