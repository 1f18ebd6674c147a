package station

import (
	"math"
	"slices"
	"time"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/logfile"
)

const lightRole = logfile.Light

// Steps are the times between neighbouring samples, those of one stamp left out.
type Steps struct {
	MedianS float64 `json:"median_s"` // the cadence
	SpreadS float64 `json:"spread_s"` // half of what the middle 68 % of the steps span
	// OffShare is the share of steps that are off the cadence by more than half of it.
	OffShare float64 `json:"off_share"`
	// MissedShare is the share of the samples that the cadence would have given and
	// that are not there, outside gaps.
	MissedShare float64 `json:"missed_share"`
	// RepeatShare is the share of samples whose stamp repeats the one before.
	RepeatShare float64 `json:"repeat_share"`
}

// Gaps are spans without samples, of over a minute and over three cadences, in all
// files together, so that a missing day is one. (The gaps among the events of a clock
// are another matter: package logfile wants ten cadences.)
type Gaps struct {
	Count    int     `json:"count"`     // how many
	LongestS float64 `json:"longest_s"` // the longest, seconds
	TotalS   float64 `json:"total_s"`   // all together, seconds
}

const (
	gapS        = 60 // half of a usual totality; common practice, no source
	gapCadences = 3
)

// add counts n steps of one length if they are gaps, and says whether they are.
func (g *Gaps) add(step time.Duration, n int, usual time.Duration) bool {
	if step <= gapS*time.Second || step <= gapCadences*usual {
		return false
	}
	g.Count += n
	g.TotalS += float64(n) * step.Seconds()
	g.LongestS = math.Max(g.LongestS, step.Seconds())
	return true
}

// Stamps are what the clock did, and how it was written.
type Stamps struct {
	// Events counts what the clock did between the records of a file, by the name of
	// the kind.
	Events map[string]int `json:"events"`
	// UnsetRecords carry the stamp of a clock that was not set; UnsetSpells is how
	// often it fell back to that.
	// MendedRecords of them were put right by the step that set it.
	UnsetRecords  int `json:"unset_records"`
	UnsetSpells   int `json:"unset_spells"`
	MendedRecords int `json:"mended_records"`
	// NoZoneFiles have stamps without a zone, and none was given.
	NoZoneFiles int `json:"no_zone_files"`
}

func (r *Report) stamps() Stamps {
	s := Stamps{Events: r.EventCounts, UnsetRecords: r.unset.Records, UnsetSpells: r.unset.Spells, MendedRecords: r.unset.Mended}
	for _, f := range r.Files {
		if f.ZoneAssumed && r.Station.Zone == "" {
			s.NoZoneFiles++
		}
	}
	return s
}

func (r *Report) lines() Lines {
	var records, refused int
	for _, f := range r.Files {
		records += int(f.Lines.Records)
		refused += int(f.Lines.Problems)
	}
	return Lines{RefusedShare: share(refused, records+refused), NoLightShare: share(r.lightless, len(r.Samples))}
}

// elapsed is the time from one stamp to another. Those of a clock that was set lie within
// decades, so that there is no Duration too long, which time.Time's own Sub has to look for.
func elapsed(from, to time.Time) time.Duration {
	return time.Duration(to.Unix()-from.Unix())*time.Second + time.Duration(to.Nanosecond()-from.Nanosecond())
}

// cadence reads the steps and the gaps of samples that ascend in time.
func cadence(samples []fit.Sample) (*Steps, Gaps) {
	var gaps Gaps
	steps := make([]time.Duration, 0, len(samples))
	for i := 1; i < len(samples); i++ {
		if d := elapsed(samples[i-1].Time, samples[i].Time); d > 0 {
			steps = append(steps, d)
		}
	}
	repeats := max(0, len(samples)-1) - len(steps)
	if len(steps) < 2 {
		return nil, gaps
	}
	slices.Sort(steps)
	at := func(p float64) time.Duration { return steps[int(p*float64(len(steps)-1)+0.5)] }
	usual := steps[len(steps)/2]
	off, missed := 0, 0.0
	for from := 0; from < len(steps); {
		d, to := steps[from], from+1
		for to < len(steps) && steps[to] == d { // most are the same
			to++
		}
		if n := to - from; !gaps.add(d, n, usual) {
			missed += float64(n) * math.Max(0, math.Round(float64(d)/float64(usual))-1)
		}
		if (d - usual).Abs() > usual/2 {
			off += to - from
		}
		from = to
	}
	gaps.TotalS, gaps.LongestS = figure(gaps.TotalS), figure(gaps.LongestS)
	// Where stamps are cut to the second, one that repeats and one left out are a pair.
	missed = math.Max(0, missed-float64(repeats))
	return &Steps{
		MedianS:     usual.Seconds(),
		SpreadS:     (at(0.84) - at(0.16)).Seconds() / 2,
		OffShare:    share(off, len(steps)),
		MissedShare: figure(missed / (missed + float64(len(steps)))),
		RepeatShare: share(repeats, len(samples)-1),
	}, gaps
}
