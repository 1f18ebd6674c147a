package station

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"time"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sensor"
)

// SummaryVersion is the version of a summary's JSON that this package writes and reads.
const SummaryVersion = 1

// A Summary is what a station gives to a campaign: some kB of JSON. Nothing personal is in
// it unless it is asked for: the site is rounded and all that is predicted is predicted for the
// rounded one, there are no remarks, no file names and no words of the owner's but the
// station's code. Numbers are rounded to six digits, so that the same report gives the same bytes.
type Summary struct {
	Version int    `json:"version"` // SummaryVersion
	Code    string `json:"code"`    // the station's
	// Eclipse is the day of the eclipse, YYYY-MM-DD (TT), or where there was none the
	// station's own.
	Eclipse string `json:"eclipse"`
	Site    Site   `json:"site"` // rounded to RoundedDeg
	// RoundedDeg is what latitude and longitude are rounded to, degrees; 0 where they are
	// as given.
	RoundedDeg float64  `json:"rounded_deg"`
	DeltaT     *float64 `json:"delta_t_s,omitempty"` // the station's own, seconds
	ClockSet   ClockSet `json:"clock_set"`           // the station's own word
	// Calibrated says that counts were turned into lux by a chain.
	Calibrated bool `json:"calibrated"`
	// CalibrationU is what the chain leaves open of the exponent of its lux against light, 0
	// without a chain.
	CalibrationU float64 `json:"u_calibration"`
	Seen         string  `json:"seen"` // "none", "partial", "annular" or "total": what the Sun above the horizon shows at the rounded site
	// Magnitude is the predicted one at the rounded site.
	Magnitude float64 `json:"magnitude"`
	Records   int     `json:"records"`   // lines with a readable stamp
	Problems  int     `json:"problems"`  // lines refused
	CadenceS  float64 `json:"cadence_s"` // 0 where the log has none
	GapS      float64 `json:"gap_s"`     // time without samples, seconds

	Refusal   *Refusal         `json:"refusal"`   // null where the clock was told
	Clock     *ClockSummary    `json:"clock"`     // null where it was refused
	Light     []LightBin       `json:"light"`     // ascending in obscuration
	Contacts  []ContactSummary `json:"contacts"`  // those seen
	Darkening *Estimate        `json:"darkening"` // brightness at a cosine of one half over the centre's; null where it was not told
	Cooling   *CoolingSummary  `json:"cooling"`   // null where it was refused
	Misplaced string           `json:"misplaced"` // a mistake with site or date that would explain the light better; empty where there is none
	Segments  int              `json:"segments"`  // stretches between moves of the clock, 0 where it never moved
}

// A ClockSummary is the fit's verdict.
type ClockSummary struct {
	OffsetS  float64    `json:"offset_s"` // stamp less UTC at maximum, zone included
	OffsetU  float64    `json:"u_s"`      // standard uncertainty of OffsetS, s
	CI95     [2]float64 `json:"ci95_s"`   // the 95 % interval of OffsetS, s
	ZoneH    float64    `json:"zone_h"`   // hours, halves and quarters in OffsetS, as of a clock on local time
	Exponent Estimate   `json:"exponent"` // of the readings as a power of the light
	Law      string     `json:"law"`      // "power" or "monotone"
	Cloud    float64    `json:"cloud"`    // part of the recorded eclipse under cloud or shade
}

// An Estimate is a number with its standard uncertainty.
type Estimate struct {
	Value float64 `json:"value"` // in the unit that the field of this type says
	U     float64 `json:"u"`     // standard uncertainty, same unit
}

// A LightBin is the light within a narrow range of obscuration, cloud left out.
type LightBin struct {
	Obscuration float64 `json:"obscuration"` // middle of the range
	// Light is the median part of a clear sky's light that the readings stand for, by the
	// response that the fit found.
	Light float64 `json:"light"`
	N     int     `json:"n"` // readings
}

// A ContactSummary is a contact as the light shows it.
type ContactSummary struct {
	Name  string  `json:"name"`      // C1 to C4
	LateS float64 `json:"late_s"`    // by how much it came after the prediction, s
	LateU float64 `json:"u_late_s"`  // with the clock's part
	OwnU  float64 `json:"u_stamp_s"` // without it: what two contacts of a log differ by
}

// A CoolingSummary is the air's answer.
type CoolingSummary struct {
	DropC Estimate `json:"drop_c"` // the air's drop against a day without eclipse, degrees Celsius
	LagS  Estimate `json:"lag_s"`  // of the greatest drop after maximum eclipse, s
}

// SummaryOptions tunes a summary. The zero value is the recommended setting.
type SummaryOptions struct {
	// RoundDeg is what latitude and longitude are rounded to, degrees; zero means 0.01,
	// about a kilometre, in which the shadow runs for a second or two.
	RoundDeg float64
	// Exact gives the site as it is. It overrules RoundDeg.
	Exact bool
}

const defaultRound = 0.01

// Summary makes the report's summary. The error is for a RoundDeg that is not in (0, 1].
func (r *Report) Summary(opt SummaryOptions) (*Summary, error) {
	s := &Summary{
		Version: SummaryVersion, Code: r.Station.Code, Eclipse: r.Station.Eclipse, Site: r.Station.Site, DeltaT: r.Station.DeltaT,
		ClockSet: r.Station.ClockSet, Calibrated: r.Station.Chain != nil, Seen: eclipse.None.String(),
		Records: r.Records, GapS: short(r.Health.Gaps.TotalS), Refusal: r.Refusal,
		Light: []LightBin{}, Contacts: []ContactSummary{}, Segments: len(r.Segments),
	}
	if !opt.Exact {
		if s.RoundedDeg = opt.RoundDeg; s.RoundedDeg == 0 {
			s.RoundedDeg = defaultRound
		}
		if !(s.RoundedDeg > 0 && s.RoundedDeg <= 1) {
			return nil, fmt.Errorf("station: coordinates are to be rounded to %g degrees, want more than 0 and at most 1", s.RoundedDeg)
		}
		s.Site = s.Site.rounded(s.RoundedDeg)
	}
	if s.Calibrated {
		s.CalibrationU = short(exponentU(r.Station.Chain))
	}
	for _, n := range r.Problems {
		s.Problems += n
	}
	if r.Health.Steps != nil {
		s.CadenceS = short(r.Health.Steps.MedianS)
	}
	if err := s.predict(r); err != nil {
		return nil, err
	}
	s.observed(r)
	return s, nil
}

// exponentU is the relative uncertainty of a chain's exponent: the cell's own, and of any sensor
// two parts in a hundred (common practice, no source).
func exponentU(c *sensor.Chain) float64 {
	const any = 0.02
	if d := c.Divider; d != nil && d.Cell.Gamma > 0 {
		return math.Hypot(any, d.Cell.GammaU/d.Cell.Gamma)
	}
	return any
}

// rounded is the site on a grid, its height to the hundred metres.
func (s Site) rounded(deg float64) Site {
	lat := math.Max(-90, math.Min(90, deg*math.Round(s.Lat/deg)))
	return Site{Lat: short9(lat), Lon: short9(math.Remainder(deg*math.Round(s.Lon/deg), 360)), Height: 100 * math.Round(s.Height/100)}
}

// predict says what the rounded site gets to see.
func (s *Summary) predict(r *Report) error {
	if r.Elements == nil {
		return nil
	}
	s.Eclipse = r.Elements.Date
	o, err := eclipse.NewObserver(r.Elements, s.Site.Sun(), eclipse.Options{Scale: r.scale()})
	if err != nil {
		return err
	}
	c := o.Circumstances()
	s.Seen, s.Magnitude = c.Seen.String(), math.Round(1e3*math.Max(0, c.Magnitude))/1e3
	return nil
}

// observed takes down what the log shows.
func (s *Summary) observed(r *Report) {
	if m := r.Misplaced; m != nil {
		s.Misplaced = m.What
	}
	if c := r.Cooling; c != nil {
		s.Cooling = &CoolingSummary{DropC: estimate(c.Drop.Value, c.Drop.U), LagS: estimate(c.Lag.Value, c.Lag.U)}
	}
	k := r.Clock
	if k == nil {
		return
	}
	s.Clock = &ClockSummary{
		OffsetS: short(k.Offset), OffsetU: short(k.OffsetU), CI95: [2]float64{short(k.CI95[0]), short(k.CI95[1])}, ZoneH: k.ZoneH,
		Exponent: estimate(k.Response.Exponent, k.Response.ExponentU), Law: k.Response.Law, Cloud: short(k.CloudFraction),
	}
	s.Light = r.lightBins()
	for _, c := range k.Contacts {
		s.Contacts = append(s.Contacts, ContactSummary{Name: c.Name, LateS: short(c.Late), LateU: short(c.LateU), OwnU: short(c.StampU)})
	}
	if d := k.Darkening; d != nil {
		e := estimate(d.Half, d.HalfU)
		s.Darkening = &e
	}
}

func estimate(value, u float64) Estimate { return Estimate{short(value), short(u)} }

// short rounds to six digits, short9 to nine: what is a number stays one, and the bytes are the same on
// every machine.
func short(x float64) float64  { return digits(x, 6) }
func short9(x float64) float64 { return digits(x, 9) }

func digits(x float64, n int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	if err != nil || math.IsInf(y, 0) || math.IsNaN(y) {
		return 0 // JSON has no such number; only a fit that failed gives one
	}
	return y
}

// ParseSummary reads a summary's JSON. Unknown keys are refused by name, another version
// by its number, numbers out of range by their keys.
func ParseSummary(data []byte) (*Summary, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var s Summary
	if err := d.Decode(&s); err != nil {
		return nil, fmt.Errorf("summary: %w", err)
	}
	if s.Version != SummaryVersion {
		return nil, fmt.Errorf("summary: version is %d, this library reads %d", s.Version, SummaryVersion)
	}
	return &s, s.Validate()
}

// Validate reports everything that no report can have given.
func (s *Summary) Validate() error {
	var faults []error
	want := func(ok bool, format string, args ...any) {
		if !ok {
			faults = append(faults, fmt.Errorf(format, args...))
		}
	}
	if err := s.Site.Sun().Validate(); err != nil {
		faults = append(faults, err)
	}
	_, err := time.Parse(time.DateOnly, s.Eclipse)
	want(err == nil, "eclipse is %q, want a day like 2027-08-02", s.Eclipse)
	want(s.RoundedDeg >= 0 && s.RoundedDeg <= 1, "rounded_deg is %g, want 0 to 1", s.RoundedDeg)
	if err := s.ClockSet.validate(); err != nil {
		faults = append(faults, err)
	}
	want((s.Clock == nil) == (s.Refusal != nil), "a summary has either a clock or a refusal")
	if c := s.Clock; c != nil {
		want(c.OffsetU > 0 && c.CI95[0] <= c.CI95[1], "clock has u_s %g and ci95_s %v", c.OffsetU, c.CI95)
		want(c.Cloud >= 0 && c.Cloud <= 1, "cloud is %g, want 0 to 1", c.Cloud)
	}
	for i, b := range s.Light {
		want(b.Obscuration >= 0 && b.Obscuration <= 1 && b.Light >= 0 && b.N > 0, "light[%d] is %+v", i, b)
	}
	if d := s.Darkening; d != nil {
		want(d.U > 0, "darkening has u %g", d.U)
	}
	if err := errors.Join(faults...); err != nil {
		return fmt.Errorf("summary of %q: %w", s.Code, err)
	}
	return nil
}
