package station

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/testdata/study"
)

// A studied log is one made up, its site as it is, and a mistake.
type studied struct {
	log   *rehearsal.Log
	right Site
	seed  uint64
}

// drawn makes up one: every depth and every sky in turn, of some hours or of a whole day,
// with or without a chain that turns counts into lux.
func drawn(eclipses []*eclipse.Elements, seed uint64, whole bool, day int) (studied, error) {
	class := rehearsal.Class{Depth: rehearsal.Depth(1 + seed%4), Weather: rehearsal.Weather(seed / 4 % 8)}
	p, err := class.Draw(eclipses, seed)
	if err != nil {
		return studied{}, err
	}
	p.Cadence = max(p.Cadence, 5*time.Second)
	p.Day = day
	if whole {
		p.Margin, p.Cadence = 12*time.Hour, 30*time.Second
	}
	l, err := rehearsal.Make(context.Background(), p)
	return studied{l, Site{Lat: p.Site.Lat, Lon: math.Remainder(p.Site.Lon, 360), Height: p.Site.Height}, seed}, err
}

// reduced is the report on the log as if it had been described with that site, its stamps
// ahead by so many hours.
func (s studied) reduced(site Site, hours float64) (*Report, error) {
	l := s.log
	r := &Report{Station: &Station{Version: Version, Code: "x", Site: site, Eclipse: l.Plan.Elements.Date, Chain: l.Plan.Chain}}
	var err error
	if r.day, err = r.Station.Day(); err != nil {
		return nil, err
	}
	if l.Plan.Chain != nil {
		if r.chain, err = l.Plan.Chain.Compile(); err != nil {
			return nil, err
		}
	}
	for _, k := range l.Samples {
		x := fit.Sample{Time: k.Stamp.Add(time.Duration(hours * float64(time.Hour))), Value: k.Counts}
		if r.chain != nil {
			lux := r.chain.Lux(k.Counts)
			x.Value, x.Status = lux.Lux, lux.Status
		}
		r.Samples = append(r.Samples, x)
	}
	opt := Options{Elements: l.Plan.Elements}
	if r.Refusal, err = r.predict(opt); err != nil {
		return nil, err
	}
	if r.Refusal == nil {
		if err := r.fit(context.Background(), opt); err != nil {
			return nil, err
		}
	}
	return r, r.misplaced(context.Background(), opt)
}

// A mistake is made with a log; found says that it was named.
type mistake struct {
	name  string
	wrong func(s studied) (site Site, hours float64, ok bool) // false where there is nothing to tell
	found func(s studied, r *Report) bool
}

func far(a, b Site) bool {
	return math.Abs(a.Lat-b.Lat) > 5 || math.Abs(math.Remainder(a.Lon-b.Lon, 360)) > 5
}

func backAt(s studied, r *Report) bool {
	m := r.Misplaced
	return m != nil && m.Days == 0 && math.Abs(m.Site.Lat-s.right.Lat) < 1e-9 && math.Abs(math.Remainder(m.Site.Lon-s.right.Lon, 360)) < 1e-9
}

var mistakes = []mistake{
	{"none", func(s studied) (Site, float64, bool) { return s.right, 0, true }, func(_ studied, r *Report) bool { return r.Misplaced != nil || r.Zone != nil }},
	{"sign of the longitude", func(s studied) (Site, float64, bool) {
		w := Site{s.right.Lat, -s.right.Lon, s.right.Height}
		return w, 0, far(w, s.right)
	}, backAt},
	{"sign of the latitude", func(s studied) (Site, float64, bool) {
		w := Site{-s.right.Lat, s.right.Lon, s.right.Height}
		return w, 0, far(w, s.right)
	}, backAt},
	{"exchanged", func(s studied) (Site, float64, bool) {
		w := Site{s.right.Lon, s.right.Lat, s.right.Height}
		return w, 0, far(w, s.right) && math.Abs(w.Lat) <= 90
	}, backAt},
	{"local time", func(s studied) (Site, float64, bool) {
		h := math.Round(s.right.Lon / 15)
		return s.right, h, h != 0
	}, func(s studied, r *Report) bool {
		return r.Misplaced == nil && r.Zone != nil && r.Zone.Hours == math.Round(s.right.Lon/15)
	}},
	{"a week late", func(s studied) (Site, float64, bool) { return s.right, 7 * 24, true }, func(_ studied, r *Report) bool { return r.Misplaced != nil && r.Misplaced.Days == 7 }},
	{"two days early", func(s studied) (Site, float64, bool) { return s.right, -2 * 24, true }, func(_ studied, r *Report) bool { return r.Misplaced != nil && r.Misplaced.Days == -2 }},
	{"day and month exchanged", func(s studied) (Site, float64, bool) {
		t := s.log.Samples[0].Stamp
		if t.Day() > 12 || t.Day() == int(t.Month()) {
			return Site{}, 0, false
		}
		w := time.Date(t.Year(), time.Month(t.Day()), int(t.Month()), t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.UTC)
		return s.right, w.Sub(t).Hours(), true
	}, func(s studied, r *Report) bool { return r.Misplaced != nil && r.Misplaced.Days != 0 }},
}

// TestLocateStudy makes up logs of every depth under every sky, describes them rightly and
// with the usual mistakes, and counts what is named: of logs that are right next to nothing,
// and of the others eight in ten at least where the eclipse shows at all. The package
// comment has the rates that NOONFALL_LOGS=320 finds.
func TestLocateStudy(t *testing.T) {
	logs, first := study.Size(t, 8, 0, 90000)
	eclipses := study.Eclipses(t)
	for _, kind := range []struct {
		name  string
		whole bool
		day   int
	}{{"the hours of the eclipse", false, 0}, {"the whole day", true, 0}, {"a whole day without eclipse", true, 3}} {
		if kind.whole && kind.day == 0 && logs < 32 {
			continue // the two others are in it
		}
		t.Run(kind.name, func(t *testing.T) { locateStudy(t, eclipses, logs, uint64(first), kind.whole, kind.day) })
	}
}

// locateStudy is the study of one kind of log.
func locateStudy(t *testing.T, eclipses []*eclipse.Elements, logs int, first uint64, whole bool, day int) {
	type tally struct{ tried, named, wrong, told, fitted, tellable, namedOfThem int }
	mistakes := mistakes
	if day != 0 {
		mistakes = mistakes[:5] // no eclipse tells the date
	}
	count := make([]tally, len(mistakes))
	var lock sync.Mutex
	var notes []string
	work := make(chan uint64)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for seed := range work {
				s, err := drawn(eclipses, seed, whole, day)
				if err != nil {
					t.Error(err)
					continue
				}
				tellable := false // the light shows the eclipse where all is right
				for i, m := range mistakes {
					site, hours, ok := m.wrong(s)
					if !ok {
						continue
					}
					r, err := s.reduced(site, hours)
					if err != nil {
						t.Errorf("seed %d, %s: %v", seed, m.name, err)
						continue
					}
					lock.Lock()
					c := &count[i]
					c.tried++
					tellable = tellable || i == 0 && r.Clock != nil
					if tellable {
						c.tellable++
					}
					if tellable && m.found(s, r) {
						c.namedOfThem++
					}
					if r.Clock != nil {
						c.fitted++
					}
					switch found := m.found(s, r); {
					case found:
						c.named++
						if i == 0 {
							notes = append(notes, fmt.Sprintf("seed %d, %v: a log that is right: %v, %v, refusal %v", seed, s.log.Plan.Weather, r.Misplaced, r.Zone, r.Refusal))
						}
					case slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.HasPrefix(w, "dawn and dusk do not go") }):
						c.told++
						if i == 0 {
							notes = append(notes, fmt.Sprintf("seed %d, %v: a log that is right: %q", seed, s.log.Plan.Weather, r.Warnings))
						}
					case r.Misplaced != nil || r.Zone != nil:
						c.wrong++
						notes = append(notes, fmt.Sprintf("seed %d, %v, %s of %+v: named as %v, %v", seed, s.log.Plan.Weather, m.name, s.right, r.Misplaced, r.Zone))
					}
					lock.Unlock()
				}
			}
		})
	}
	stride := uint64(1)
	if logs < 32 {
		stride = 5 // through depths and skies alike
	}
	for seed := range uint64(logs) {
		work <- first + seed*stride
	}
	close(work)
	group.Wait()
	slices.Sort(notes)
	for _, n := range notes {
		t.Log(n)
	}
	for i, m := range mistakes {
		c := count[i]
		t.Logf("%-26s tried %3d, named %3d (%.0f %%), of %d with a verdict where all is right %d, named otherwise %d, only warned of %d, fitted as described %d", m.name, c.tried, c.named, 100*float64(c.named)/float64(max(1, c.tried)), c.tellable, c.namedOfThem, c.wrong, c.told, c.fitted)
	}
	right, all := count[0], tally{}
	for _, c := range count[1:] {
		all.tried, all.named, all.told = all.tried+c.tried, all.named+c.named, all.told+c.told
		all.tellable, all.namedOfThem = all.tellable+c.tellable, all.namedOfThem+c.namedOfThem
	}
	if !(float64(right.named+right.told) <= 0.015*float64(right.tried)) { // none of a few, of 320 up to four
		t.Errorf("%d of %d logs that are right are called mistaken", right.named+right.told, right.tried)
	}
	if day == 0 && !(float64(all.namedOfThem) >= 0.8*float64(all.tellable)) {
		t.Errorf("%d of %d mistakes are named with logs that have a verdict where all is right", all.namedOfThem, all.tellable)
	}
	if day != 0 && !(float64(all.named+all.told) >= 0.5*float64(all.tried)) { // near an equinox the latitude's sign is not told
		t.Errorf("dawn and dusk name or doubt %d of %d mistakes", all.named+all.told, all.tried)
	}
}
