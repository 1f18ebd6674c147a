package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"example.org/noonfall/sensor"
)

// writeText writes the page for people.
func (s *story) writeText(out io.Writer) error {
	w := bufio.NewWriter(out)
	fmt.Fprintf(w, "Station %s: what a count means", s.station.Code)
	if s.truth != nil {
		fmt.Fprint(w, " (invented data)")
	}
	fmt.Fprint(w, "\nBehind a value, +- is one standard uncertainty (68 %).\n\n")
	s.lampText(w)
	s.morningText(w)
	s.bothText(w)
	s.useText(w)
	if err := s.chainText(w); err != nil {
		return err
	}
	s.truthText(w)
	fmt.Fprint(w, cautions)
	return w.Flush()
}

// lawLines are the parameters of a calibration.
func (s *story) lawLines(w io.Writer, c sensor.Calibration, gain bool) {
	fmt.Fprintf(w, "  exponent            %s\n", s.exponent(c))
	if gain {
		v := c.ValueAt(10)
		fmt.Fprintf(w, "  value at 10 lx      %s %s, correlated with the exponent by %.2f\n", measured(v, v*c.LnValueU), s.unit(), decimals(s.sign()*c.R, 2)+0)
	}
}

// sign turns the slope of ohms into the exponent of a cell.
func (s *story) sign() float64 {
	if s.unit() == "ohm" {
		return -1
	}
	return 1
}

func (s *story) exponent(c sensor.Calibration) string { return measured(s.sign()*c.Slope, c.SlopeU) }

func (s *story) lampText(w io.Writer) {
	l := s.lamp
	if l == nil {
		return
	}
	fmt.Fprintf(w, "BY A LAMP (%s)\n", l.file)
	light := s.lampLights()
	unit := " lx"
	if !l.absolute {
		unit = " times its light at 1 m"
	}
	fmt.Fprintf(w, "  %d readings from %g to %g m, %s to %s%s.\n", len(l.points), s.nearest(), s.farthest(), grouped(least(light)), grouped(greatest(light)), unit)
	for _, m := range l.warnings() {
		fmt.Fprintf(w, "  Mind: %s.\n", m)
	}
	s.lawLines(w, l.Calibration, l.absolute)
	if l.fitZero {
		fmt.Fprintf(w, "  the tape's zero     %s mm behind the lamp's middle\n", measured(1e3*l.ZeroM, 1e3*l.ZeroU))
	}
	if l.fitRoom {
		fmt.Fprintf(w, "  the dark room       %s%s\n", measured(l.BackgroundLux, l.BackgroundU), unit)
	}
	r, worst := rms(l.Residuals)
	fmt.Fprintf(w, "  The readings lie %s about the law, the farthest one %s off at %g m,\n  %s.\n", percent(r), percent(math.Abs(l.Residuals[worst])), l.points[worst].DistanceM, judged(l.Calibration))
	if l.absolute {
		fmt.Fprintf(w, "  The height is as good as the candela, %s; the exponent does not feel it.\n", percent(s.opt.candelaU))
	} else {
		fmt.Fprint(w, "  Without the lamp's candela (-candela) its light has no scale: the exponent is all that it tells.\n")
	}
	fmt.Fprintln(w)
}

// lampLights are the lights of the lamp's points by what was fitted.
func (s *story) lampLights() []float64 {
	candela := 1.0
	if s.lamp.absolute {
		candela = s.opt.candela
	}
	var out []float64
	for _, p := range s.lamp.points {
		d := p.DistanceM + s.lamp.ZeroM
		out = append(out, candela/(d*d)+s.lamp.BackgroundLux)
	}
	return out
}

func (s *story) nearest() float64 {
	return least(distances(s.lamp.points))
}

func (s *story) farthest() float64 {
	return greatest(distances(s.lamp.points))
}

func distances(points []sensor.LampPoint) (out []float64) {
	for _, p := range points {
		out = append(out, p.DistanceM)
	}
	return out
}

func (s *story) morningText(w io.Writer) {
	if s.morning == nil {
		return
	}
	fmt.Fprintf(w, "BY THE SUN'S CLIMB (%s)\n", filepath.Base(s.morning.Files[0].Name))
	if s.noZone() {
		fmt.Fprint(w, zoneWords)
	}
	if no := s.morning.Refusal; no != nil {
		fmt.Fprintf(w, "  No verdict: %s.\n  %s.\n\n", no.Reason, no.Detail)
		return
	}
	f := s.fit()
	fmt.Fprintf(w, "  %d minutes of %s, %s to %s UTC: from %.1f air masses to %.2f,\n  %s to %s lx on the sensor by the clear-sky model.\n",
		f.Used, f.From.Format("2 January 2006"), f.From.Format("15:04"), f.To.Format("15:04"), f.AirMass[1], f.AirMass[0], grouped(f.Lux[0]), grouped(f.Lux[1]))
	for _, m := range f.Warnings {
		fmt.Fprintf(w, "  Mind: %s.\n", m)
	}
	if f.SlopeU > 0 {
		s.lawLines(w, f.Calibration, true)
	} else {
		v := f.ValueAt(10)
		fmt.Fprintf(w, "  exponent            %g, as it was given\n  value at 10 lx      %s %s\n", s.sign()*f.Slope, measured(v, v*f.LnValueU), s.unit())
	}
	fmt.Fprintf(w, "  extinction          %s an air mass; 0.21 is a clear day's\n", measured(f.Extinction, f.ExtinctionU))
	fmt.Fprintf(w, "  its drift           %s an hour, by which Langley's line bends\n", measured(f.Drift, f.DriftU))
	fmt.Fprintf(w, "  A minute scatters by %s; the slow course differs from the model's by %s.\n", percent(f.MinuteLnU), percent(f.SlowLnU))
	mid := math.Sqrt(f.Lux[0] * f.Lux[1])
	fmt.Fprintf(w, "  How bright the clear sky was is the model's word: %s, in every minute alike. So the\n  height is known to %s of the light at %s lx; at 10 lx it is far extrapolated.\n\n", percent(f.ModelLnU), percent(f.LuxLnU(mid)), grouped(mid))
}

func (s *story) bothText(w io.Writer) {
	if s.both == nil {
		return
	}
	f := s.fit()
	a, b := s.lampLaw(), f.Calibration
	fmt.Fprintln(w, "BOTH TOGETHER")
	fmt.Fprintf(w, "  A cell's law bends a little: outside its own lights the lamp's exponent counts with %g more.\n", bendU)
	fmt.Fprintf(w, "  The exponents differ by %s", measured(s.sign()*(b.Slope-a.Slope), math.Hypot(a.SlopeU, b.SlopeU)))
	if s.lamp.absolute {
		mid := math.Sqrt(f.Lux[0] * greatest(s.lampLights()))
		fmt.Fprintf(w, ", the light at %s lx by %s %%", grouped(mid),
			measured(100*math.Log(b.LuxAt(a.ValueAt(mid))/mid), 100*math.Hypot(a.LuxLnU(mid), b.LuxLnU(mid))))
	}
	fmt.Fprintf(w, ":\n  chi-square %.1f with 2 degrees of freedom. ", s.both.ChiSquare)
	if !s.agree {
		fmt.Fprint(w, "They do not agree. Lamp and daylight have\n  other colours, and a cell's law bends: below is the morning's alone, for light by day.\n\n")
		return
	}
	fmt.Fprint(w, "They agree, and each counts by what it knows:\n")
	s.lawLines(w, *s.both, true)
	fmt.Fprintln(w)
}

// lights at which it is said how well they are known, lx.
var lights = []float64{1, 10, 100, 1000, 10e3, 100e3}

// useText says what the calibration is good for.
func (s *story) useText(w io.Writer) {
	if s.best == nil {
		return
	}
	fmt.Fprintln(w, "WHAT IT IS GOOD FOR")
	low, high := s.reach()
	fmt.Fprint(w, "  light, lx     known to\n")
	for _, lux := range lights {
		note := ""
		if lux < low/1.5 || lux > high*1.5 {
			note = "   extrapolated: nothing was read there"
		}
		fmt.Fprintf(w, "  %9s     %s%s\n", grouped(lux), percent(s.best.LuxLnU(lux)), note)
	}
	fmt.Fprint(w, `  All of a log's readings share that error: ratios of light, such as how deep the eclipse was,
  feel only the exponent's. The clock needs none of it: reduce finds it from any unit.
  Cells also drift with temperature and remember bright light for minutes; that is not in here.

`)
}

// reach is the light between the dimmest and the brightest reading in what is best.
func (s *story) reach() (low, high float64) {
	low = math.Inf(1)
	if s.lamp != nil && s.lamp.absolute && (s.both == nil || s.agree) {
		low, high = least(s.lampLights()), greatest(s.lampLights())
	}
	if f := s.fit(); f != nil {
		low, high = math.Min(low, f.Lux[0]), math.Max(high, f.Lux[1])
	}
	return low, high
}

// chainText is the JSON to paste: a line for each part.
func (s *story) chainText(w io.Writer) error {
	if s.chain == nil {
		return nil
	}
	text, err := chainJSON(*s.chain)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "FOR THE STATION'S FILE, in place of its chain; then: go run ./examples/reduce -station FILE\n%s\n\n", text)
	return nil
}

// chainJSON has one line for each part of the chain.
func chainJSON(c sensor.Chain) (string, error) {
	whole, err := json.Marshal(c)
	if err != nil {
		return "", err
	}
	var parts map[string]json.RawMessage
	if err := json.Unmarshal(whole, &parts); err != nil {
		return "", err
	}
	var lines []string
	for _, name := range []string{"adc", "divider", "phototransistor", "digital", "angular"} {
		raw, ok := parts[name]
		if !ok {
			continue
		}
		line := fmt.Sprintf("    %q: %s", name, raw)
		// The cell and the end of long parts get lines of their own.
		line = strings.ReplaceAll(line, `,"cell":{`, ",\n      \"cell\":{")
		line = strings.ReplaceAll(line, `,"dead_low_fraction"`, ",\n      \"dead_low_fraction\"")
		line = strings.ReplaceAll(line, `,"noise_counts"`, ",\n      \"noise_counts\"")
		lines = append(lines, line)
		delete(parts, name)
	}
	for name := range parts { // a part that is newer than this list must not get lost
		return "", fmt.Errorf("the chain has a part %q that is not printed", name)
	}
	return "  \"chain\": {\n" + strings.Join(lines, ",\n") + "\n  }", nil
}

func (s *story) truthText(w io.Writer) {
	t, f := s.truth, s.fit()
	if t == nil || f == nil || s.lamp == nil || s.best == nil {
		return
	}
	off := func(got, want, u float64) string {
		return fmt.Sprintf("%+.1f u", (got-want)/u)
	}
	fmt.Fprintln(w, "HOW FAR OFF (the demo's truth, which nothing above was told)")
	fmt.Fprintf(w, "  exponent in the lamp's lights     %.3f in truth    %s\n", t.LampExponent, off(-s.lamp.Slope, t.LampExponent, s.lamp.SlopeU))
	fmt.Fprintf(w, "  exponent in the morning's         %.3f in truth    %s\n", t.MorningExponent, off(-f.Slope, t.MorningExponent, f.SlopeU))
	fmt.Fprintf(w, "  extinction                        %.3f in truth    %s\n", t.Extinction, off(f.Extinction, t.Extinction, f.ExtinctionU))
	fmt.Fprintf(w, "  the tape's zero                   %.0f mm in truth    %s\n", 1e3*t.TapeM, off(s.lamp.ZeroM, t.TapeM, s.lamp.ZeroU))
	got, u := s.best.LuxAt(t.Ohms30k), s.best.LuxLnU(30e3)
	fmt.Fprintf(w, "  30,000 lx                         read as %s lx    %+.0f %%, %+.1f u\n\n", grouped(got), 100*(got/30e3-1), math.Log(got/30e3)/u)
}

const cautions = `CAUTIONS
  A lamp gets hot and dazzles: let it cool before you move it, look at the tape and not into the
  light, keep paper and cloth away from it. Take one with a plug and a whole cable; whatever is
  wired to the mains is for qualified people, under your local codes.
  Nobody looks at the Sun, through anything, nor points optics at it: set the sensor level by a spirit
  level, or square to the Sun by its shadow. Glasses for eclipses meet ISO 12312-2.
  Charge batteries with their own charger and not unwatched; keep them out of the hot Sun, fuse what can
  deliver more than its wires bear, and take one that swells or smells out of use.
`

func least(v []float64) float64 {
	out := math.Inf(1)
	for _, x := range v {
		out = math.Min(out, x)
	}
	return out
}

func greatest(v []float64) float64 {
	out := math.Inf(-1)
	for _, x := range v {
		out = math.Max(out, x)
	}
	return out
}
