package logfile

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

func equalFold(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// hasLetter says that there is a letter of ASCII.
func hasLetter(b []byte) bool {
	for _, c := range b {
		if (c|0x20)-'a' < 26 {
			return true
		}
	}
	return false
}

// tokens cuts a heading into lower-case words: at everything but letters and
// digits, and where a small letter meets a capital.
func tokens(name string) []string {
	var out []string
	var b strings.Builder
	flush := func() {
		if b.Len() > 0 {
			out = append(out, b.String())
			b.Reset()
		}
	}
	small := false
	for _, r := range capitalUnits.Replace(name) {
		switch {
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			flush()
		case small && unicode.IsUpper(r):
			flush()
			fallthrough
		default:
			b.WriteRune(unicode.ToLower(r))
		}
		small = unicode.IsLower(r)
	}
	flush()
	return out
}

// capitalUnits keeps the units that have a capital inside in one word.
var capitalUnits = strings.NewReplacer("degC", "degc", "degF", "degf", "hPa", "hpa", "kPa", "kpa", "mV", "mv")

// A word of a heading gives its column away. Common practice, no source.
type word struct {
	text string // ending in *: any word that begins so
	role Role
	rank int // of several columns the least wins
}

var words = []word{
	{"illum*", Light, 1}, {"lux*", Light, 1}, {"lx", Light, 1}, {"klx", Light, 1}, {"kilolux", Light, 1},
	{"light*", Light, 2}, {"ambientlight", Light, 2}, {"daylight", Light, 2}, {"sunlight", Light, 2}, {"skylight", Light, 2},
	{"lumen*", Light, 3}, {"lm", Light, 3}, {"footcandle*", Light, 3}, {"candle*", Light, 3}, {"fc", Light, 3},
	{"als", Light, 3}, {"ldr#", Light, 3}, {"photo*", Light, 3}, {"brightness", Light, 3}, {"luminosity", Light, 3}, {"luminance", Light, 3}, {"luminous", Light, 3},
	{"clear", Light, 4}, {"white", Light, 4}, {"broadband", Light, 4}, {"ghi", Light, 4}, {"pyranometer", Light, 5}, {"irrad*", Light, 5}, {"insolation", Light, 5}, {"radiation", Light, 5}, {"radiance", Light, 5}, {"shortwave", Light, 5}, {"sw", Light, 5}, {"solar", Light, 5}, {"sun", Light, 5},
	{"intensity", Light, 5}, {"visible", Light, 5}, {"vis", Light, 5}, {"spectrum", Light, 5}, {"optical", Light, 5}, {"par", Light, 5}, {"ppfd", Light, 5},
	{"ambient", Light, 6}, {"flux", Light, 6}, {"count*", Light, 6}, {"adc#", Light, 6}, {"raw", Light, 7}, {"voltage", Light, 8}, {"volts", Light, 8}, {"mv", Light, 8},
	{"temp*", Temp, 1}, {"airtemp*", Temp, 1}, {"tair", Temp, 1}, {"thermo*", Temp, 2}, {"thermistor", Temp, 2}, {"degc", Temp, 3}, {"degf", Temp, 3}, {"celsius", Temp, 3}, {"fahrenheit", Temp, 3},
	{"humid*", Humidity, 1}, {"hum", Humidity, 1}, {"rh", Humidity, 1},
	{"press*", Pressure, 1}, {"baro*", Pressure, 1}, {"hpa", Pressure, 2}, {"mbar", Pressure, 2},
	{"lat", Lat, 1}, {"latitude", Lat, 1}, {"lon", Lon, 1}, {"lng", Lon, 1}, {"long", Lon, 1}, {"longitude", Lon, 1},
	{"time*", Time, 1}, {"datetime*", Time, 1}, {"date*", Time, 1}, {"utc", Time, 1}, {"epoch", Time, 1}, {"unix*", Time, 1}, {"stamp", Time, 1}, {"clock", Time, 1},
}

// others are words of columns that are something else, whatever stands beside
// them: the voltage of a battery is no light.
var others = []string{"uv*", "batt*", "vbat*", "bat", "supply", "vcc", "wind*", "rain*", "co2", "eco2", "tvoc", "voc*", "gas", "alt*", "elev*", "height", "speed", "dir*",
	"soil", "moist*", "gain", "exposure", "sat*", "fix", "hdop", "id", "index", "seq*", "no", "nr", "millis*", "uptime", "ms", "boot", "rssi", "azimuth", "angle", "longwave", "lw", "lwd", "net", "diffuse", "reflected", "gamma", "heat", "ok", "status", "state", "flag*", "valid", "quality", "led", "on", "off", "noise", "sound", "accel*", "gyro*", "mag*", "nir", "ir", "infrared"}

// inner are words of temperatures that are not the air's.
var inner = []string{"cpu", "board", "internal", "chip", "rtc", "core", "case", "box", "dew", "dewpoint", "soil", "battery", "batt"}

// plain are headings that say nothing but that there is a reading.
var plain = []string{"value*", "reading*", "sensor*", "level", "data", "analog*", "a#", "ch#", "channel#", "signal", "output", "measurement", "amplitude", "v"}

func (w word) fits(token string) bool { return fitsWord(w.text, token) }

func fitsWord(pattern, token string) bool {
	if stem, open := strings.CutSuffix(pattern, "*"); open {
		return strings.HasPrefix(token, stem)
	}
	if stem, open := strings.CutSuffix(pattern, "#"); open {
		rest, ok := strings.CutPrefix(token, stem)
		return ok && strings.Trim(rest, "0123456789") == ""
	}
	return token == pattern
}

func anyOf(patterns, tokens []string) bool {
	for _, t := range tokens {
		for _, p := range patterns {
			if fitsWord(p, t) {
				return true
			}
		}
	}
	return false
}

// meaning is what a heading says of its column: a role and its rank, Skip where
// it says nothing; other where it says that it is something else.
func meaning(name string) (role Role, rank int, other bool) {
	ts := tokens(name)
	rank = 100
	for _, t := range ts {
		for _, w := range words {
			if w.fits(t) && w.rank < rank {
				role, rank = w.role, w.rank
			}
		}
	}
	if role == Skip || role == Light && rank > 5 {
		for _, unit := range []string{unitOf(name), name} {
			if r, n := meaningOfUnit(unit); r != Skip {
				role, rank = r, n
			}
		}
	}
	switch {
	case role == Temp && anyOf(inner, ts):
		rank += 5
	case role == Light && anyOf(others, ts):
		return Skip, 100, true
	case role == Skip:
		return Skip, 100, anyOf(others, ts)
	}
	return role, rank, false
}

// longHeading is longer than any heading; common practice, no source.
const longHeading = 80

// meaningOfUnit is what a unit says where no word does: degrees are those of a
// thermometer, watts a square metre those of light.
func meaningOfUnit(unit string) (Role, int) {
	u := strings.ToLower(strings.ReplaceAll(unit, " ", ""))
	for _, degrees := range []string{"°c", "℃", "ºc", "°f", "℉"} {
		if strings.HasSuffix(u, degrees) {
			return Temp, 3
		}
	}
	switch u {
	case "degc", "degf", "celsius":
		return Temp, 3
	case "w/m2", "w/m²", "w/m^2", "wm-2", "wm⁻²", "w.m-2", "lm/m2", "lm/m²", "lm/ft2", "lm/ft²":
		return Light, 5
	}
	return Skip, 100
}

// unitsOnly says that all cells are units, or dashes.
func unitsOnly(fields [][]byte) bool {
	for _, f := range fields {
		s := strings.ToLower(strings.Trim(heading(f), "()[]"))
		if !isFailure([]byte(s)) && units[s] == "" && !strings.ContainsAny(s, "/%°²") && !strings.Contains(s, ":mm") {
			return false
		}
	}
	return true
}

// tellsHeading says that one of the cells is a word for the time or for light.
func tellsHeading(fields [][]byte) bool { return tells(fields, Time) || tells(fields, Light) }

// tellsTime says that one of the cells is a word for the time.
func tellsTime(fields [][]byte) bool { return tells(fields, Time) }

func tells(fields [][]byte, role Role) bool {
	for _, f := range fields {
		if len(f) > longHeading {
			continue
		}
		if r, _, _ := meaning(heading(f)); r == role {
			return true
		}
	}
	return false
}

// units that stand behind a name without brackets.
var units = map[string]string{
	"lux": "lx", "lx": "lx", "klx": "klx", "c": "C", "degc": "C", "celsius": "C", "f": "F", "degf": "F", "k": "K", "hpa": "hPa", "pa": "Pa", "kpa": "kPa",
	"mbar": "mbar", "mb": "mbar", "mv": "mV", "v": "V", "volts": "V", "pct": "%", "percent": "%", "counts": "counts", "ms": "ms", "s": "s", "deg": "deg",
}

// unitOf takes the unit out of a heading: what stands in brackets, or a last word
// that is one.
func unitOf(name string) string {
	for _, pair := range []string{"()", "[]"} {
		if i := strings.IndexByte(name, pair[0]); i >= 0 {
			if j := strings.IndexByte(name[i:], pair[1]); j > 0 {
				return strings.TrimSpace(name[i+1 : i+j])
			}
		}
	}
	if strings.HasSuffix(name, "%") {
		return "%"
	}
	ts := tokens(name)
	if len(ts) == 0 || len(ts) == 1 && utf8.RuneCountInString(ts[0]) == 1 {
		return ""
	}
	return units[ts[len(ts)-1]]
}

func saysUTC(name string) bool { return anyOf([]string{"utc", "gmt"}, tokens(name)) }

var utcOffset = regexp.MustCompile(`(?i)(?:utc|gmt)\s*([-+−])\s*(\d{1,2})(?::?(\d\d))?`)

// zoneOf is the zone that a heading of the time tells, in seconds east of UTC.
func zoneOf(name string) (seconds int, ok bool) {
	m := utcOffset.FindStringSubmatch(name)
	if m == nil {
		return 0, saysUTC(name)
	}
	hours, _ := strconv.Atoi(m[2])
	minutes, _ := strconv.Atoi(m[3]) // none is 0
	seconds = 3600*hours + 60*minutes
	if m[1] != "+" {
		seconds = -seconds
	}
	return seconds, hours <= 18 && minutes < 60
}
