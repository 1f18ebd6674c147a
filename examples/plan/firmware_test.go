package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/sun/timescale"
	"github.com/stretchr/testify/require"
)

// firmwareSites are a total eclipse, a ring, a partial one, one that the Sun sets in, and
// a graze.
var firmwareSites = []struct {
	name, day string
	lat, lon  float64
	fine      bool
}{
	{"total", "2027-08-02", 36, -5.6, true},
	{"ring", "2028-01-26", 37.5, -5.6, true},
	{"partial", "2027-08-02", 51.5, -0.1, false},
	{"sunset", "2026-08-12", 40.8, 14.2, false},
	{"limit", "2027-08-02", 36.77, -5.6, true},
}

// The program that a logger would have, small: it answers each line "unix_s ms" with what
// a screen would show.
const screen = `#include <stdio.h>
#include "plan.h"
int main(void) {
	unsigned long s; unsigned ms;
	while (scanf("%lu %u", &s, &ms) == 2) {
		int32_t at = plan_ms((uint32_t)s, (uint16_t)ms);
		int i = plan_next(at);
		printf("%ld %ld %ld %s\n", (long)plan_obscuration(at), (long)plan_light(at), (long)plan_seconds(at), i < 0 ? "-" : plan_contact_name[i]);
	}
	return 0;
}
`

// screenOf compiles the header and asks the program for some instants.
func screenOf(t *testing.T, folder string, instants []time.Time) []string {
	t.Helper()
	cc, err := exec.LookPath("cc")
	if err != nil {
		t.Skip("no C compiler here")
	}
	source, program := filepath.Join(folder, "screen.c"), filepath.Join(folder, "screen")
	require.NoError(t, os.WriteFile(source, []byte(screen), 0o600))
	out, err := exec.Command(cc, "-std=c99", "-pedantic", "-Wall", "-Wextra", "-Werror", "-o", program, source).CombinedOutput()
	require.NoError(t, err, "%s", out)
	var in bytes.Buffer
	for _, at := range instants {
		fmt.Fprintln(&in, at.Unix(), at.Nanosecond()/1e6)
	}
	c := exec.Command(program)
	c.Stdin = &in
	out, err = c.Output()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, len(instants))
	return lines
}

// stated finds the errors that the header's comments promise, the coarse table's first.
func stated(t *testing.T, header string) (errors [][2]float64) {
	t.Helper()
	flat := strings.Join(strings.Fields(strings.ReplaceAll(header, " * ", " ")), " ")
	for _, m := range regexp.MustCompile(`within (\d+) units of obscuration and (\d+) of light`).FindAllStringSubmatch(flat, -1) {
		a, errA := strconv.ParseFloat(m[1], 64)
		b, errB := strconv.ParseFloat(m[2], 64)
		require.NoError(t, errA)
		require.NoError(t, errB)
		errors = append(errors, [2]float64{a, b})
	}
	return errors
}

// What a C compiler makes of the header is the library's curve, within the errors that
// the header states, at instants that are none of those at which they were measured.
func TestFirmwareInC(t *testing.T) {
	for _, tt := range firmwareSites {
		t.Run(tt.name, func(t *testing.T) {
			folder := t.TempDir()
			answerOf(t, "-site", fmt.Sprintf("%g,%g,10", tt.lat, tt.lon), "-date", tt.day, "-out", folder, "-firmware")
			header, err := os.ReadFile(filepath.Join(folder, "plan.h"))
			require.NoError(t, err)
			p := planned(t, tt.day, tt.lat, tt.lon, cli.Real)
			f, err := p.compile()
			require.NoError(t, err)
			limits := stated(t, string(header))
			if (f.fine != nil) != tt.fine || len(limits) != 1 && !tt.fine || len(limits) != 2 && tt.fine {
				t.Fatalf("%d errors are stated, a finer table: %t", len(limits), f.fine != nil)
			}
			var instants []time.Time
			end := f.coarse.end()
			for d := time.Duration(0); d < end; d += 1733 * time.Millisecond {
				instants = append(instants, f.epoch.Add(d))
			}
			light, err := p.curve(p.edge.moon.Observer())
			require.NoError(t, err)
			for i, line := range screenOf(t, folder, instants) {
				var obscuration, lux float64
				var seconds int
				var next string
				_, err := fmt.Sscan(line, &obscuration, &lux, &seconds, &next)
				require.NoError(t, err)
				at := instants[i].Sub(f.epoch)
				limit := limits[0]
				if f.fine != nil && at >= f.fine.begin && at < f.fine.end() {
					limit = limits[1]
				}
				pt := light.At(p.edge.moon.Observer().Scale().TT(f.epoch) + timescale.TT(at.Seconds()))
				if d := math.Abs(obscuration - 1e4*pt.Obscuration); !(d <= limit[0]) {
					t.Fatalf("%v: obscuration %g, want %.2f within %g", instants[i], obscuration, 1e4*pt.Obscuration, limit[0])
				}
				if d := math.Abs(lux - 1000*math.Log10(pt.Lux)); !(d <= limit[1]) {
					t.Fatalf("%v: light %g, want %.2f within %g", instants[i], lux, 1000*math.Log10(pt.Lux), limit[1])
				}
				wantNext, wantSeconds := "-", -1
				for _, c := range p.moments(p.advice().second, p.advice().third) {
					if left := c.UTC.Truncate(time.Millisecond).Sub(instants[i]); left >= 0 {
						wantNext, wantSeconds = c.name, int(left.Seconds())
						break
					}
				}
				if next != wantNext || seconds != wantSeconds {
					t.Fatalf("%v: next %s in %d s, want %s in %d s", instants[i], next, seconds, wantNext, wantSeconds)
				}
			}
		})
	}
}

// C++ takes the header as well, where there is a compiler of it.
func TestFirmwareInCxx(t *testing.T) {
	cxx, err := exec.LookPath("c++")
	if err != nil {
		t.Skip("no C++ compiler here")
	}
	folder := t.TempDir()
	answerOf(t, "-out", folder, "-firmware")
	source := filepath.Join(folder, "screen.cpp")
	require.NoError(t, os.WriteFile(source, []byte(screen), 0o600))
	out, err := exec.Command(cxx, "-std=c++11", "-Wall", "-Wextra", "-Werror", "-fsyntax-only", source).CombinedOutput()
	require.NoError(t, err, "%s", out)
}

// A clock that was never set, or one a year on, gets no number and no overflow.
func TestFirmwareOutside(t *testing.T) {
	folder := t.TempDir()
	answerOf(t, "-out", folder, "-firmware")
	f, err := planned(t, "2027-08-02", 36, -5.6, cli.Real).compile()
	require.NoError(t, err)
	lines := screenOf(t, folder, []time.Time{time.Unix(0, 0), f.epoch.Add(-time.Millisecond), f.epoch.Add(f.coarse.end() + time.Millisecond), f.epoch.AddDate(1, 0, 0)})
	for i, line := range lines {
		if !strings.HasPrefix(line, "-32768 -32768 ") || strings.HasSuffix(line, "-1 -") != (i >= 2) {
			t.Errorf("instant %d: %s", i, line)
		}
	}
}

// The errors are small enough for a screen: half a per cent of the Sun, and outside of the
// central phase a tenth of the light. The size fits into a small part.
func TestFirmwareIsFine(t *testing.T) {
	for _, tt := range firmwareSites {
		f, err := planned(t, tt.day, tt.lat, tt.lon, cli.Real).compile()
		require.NoError(t, err)
		t.Logf("%s: %d bytes, coarse %.2f, %.2f", tt.name, f.size(), f.coarse.obscurationErr, f.coarse.lightErr)
		if !(f.coarse.obscurationErr < 50 && f.coarse.lightErr < 41 && f.size() < 8192) {
			t.Errorf("%s: %g of obscuration, %g of light, %d bytes", tt.name, f.coarse.obscurationErr, f.coarse.lightErr, f.size())
		}
		if f.fine != nil {
			t.Logf("fine %.2f, %.2f", f.fine.obscurationErr, f.fine.lightErr)
		}
	}
}

// The CSV has the header's rows, in order of time.
func TestFirmwareCSV(t *testing.T) {
	for _, tt := range firmwareSites {
		p := planned(t, tt.day, tt.lat, tt.lon, cli.Real)
		var err error
		p.compiled, err = p.compile()
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, p.writeTable(&b))
		r := csv.NewReader(&b)
		r.Comment = '#'
		rows, err := r.ReadAll()
		require.NoError(t, err)
		before := -1
		for _, row := range rows[1:] {
			ms, err := strconv.Atoi(row[0])
			require.NoError(t, err)
			if ms <= before {
				t.Fatalf("%s: %d ms after %d ms", tt.name, ms, before)
			}
			before = ms
			at := time.Duration(ms) * time.Millisecond
			g := &p.compiled.coarse
			if p.compiled.fine != nil && at >= p.compiled.fine.begin && at <= p.compiled.fine.end() {
				g = p.compiled.fine
			}
			if o, l := g.read(g.obscuration, at), g.read(g.light, at); row[1] != strconv.Itoa(o) || row[2] != strconv.Itoa(l) {
				t.Fatalf("%s: %v, want %d and %d", tt.name, row, o, l)
			}
		}
		if before != int(p.compiled.coarse.end().Milliseconds()) {
			t.Errorf("%s: ends at %d ms", tt.name, before)
		}
	}
}

// Nothing to record makes no table; a table needs a folder.
func TestFirmwareWithout(t *testing.T) {
	folder := t.TempDir()
	text, _ := answerOf(t, "-site", "-70,100", "-out", folder, "-firmware")
	if !strings.Contains(text, "no plan.h and plan.csv are written") {
		t.Errorf("nothing is said of it:\n%s", text)
	}
	if _, err := os.Stat(filepath.Join(folder, "plan.h")); err == nil {
		t.Error("a table without an eclipse")
	}
	err := run(t.Context(), &bytes.Buffer{}, []string{"-firmware"})
	if cli.Status(err) != 2 {
		t.Errorf("%v, want status 2", err)
	}
}
