package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"github.com/stretchr/testify/require"
)

func parse(args ...string) (Common, error) {
	fs, c := NewFlagSet("test", "for the test"), Scenario()
	c.Register(fs)
	err := Parse(fs, args, io.Discard)
	return c, err
}

func TestFlagsAreRead(t *testing.T) {
	c, err := parse("-site", "-70,100", "-date", "1999-08-11", "-deltat", "-2.5", "-limb", "mean", "-json", "-out", "x")
	require.NoError(t, err)
	if want := (sun.Site{Lat: -70, Lon: 100}); c.Site != want {
		t.Errorf("site %+v, want %+v: the default's height must not stay", c.Site, want)
	}
	if want := time.Date(1999, 8, 11, 0, 0, 0, 0, time.UTC); !c.Date.Equal(want) {
		t.Errorf("date %v, want %v", c.Date, want)
	}
	if got := c.Scale(); got != timescale.FixedDeltaT(-2.5) {
		t.Errorf("scale %+v, want a fixed Delta T of -2.5 s", got)
	}
	if !c.JSON || c.Out != "x" {
		t.Errorf("json %t out %q, want true and x", c.JSON, c.Out)
	}
	if c, err = parse(); err != nil || c.Scale() != (timescale.Scale{}) {
		t.Errorf("without flags: scale %+v, error %v, want the library's own", c.Scale(), err)
	}
}

func TestMistakesAreUsageErrors(t *testing.T) {
	for _, args := range [][]string{
		{"-nosuchflag"}, {"-site"}, {"-site", ""}, {"-site", "36"}, {"-site", "36,-5,6,7"},
		{"-site", "36;5"}, {"-site", "91,0"}, {"-site", "NaN,0"}, {"-site", "0,361"}, {"-site", "0,0,9001"},
		{"-site", "36,0,inf"}, {"-date", "yesterday"}, {"-date", "2027-02-30"}, {"-date", "02.08.2027"},
		{"-deltat", "x"}, {"-deltat", "NaN"}, {"-deltat", "1e6"}, {"-limb", "none"}, {"-limb", ""}, {"-json=2"},
	} {
		_, err := parse(args...)
		if Status(err) != 2 {
			t.Errorf("%q: status %d (%v), want 2", args, Status(err), err)
			continue
		}
		if !strings.Contains(err.Error(), strings.SplitN(args[0], "=", 2)[0]) {
			t.Errorf("%q: %q does not name the flag", args, err)
		}
	}
}

func TestLimb(t *testing.T) {
	for _, tt := range []struct {
		before    Limb
		args      []string
		want      Limb
		forbidden bool
	}{
		{args: []string{"-limb", "real"}, want: Real},
		{before: Real, args: []string{"-limb", "mean"}, want: Mean},
		{before: Real, want: Real},
		{args: []string{"-limb", "Real"}, forbidden: true},
		{args: []string{"-limb", ""}, forbidden: true},
		{args: []string{"-limb", "mean"}, want: Mean},
	} {
		fs, c := NewFlagSet("test", "for the test"), Scenario()
		c.Limb = tt.before
		c.Register(fs)
		err := Parse(fs, tt.args, io.Discard)
		if tt.forbidden {
			if Status(err) != 2 || !strings.Contains(err.Error(), "-limb") {
				t.Errorf("%q: %v with status %d, want 2 and the flag's name", tt.args, err, Status(err))
			}
		} else if err != nil || c.Limb != tt.want {
			t.Errorf("%q: %v, %v, want %v", tt.args, c.Limb, err, tt.want)
		}
		if shown := fs.Lookup("limb").DefValue; shown != tt.before.String() {
			t.Errorf("help shows the default %q, want %q", shown, tt.before)
		}
	}
}

func TestWrap(t *testing.T) {
	text := strings.Repeat("light of the Sun ", 30)
	got := Wrap(text, "- ", "  ")
	lines := strings.Split(got, "\n")
	for i, line := range lines[:len(lines)-1] {
		if want := [...]string{"- ", "  "}[min(i, 1)]; !strings.HasPrefix(line, want) || len(line) > width || len(line) < width-10 && i < len(lines)-2 {
			t.Errorf("line %d is %q", i+1, line)
		}
	}
	if words := strings.Join(strings.Fields(got), " "); len(lines) < 5 || words != "- "+strings.TrimSpace(text) {
		t.Errorf("%d lines with the words %q", len(lines), words)
	}
	if got := Wrap("", "- ", "  "); got != "- \n" {
		t.Errorf("nothing: %q", got)
	}
}

func TestStop(t *testing.T) {
	for text, want := range map[string]string{"light": "light.", "is the day right?": "is the day right?", "so.": "so.", "": "."} {
		if got := Stop(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestReport(t *testing.T) {
	for _, tt := range []struct {
		err    error
		status int
		text   string
	}{
		{nil, 0, ""},
		{flag.ErrHelp, 0, ""},
		{io.ErrUnexpectedEOF, 1, "plan: unexpected EOF\n"},
		{fmt.Errorf("at the door: %w", Usagef("no %s", "key")), 2, "plan: at the door: no key\n"},
		{errors.Join(io.EOF, io.ErrClosedPipe), 1, "plan: EOF; io: read/write on closed pipe\n"},
	} {
		var b bytes.Buffer
		if got := report(&b, "plan", tt.err); got != tt.status || b.String() != tt.text {
			t.Errorf("%v: status %d %q, want %d %q", tt.err, got, b.String(), tt.status, tt.text)
		}
	}
}

func TestHelpListsTheFlags(t *testing.T) {
	fs, c := NewFlagSet("plan", "what happens at a site"), Scenario()
	c.Register(fs)
	var b bytes.Buffer
	if err := Parse(fs, []string{"-h"}, &b); !errors.Is(err, flag.ErrHelp) {
		t.Fatalf("error %v, want flag.ErrHelp", err)
	}
	for _, want := range []string{"what happens at a site", "-site", "36,-5.6,10", "-date", "2027-08-02", "-deltat", "-limb", "-json", "-out"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("help lacks %q:\n%s", want, b.String())
		}
	}
}

func TestJSON(t *testing.T) {
	madrid := time.FixedZone("", 7200)
	for _, tt := range []struct {
		v    any
		want string
	}{
		{Instant{}, "null"},
		{Instant(time.Date(2027, 8, 2, 8, 43, 7, 0, time.UTC)), `"2027-08-02T08:43:07.000Z"`},
		{Instant(time.Date(2027, 8, 2, 10, 43, 7, 999_600_000, madrid)), `"2027-08-02T08:43:08.000Z"`},
		{Number(math.NaN()), "null"},
		{Number(math.Inf(-1)), "null"},
		{Number(math.Copysign(0, -1)), "0"},
		{Number(-1e-9), "0"},
		{Number(1.07654321), "1.076543"},
		{Number(-5.6), "-5.6"},
		{Number(math.MaxFloat64), ""}, // only that it is a number
	} {
		got, err := json.Marshal(tt.v)
		require.NoError(t, err)
		if tt.want != "" && string(got) != tt.want {
			t.Errorf("%v: %s, want %s", tt.v, got, tt.want)
		}
	}
}

func TestWriteFileMakesTheFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "a", "b")
	err := WriteFile(folder, "x.txt", func(w io.Writer) error {
		_, err := io.WriteString(w, "light\n")
		return err
	})
	require.NoError(t, err)
	got, err := os.ReadFile(filepath.Join(folder, "x.txt"))
	require.NoError(t, err)
	if string(got) != "light\n" {
		t.Errorf("wrote %q", got)
	}
	err = WriteFile(folder, "y.txt", func(io.Writer) error { return io.ErrShortWrite })
	if !errors.Is(err, io.ErrShortWrite) || !strings.Contains(err.Error(), "y.txt") {
		t.Errorf("error %v, want the cause and the file's name", err)
	}
}

func TestGenerator(t *testing.T) {
	made := map[string][]byte{"a.txt": []byte("light"), "b/c/d.txt": []byte("shade")}
	run := Generator("test", func(context.Context) (map[string][]byte, error) { return made, nil })
	folder := filepath.Join(t.TempDir(), "new")
	require.NoError(t, run(context.Background(), io.Discard, []string{"-out", folder}))
	for name, want := range made {
		got, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(name)))
		require.NoError(t, err)
		if string(got) != string(want) {
			t.Errorf("%s holds %q, want %q", name, got, want)
		}
	}
	for _, args := range [][]string{nil, {"-out", ""}, {"-out", folder, "more"}, {"-in", folder}} {
		if err := run(context.Background(), io.Discard, args); Status(err) != 2 {
			t.Errorf("%q: %v, want a mistake in the flags", args, err)
		}
	}
	fails := Generator("test", func(context.Context) (map[string][]byte, error) { return nil, io.ErrShortWrite })
	if err := fails(context.Background(), io.Discard, []string{"-out", folder}); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("%v, want what the files ended with", err)
	}
}
