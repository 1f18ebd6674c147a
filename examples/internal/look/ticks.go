package look

import (
	"math"
	"strconv"
	"strings"
	"time"

	"gonum.org/v1/plot"
)

// Decades marks a logarithmic axis with plain numbers: the decades, and what lies
// between where there are few of them.
type Decades struct{}

// Ticks is for [plot.Axis]; low and high are above 0.
func (Decades) Ticks(low, high float64) []plot.Tick {
	wide := math.Log10(high / low)
	each := math.Ceil(wide / 8.5) // decades from number to number, so that long ones stay apart
	var out []plot.Tick
	for d := math.Floor(math.Log10(low)); d <= math.Log10(high); d++ {
		for k := 1.0; k < 10; k++ {
			v := k * math.Pow(10, d)
			if v < low || v > high {
				continue
			}
			label := ""
			if k == 1 && math.Mod(d, each) == 0 || wide < 2.5 && (k == 2 || k == 5) || wide < 1.2 && k != 7 && k != 9 {
				label = plain(v, max(0, -int(d)))
			}
			out = append(out, plot.Tick{Value: v, Label: label})
		}
	}
	return out
}

// plain writes a number with so many decimals and a comma at the thousands.
func plain(v float64, decimals int) string {
	s := Commas(strconv.FormatFloat(math.Abs(v), 'f', decimals, 64))
	if v < 0 && strings.ContainsAny(s, "123456789") {
		return "-" + s
	}
	return s
}

// Commas writes digits above 0, with decimals or without, with a comma at the thousands.
func Commas(digits string) string {
	whole, rest, broken := strings.Cut(digits, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if broken {
		whole += "." + rest
	}
	return whole
}

// Every marks an axis at the multiples of itself, which is above 0.
type Every float64

// Ticks is for [plot.Axis].
func (e Every) Ticks(low, high float64) []plot.Tick {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(float64(e), 'f', -1, 64), ".")
	return e.named(low, high, func(v float64) string { return plain(v, min(6, len(decimals))) })
}

func (e Every) named(low, high float64, name func(float64) string) (out []plot.Tick) {
	step := float64(e)
	for k := math.Ceil(low/step - 1e-9); k*step <= high+1e-9*step; k++ {
		out = append(out, plot.Tick{Value: k * step, Label: name(k * step)})
	}
	return out
}

// coarse is the first of the steps that marks a span with most of them or fewer.
func coarse(span float64, most int, steps ...float64) Every {
	for _, s := range steps {
		if span/s <= float64(most) {
			return Every(s)
		}
	}
	return Every(steps[len(steps)-1])
}

// Round marks an axis at round numbers, eight of them at most.
type Round struct{}

// Ticks is for [plot.Axis].
func (Round) Ticks(low, high float64) []plot.Tick {
	ten := math.Pow(10, math.Floor(math.Log10(high-low)))
	return coarse(high-low, 8, ten/5, ten/2, ten, 2*ten).Ticks(low, high)
}

// Clock marks an axis of [Seconds] with the time of day in UTC.
type Clock struct{}

// Ticks is for [plot.Axis].
func (Clock) Ticks(low, high float64) []plot.Tick {
	step := coarse(high-low, 8, 60, 120, 300, 600, 1800, 3600, 7200, 14400, 86400)
	return step.named(low, high, func(v float64) string { return time.Unix(int64(v), 0).UTC().Format("15:04") })
}

// Seconds is the place of an instant on an axis that Clock marks.
func Seconds(t time.Time) float64 { return float64(t.UnixNano()) * 1e-9 }

// Degrees marks an axis of latitude or longitude, past 180 as people say it.
type Degrees struct{}

// Ticks is for [plot.Axis].
func (Degrees) Ticks(low, high float64) []plot.Tick {
	return coarse(high-low, 9, 0.5, 1, 2, 5, 10, 15, 30, 60).named(low, high, func(v float64) string {
		if math.Abs(v) > 180 {
			v = math.Remainder(v, 360)
		}
		return strconv.FormatFloat(v+0, 'f', -1, 64) // no minus before 0
	})
}
