package station

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A madeUp is a log whose health is known from how it was made: the clear sky's light
// on an invented day at an invented site, through a made-up sensor.
type madeUp struct {
	day      time.Time                               // midnight UTC
	from, to time.Duration                           // since then
	every    time.Duration                           //
	noise    float64                                 // relative, normal
	reading  func(lux float64, i int) float64        // what the sensor makes of it; nil for lux with three decimals
	stamp    func(t time.Time, i int) string         // nil for RFC 3339 UTC
	line     func(stamp, value string, i int) string // nil for both with a comma
	header   string                                  // "time,light" if empty
	chain    *sensor.Chain
	eclipse  string // the station's date if not the log's
}

// quietDay has no eclipse within a day; site has the Sun 55 degrees up at its noon.
var (
	quietDay = time.Date(2027, 9, 20, 0, 0, 0, 0, time.UTC)
	yard     = Site{Lat: 36, Lon: -5.6, Height: 10}
)

// text makes the log, and the light of each line.
func (m madeUp) text(t testing.TB) (string, []sun.Horizontal) {
	t.Helper()
	o, err := sun.NewObserver(yard.Sun(), timescale.Scale{})
	require.NoError(t, err)
	day, err := o.Day(m.day.Add(12 * time.Hour))
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	header := m.header
	if header == "" {
		header = "time,light"
	}
	fmt.Fprintln(&b, header)
	var suns []sun.Horizontal
	for i, at := 0, m.from; at < m.to; i, at = i+1, at+m.every {
		when := m.day.Add(at)
		h := day.Position(timescale.Scale{}.TT(when))
		suns = append(suns, h)
		lux := sun.Sky{}.Illuminance(h.Alt, h.Distance).Global * math.Exp(m.noise*rng.NormFloat64())
		stamp, value := when.Format(time.RFC3339), fmt.Sprintf("%.3f", lux)
		if m.reading != nil {
			value = fmt.Sprintf("%g", m.reading(lux, i))
		}
		if m.stamp != nil {
			stamp = m.stamp(when, i)
		}
		line := stamp + "," + value + "\n"
		if m.line != nil {
			line = m.line(stamp, value, i)
		}
		b.WriteString(line)
	}
	return b.String(), suns
}

// reduce is the whole way: the text through Reduce.
func (m madeUp) reduce(t *testing.T) (*Report, []sun.Horizontal) {
	t.Helper()
	text, suns := m.text(t)
	s := &Station{Version: Version, Code: "MADE-UP", Site: yard, Eclipse: m.day.Format(time.DateOnly), Chain: m.chain}
	if m.eclipse != "" {
		s.Eclipse = m.eclipse
	}
	rep, err := Reduce(context.Background(), s, FilesIn(fstest.MapFS{"a.csv": {Data: []byte(text)}}, "a.csv"), Options{})
	require.NoError(t, err)
	return rep, suns
}

// wholeDay is the clean log, to be varied.
func wholeDay() madeUp {
	return madeUp{day: quietDay, from: 4 * time.Hour, to: 20 * time.Hour, every: 2 * time.Second, noise: 0.003}
}

// counts is an integer converter with a full scale.
func counts(luxPerCount, full float64) func(float64, int) float64 {
	return func(lux float64, _ int) float64 { return math.Min(full, math.Round(lux/luxPerCount)) }
}
