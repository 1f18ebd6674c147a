package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"path"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/eclipse/rehearsal"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sensor"
)

// A pupil is one station of the school network, and what befalls it. All of it is invented.
type pupil struct {
	code string
	what string // for the truth: what a reduction should come upon
	site station.Site
	// told is the site that its owners write down, where it is not the site.
	told    station.Site
	chain   *sensor.Chain
	set     station.ClockSet
	plan    rehearsal.Plan // weather, clock and damage
	remarks string
}

// habit is by how many seconds all of them stamp late light early: they write the stamp
// first and then average. Invented, like all else here.
const habit = -8.0

// school is the network, in the order of its codes.
func school() []pupil {
	cell := sensor.Photoresistor{R10Ohm: 12e3, Gamma: 0.65, R10LnU: 0.2, GammaU: 0.03}
	adc := sensor.ADC{Bits: 12, ReferenceV: 3.3, Ratiometric: true, DeadLow: 0.003, DeadHigh: 0.005, NoiseCounts: 0.7, Averaged: 32, LogStepCounts: 0.1}
	over := func(load float64) *sensor.Chain {
		return &sensor.Chain{ADC: adc, Divider: &sensor.Divider{Wiring: sensor.CellOnTop, SupplyV: 3.3, LoadOhm: load, LoadTolerance: 0.05, Cell: cell}}
	}
	fine := adc
	fine.Bits, fine.DeadLow, fine.LogStepCounts = 16, 0.00005, 0.1
	linear := &sensor.Chain{ADC: fine, Phototransistor: &sensor.Phototransistor{SupplyV: 3.3, LoadOhm: 47, AmperesPerLux: 0.5e-6, SaturationV: 0.2, AmperesPerLuxLnU: 0.2}}
	at := func(lat, lon, height float64) station.Site { return station.Site{Lat: lat, Lon: lon, Height: height} }
	return []pupil{
		{code: "SCHOOL-01", what: "a clear morning and a right clock, but for the habit that all share", site: at(36.01, -5.61, 10), chain: over(220), set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: 0.4}},
		{code: "SCHOOL-02", what: "thin cloud", site: at(36.72, -4.43, 20), chain: over(220), set: station.SetBySatellite,
			plan: rehearsal.Plan{Offset: -0.7, Weather: rehearsal.Haze}},
		{code: "SCHOOL-03", what: "broken cloud", site: at(35.18, -2.94, 30), chain: over(220), set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: 0.3, Weather: rehearsal.Broken}},
		{code: "SCHOOL-04", what: "just north of the path", site: at(37.88, -4.78, 110), chain: linear, set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: 0.6}},
		{code: "SCHOOL-05", what: "far north of the path", site: at(40.41, -3.69, 650), chain: linear, set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: -0.2}},
		{code: "SCHOOL-06", what: "south of the path", site: at(33.57, -7.58, 50), chain: linear, set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: 0.9}},
		{code: "SCHOOL-07", what: "a clock on local time, two hours ahead and unsaid", site: at(36.53, -6.29, 10), chain: over(220), set: station.SetByHand,
			plan: rehearsal.Plan{Offset: 37, ZoneHours: 2}, remarks: "Clock set by somebody's watch."},
		{code: "SCHOOL-08", what: "the sign of the longitude is wrong", site: at(36.84, -2.46, 20), told: at(36.84, 2.46, 20), chain: over(220), set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: -0.5}},
		{code: "SCHOOL-09", what: "a load so large that full Sun drives the sensor to its rail", site: at(35.78, -5.82, 15), chain: over(22e3), set: station.SetByHand,
			plan: rehearsal.Plan{Offset: -61}},
		{code: "SCHOOL-10", what: "a file that power cuts and a bad card tore", site: at(36.14, -5.36, 5), chain: over(220), set: station.SetByNetwork,
			plan: rehearsal.Plan{Offset: 0.1, Damage: rehearsal.Damage{PowerCycles: 3, Outage: 4 * time.Minute, TornLines: 12, NULRuns: 6}}},
		{code: "SCHOOL-11", what: "the log is the day before's", site: at(34.74, 10.76, 5), chain: over(220), set: station.SetByPhone,
			plan: rehearsal.Plan{Offset: 1.5, Day: -1}},
		{code: "SCHOOL-12", what: "clear and far along the path; set by hand, a minute and a half fast", site: at(25.69, 32.64, 80), chain: over(220), set: station.SetByHand,
			plan: rehearsal.Plan{Offset: 98, DriftPPM: 14}},
	}
}

// A pupilTruth is what one station's log hides.
type pupilTruth struct {
	Code  string          `json:"code"`
	What  string          `json:"what"`
	Truth rehearsal.Truth `json:"truth"`
}

// makeNetwork gives the files of the school network.
func makeNetwork(ctx context.Context) (map[string][]byte, error) {
	catalogue, err := canon.Load()
	if err != nil {
		return nil, err
	}
	e, err := catalogue.On(time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC))
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	var truths []pupilTruth
	for i, p := range school() {
		truth, err := p.write(ctx, e, uint64(20270802+i), files)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.code, err)
		}
		truths = append(truths, truth)
	}
	files["network-truth.json"], err = cli.JSON(truths)
	return files, err
}

// write makes one station's two files.
func (p *pupil) write(ctx context.Context, e *eclipse.Elements, seed uint64, files map[string][]byte) (pupilTruth, error) {
	plan := p.plan
	plan.Elements, plan.Site, plan.Chain, plan.Seed = e, p.site.Sun(), p.chain, seed
	plan.Cadence, plan.Offset = 20*time.Second, plan.Offset+habit
	log, err := rehearsal.Make(ctx, plan)
	if err != nil {
		return pupilTruth{}, err
	}
	day := time.Date(2027, 8, 2+plan.Day, 0, 0, 0, 0, time.UTC).Format("20060102")
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return pupilTruth{}, err
	}
	if _, err := log.WriteTo(z); err != nil {
		return pupilTruth{}, err
	}
	if err := z.Close(); err != nil {
		return pupilTruth{}, err
	}
	s := station.Station{
		Version: station.Version, Code: p.code, Site: p.site, Eclipse: "2027-08-02", ClockSet: p.set, Chain: p.chain,
		Files: []string{day + ".csv.gz"}, Remarks: "Invented data: a made-up logger at a made-up school; nothing was measured. " + p.remarks,
	}
	if p.told != (station.Site{}) {
		s.Site = p.told
	}
	if err := s.Validate(); err != nil {
		return pupilTruth{}, err
	}
	about, err := cli.JSON(s)
	if err != nil {
		return pupilTruth{}, err
	}
	files[path.Join("network", p.code, "station.json")] = about
	files[path.Join("network", p.code, s.Files[0])] = packed.Bytes()
	return pupilTruth{Code: p.code, What: p.what, Truth: log.Truth}, nil
}
