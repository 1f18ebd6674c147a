package main

import (
	"fmt"
	"math"

	"example.org/noonfall/sensor"
)

// The answer in words: each function is a paragraph, for the text and for the JSON.

// question says what is to be decided.
func (s *story) question() string {
	article := "An invented"
	if s.told() {
		article = "A"
	}
	what := fmt.Sprintf("%s photoresistor of %s at 10 lx, exponent %s and %s in the dark is in series with a load, the cell %s.",
		article, ohms(s.r10), figure(s.gamma, 3), s.darkness(), map[string]string{
			"top": "on top, so that counts rise with light", "bottom": "at the bottom, so that counts fall with light"}[s.cell])
	if s.sensor == "phototransistor" {
		what = fmt.Sprintf("%s phototransistor of %s microamperes per lux works into a load to ground, so that counts rise with light.", article, figure(1e6*s.amps, 3))
	}
	return what + fmt.Sprintf(" A converter of %d bits measures the tap against the supply of %s V; counts within %s %% of either end are not to be believed (from memory).%s"+
		" Everything from %s to %s lx is to be read, %.1f decades.", s.bits, figure(s.supply, 3), figure(100*s.dead, 2), s.where(), figure(s.low, 4), figure(s.high, 4), math.Log10(s.high/s.low))
}

// where says what light the site has, if there is one.
func (s *story) where() string {
	switch {
	case s.day == "":
		return ""
	case s.sky == (sky{}):
		return fmt.Sprintf(" The eclipse of %s is not seen at %g,%g.", s.day, s.Site.Lat, s.Site.Lon)
	}
	return fmt.Sprintf(" The eclipse of %s at %g,%g under a clear sky has %s to %s lx on a level sensor while the Sun is up, by a model: a quarter of the least and 4/3 of the greatest are what it leaves open.",
		s.day, s.Site.Lat, s.Site.Lon, figure(s.sky.low, 2), figure(s.sky.high, 2))
}

func (s *story) darkness() string {
	if s.dark == 0 { // exactly: not set
		return "endless ohms"
	}
	return ohms(s.dark)
}

const totalities = "Totality is not the same twice: 1 to 10 lx, from one eclipse to the other (two readings, and from memory)."

// legend explains the table of loads.
func (s *story) legend() string {
	out := fmt.Sprintf("Counts of %d; d: too dark to tell, s: saturated, each a bound and no number. Per octave: the counts that a doubling of the light is worth; - where there is no number."+
		" The filter's density is what brings %s lx into range.", 1<<s.bits, figure(s.high, 4))
	if s.sensor == "photoresistor" {
		out += fmt.Sprintf(" At %s lx a range ends because the cell's law does.", figure(lawEnds, 4))
	}
	return out
}

// why says which load is best, and why.
func (s *story) why() []string {
	l := s.best.Load
	out := []string{s.ideal()}
	if worse(l) == 0 {
		return append(out, fmt.Sprintf("No load reads both ends. %s reads most: from %s to %s lx, %.1f of the %.1f decades.", capital(ohms(l.Ohms)),
			figure(l.DarkLux, 3), figure(l.SaturatesLux, 3), s.decades(l), math.Log10(s.high/s.low)))
	}
	beside := ""
	for _, c := range s.table {
		if isOneOf(c.Ohms, s.neighbours()[1:]) {
			beside += fmt.Sprintf(", %s with %s", s.count(worse(c.Load)), ohms(c.Ohms))
		}
	}
	return append(out, fmt.Sprintf("Of %s the best is %s: at the worse end a doubling of the light is worth %s%s. One count is %s of the light there.",
		(*seriesFlag)(&s.series), ohms(l.Ohms), s.count(worse(l)), beside, percent(ofLight(worse(l)))))
}

// answerWords are the paragraphs of the answer.
func (s *story) answerWords() []string { return append(s.why(), s.strain()) }

// count writes counts per octave.
func (s *story) count(perOctave float64) string {
	if perOctave == 0 { // exactly: a bound
		return "nothing"
	}
	return figure(perOctave, 2) + " counts"
}

// ideal says where the best load comes from.
func (s *story) ideal() string {
	if p := s.chain.Phototransistor; p != nil {
		return fmt.Sprintf("The volts are in proportion to the light. With %s the straight line ends at %s lx: a larger load loses the bright end, a smaller one gives away counts.",
			ohms(s.best.IdealOhm), figure(s.high, 4))
	}
	cell := s.chain.Divider.Cell
	return fmt.Sprintf("The cell has %s at %s lx and %s at %s lx. Their geometric mean, %s, is the load with which the tap moves most: by %.0f %% of the supply with %s.",
		ohms(cell.Ohms(s.low)), figure(s.low, 4), ohms(cell.Ohms(s.high)), figure(s.high, 4), ohms(s.best.IdealOhm), 100*s.best.Swing, ohms(s.best.Ohms))
}

// decades is how much of what was asked for a load reads.
func (s *story) decades(l sensor.Load) float64 {
	return math.Max(0, math.Log10(math.Min(s.high, l.SaturatesLux)/math.Max(s.low, l.DarkLux)))
}

// strain says what the parts must bear.
func (s *story) strain() string {
	x := s.best.Strain()
	out := fmt.Sprintf("With %s at %s V no light makes more than %s mA flow, %s mW in the sensor and %s mW in the load.",
		ohms(s.best.Ohms), figure(s.supply, 3), figure(1e3*x.Amperes, 2), figure(1e3*x.SensorW, 2), figure(1e3*x.LoadW, 2))
	const bears, loadBears = 0.1, 0.25 // W
	if x.SensorW > bears || x.LoadW > loadBears {
		return out + " TOO MUCH: a cell bears about 100 mW (from memory) and a small resistor 250 mW (common practice, no source), less where it is hot. Take a lower supply or a larger load."
	}
	return out + " A cell bears about 100 mW (from memory), a small resistor 250 mW (common practice, no source), both less where it is hot."
}

// slow warns of a tap with many ohms.
func (s *story) slow() string {
	const most = 10e3 // ohms; from memory, see package sensor
	for _, l := range s.recommended() {
		if l.Ohms > most {
			return fmt.Sprintf("In the dark the converter sees the %s of the load. More than 10 kohm (from memory) want a capacitor at the tap, and time to charge it.", ohms(l.Ohms))
		}
	}
	return ""
}

func (s *story) recommended() []sensor.Load {
	return []sensor.Load{s.best.Load, s.pair.Dim, s.pair.Bright}
}

// cautions go with every answer that somebody may solder and carry into the Sun.
func (s *story) cautions() []string {
	out := []string{
		"Never look at the Sun without a filter that meets ISO 12312-2, except during totality and inside its path. A filter for a sensor is no protection for eyes, whatever its density.",
		"A battery whose ends touch gives all it can at once: heat, fire, burns. Take it out before you solder or change a part, and fuse it close to its terminal.",
		"Keep batteries out of the Sun and out of closed cars; lithium cells above all. One that swells or smells is taken out of use.",
		"All of this is for extra-low voltage, a few volts from a battery. What is connected to the mains or fixed to a building is for qualified people under your local codes.",
		"A soldering iron burns and its fumes are not for breathing: air the room, and children have somebody beside them.",
	}
	if s.sensor == "photoresistor" {
		out = append(out, "The cell contains cadmium: do not break or heat it more than soldering does, and dispose of it as your local rules say (from memory).")
	}
	return out
}
