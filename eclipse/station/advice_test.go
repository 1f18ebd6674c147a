package station

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/sensor"
)

// The health of a log that is wrong in one way each.
func TestAdvice(t *testing.T) {
	fired := map[string]bool{}
	for _, tt := range sickLogs {
		t.Run(tt.name, func(t *testing.T) {
			m := wholeDay()
			tt.change(&m)
			rep, _ := m.reduce(t)
			h := &rep.Health
			if got := fires(h); !slices.Equal(got, tt.rules) {
				t.Errorf("advice %q, want %q; %+v", got, tt.rules, h.Advice)
			}
			for _, a := range h.Advice {
				fired[a.Rule] = true
				if strings.Contains(a.Text, "%!") || strings.Contains(a.Text, "NaN") || strings.Contains(a.Text, "\n") || a.Source == "" {
					t.Errorf("%+v", a)
				}
				if tt.words != "" && !strings.Contains(h.Advice[0].Text, tt.words) {
					t.Errorf("%q lacks %q", h.Advice[0].Text, tt.words)
				}
			}
			if tt.check != nil {
				tt.check(t, h)
			}
			text, err := json.Marshal(h)
			require.NoError(t, err)
			var back Health
			require.NoError(t, json.Unmarshal(text, &back))
			again, err := json.Marshal(&back)
			require.NoError(t, err)
			if string(text) != string(again) {
				t.Errorf("JSON does not come back the same:\n%s\n%s", text, again)
			}
		})
	}
	for _, r := range rules {
		if !fired[r.name] {
			t.Errorf("no log made rule %q fire", r.name)
		}
	}
}

type sickLog struct {
	name   string
	change func(*madeUp)
	rules  []string
	words  string // of the first advice
	check  func(*testing.T, *Health)
}

func keep(stamp, value string) string { return stamp + "," + value + "\n" }

var sickLogs = []sickLog{
	{name: "empty file", change: func(m *madeUp) { m.to = m.from }, rules: []string{"nothing-read"}},
	{name: "too short", change: func(m *madeUp) { m.from, m.to = 12*time.Hour, 12*time.Hour+time.Minute }, rules: []string{"short"}, words: "30 samples"},
	{name: "flat", change: func(m *madeUp) { m.reading = func(float64, int) float64 { return 512 } },
		rules: []string{"flat", "night-light"}, words: "0 % in 16.0 h",
		check: func(t *testing.T, h *Health) {
			if h.Ceiling != nil || h.Range.Distinct != 1 {
				t.Errorf("ceiling %+v, %d numbers", h.Ceiling, h.Range.Distinct)
			}
		}},
	{name: "most without light", change: func(m *madeUp) {
		m.line = func(stamp, value string, i int) string {
			if i%5 < 3 {
				value = ""
			}
			return keep(stamp, value)
		}
	}, rules: []string{"no-light"}, words: "60 %"},
	{name: "some without light", change: func(m *madeUp) {
		m.line = func(stamp, value string, i int) string {
			if i%40 == 7 {
				value = "nan"
			}
			return keep(stamp, value)
		}
	}, rules: []string{"some-light-missing"}, words: "2.5 %"},
	{name: "unset clock", change: func(m *madeUp) {
		m.stamp = func(t time.Time, i int) string {
			if i < 50 || i >= 15000 && i < 15030 {
				t = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(i%15000) * 2 * time.Second)
			}
			return t.Format(time.RFC3339)
		}
	}, rules: []string{"unset-clock"}, words: "80 records carry",
		check: func(t *testing.T, h *Health) { // the step that set it puts it right
			if h.Clock.UnsetRecords != 80 || h.Clock.UnsetSpells != 2 || h.Clock.MendedRecords != 80 || h.Samples != 28800 || h.Gaps.Count != 0 {
				t.Errorf("%+v, %d samples, %+v", h.Clock, h.Samples, h.Gaps)
			}
			if h.Clock.Events["reset"] != 1 || h.Clock.Events["set"] != 2 {
				t.Errorf("events %v, made with a reset and two settings", h.Clock.Events)
			}
		}},
	{name: "clock never set", change: func(m *madeUp) {
		m.to = m.from + time.Hour
		m.stamp = func(_ time.Time, i int) string {
			return time.Date(2000, 1, 1, 0, 0, 2*i, 0, time.UTC).Format(time.RFC3339)
		}
	}, rules: []string{"unset-clock"}, words: "1800 records carry",
		check: func(t *testing.T, h *Health) {
			if h.Clock.UnsetRecords != 1800 || h.Clock.MendedRecords != 0 || h.Samples != 0 || h.Range != nil {
				t.Errorf("%+v, %d samples, %+v", h.Clock, h.Samples, h.Range)
			}
		}},
	{name: "by night only", change: func(m *madeUp) { m.from, m.to = 20*time.Hour, 23*time.Hour },
		rules: []string{"flat", "no-daylight"},
		check: func(t *testing.T, h *Health) {
			if h.Sky.DaySamples != 0 || h.Sky.NightSamples != h.Samples {
				t.Errorf("%+v of %d", h.Sky, h.Samples)
			}
		}},
	{name: "saturated", change: func(m *madeUp) { m.reading = counts(10, 4095) }, rules: []string{"saturated", "twilight-lost"}, words: "full Sun into range"},
	{name: "too dark", change: func(m *madeUp) { m.reading = counts(2, 65535) }, rules: []string{"twilight-lost"}, words: "2 steps above darkness"},
	{name: "dark by day", change: func(m *madeUp) {
		m.reading = func(lux float64, i int) float64 {
			if i >= 14000 && i < 14020 || lux < 0.01 {
				return 0
			}
			return math.Round(10*lux) / 10
		}
	}, rules: []string{"dark-by-day"}, words: "20 samples"},
	{name: "a chain that ends too soon", change: func(m *madeUp) { m.chain = dimChain(); m.reading = dimReading },
		rules: []string{"saturated", "dark-limit"}, words: "a load of 680 ohm instead of 1000"},
	{name: "light in totality", change: func(m *madeUp) {
		m.day, m.from, m.to, m.every, m.header = time.Date(2027, 8, 2, 0, 0, 0, 0, time.UTC), 7*time.Hour, 10*time.Hour+20*time.Minute, 2*time.Second, "time,light (lx)"
		m.reading = func(lux float64, i int) float64 {
			at := float64(2*i) + 7*3600 - (8*3600 + 47*60 + 28)                                 // from maximum, by package eclipse
			return math.Round(10*(80+lux*math.Min(1, math.Max(0, math.Abs(at)-140)/4000))) / 10 // totality is 280 s
		}
	}, rules: []string{"totality-bright", "dark-by-day"}, words: "it still read 8"},
	{name: "a lamp that burns day and night", change: func(m *madeUp) {
		m.header, m.reading = "time,lux", func(_ float64, i int) float64 { return math.Round(300 + 20*math.Sin(float64(i)/900)) }
	}, rules: []string{"night-light", "dim"}, words: "a lamp near"},
	{name: "a lamp of office hours", change: func(m *madeUp) {
		m.header, m.reading = "time,lux", func(_ float64, i int) float64 {
			if i < 5400 || i > 23400 { // 07:00 to 17:00
				return 0
			}
			return math.Round(300 + 20*math.Sin(float64(i)/900))
		}
	}, rules: []string{"twilight-lost", "dark-by-day", "dim"}},
	{name: "reading that falls as light grows", change: func(m *madeUp) {
		m.reading = func(lux float64, _ int) float64 { return math.Round(4000 / (1 + math.Pow(lux/1000, 0.7))) }
	}, rules: []string{"inverted"}, words: "more by night than by day"},
	{name: "clock five hours slow", change: func(m *madeUp) {
		m.stamp = func(t time.Time, _ int) string { return t.Add(-5 * time.Hour).Format(time.RFC3339) }
	}, rules: []string{"night-light", "noon"}},
	{name: "an hour's zone forgotten", change: func(m *madeUp) {
		m.stamp = func(t time.Time, _ int) string { return t.Add(time.Hour).Format("2006-01-02 15:04:05") }
	}, rules: []string{"noon", "no-zone"}, words: "60 min after"},
	{name: "clock set back while it logs", change: func(m *madeUp) {
		m.stamp = func(t time.Time, i int) string {
			if i >= 10000 {
				t = t.Add(-101 * time.Second)
			}
			return t.Format(time.RFC3339)
		}
	}, rules: []string{"clock-back"}, words: "went back once"},
	{name: "set back, so that stamps come twice", change: func(m *madeUp) {
		m.stamp = func(t time.Time, i int) string { // 900 of 28,800 stamps come twice
			if i >= 10000 {
				t = t.Add(-30 * time.Minute)
			}
			return t.Format(time.RFC3339)
		}
	}, rules: []string{"clock-back"}},
	{name: "slow cadence", change: func(m *madeUp) { m.every = 24 * time.Second }, rules: []string{"cadence"}, words: "would get 5 of them"},
	{name: "gappy", change: func(m *madeUp) {
		m.line = func(stamp, value string, i int) string {
			for _, hole := range [][2]int{{3000, 3045}, {9000, 9087}, {20000, 20200}} { // 92, 176 and 402 s
				if i >= hole[0] && i < hole[1] {
					return ""
				}
			}
			return keep(stamp, value)
		}
	}, rules: []string{"gaps"}, words: "3 gaps, the longest of 402 s: a totality of 120 s can",
		check: func(t *testing.T, h *Health) {
			near(t, "total", h.Gaps.TotalS, 92+176+402, 0.1)
			near(t, "missed", h.Steps.MissedShare, 0, 0)
		}},
	{name: "samples left out", change: func(m *madeUp) {
		m.line = func(stamp, value string, i int) string {
			if i%20 == 11 {
				return ""
			}
			return keep(stamp, value)
		}
	}, rules: []string{"missed"}, words: "5 %"},
	{name: "torn lines", change: func(m *madeUp) {
		m.line = func(stamp, value string, i int) string {
			if i%50 == 31 {
				return stamp[:12] + "\n" + keep(stamp, value)
			}
			return keep(stamp, value)
		}
	}, rules: []string{"refused"}, words: "2 %"},
	{name: "stamps of whole minutes", change: func(m *madeUp) {
		m.stamp = func(t time.Time, i int) string { return t.Truncate(4 * time.Second).Format(time.RFC3339) }
	}, rules: []string{"cadence", "repeats"}},
	{name: "noisy", change: func(m *madeUp) { m.noise = 0.05 }, rules: []string{"noise"},
		check: func(t *testing.T, h *Health) { near(t, "noise", h.Noise.Bright.Relative, 0.05, 0.006) }},
	{name: "coarse", change: func(m *madeUp) { m.reading = counts(2000, 255) }, rules: []string{"twilight-lost", "coarse"}},
}

// dimChain reads from 40 to 20,000 lx or so, by a load too large for the Sun and dead
// zones that are wide.
func dimChain() *sensor.Chain {
	return &sensor.Chain{
		ADC:     sensor.ADC{Bits: 12, Ratiometric: true, DeadLow: 0.2, DeadHigh: 0.05},
		Divider: &sensor.Divider{Wiring: "cell-on-top", SupplyV: 3.3, LoadOhm: 1000, Cell: sensor.Photoresistor{R10Ohm: 12000, Gamma: 0.65}},
	}
}

func dimReading(lux float64, _ int) float64 {
	c, err := dimChain().Compile()
	if err != nil {
		return math.NaN()
	}
	return math.Round(c.Counts(lux))
}
