package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/golden"
)

// regen says that the golden files and the demo are to be written anew; the flag is package
// golden's.
func regen() bool { return flag.Lookup("regen").Value.String() == "true" }

// reply is a line of the JSON form.
type reply struct {
	ID         *string
	Quantity   string
	Claimed    any
	Computed   any
	Difference *float64
	Unit       *string
	Verdict    string
	Tolerance  *float64
	Scale      *string
	Reason     *string
	Line       int
	Limb       *string
}

func check(t testing.TB, args ...string) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, run(context.Background(), &b, args))
	return b.String()
}

// replies checks a claims file with this content.
func replies(t testing.TB, content string, args ...string) []reply {
	t.Helper()
	return parsed(t, check(t, append([]string{"-json", "-claims", written(t, content)}, args...)...))
}

// written makes a claims file and returns its path.
func written(t testing.TB, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "claims.csv")
	require.NoError(t, os.WriteFile(path, []byte(content), 0o666))
	return path
}

func parsed(t testing.TB, lines string) (all []reply) {
	t.Helper()
	for l := range strings.Lines(lines) {
		var r reply
		require.NoError(t, json.Unmarshal([]byte(l), &r), l)
		all = append(all, r)
	}
	return all
}

// Goldens guard words and layout; the numbers are tested in published_test.go. The lines of
// the JSON form are kept as one array.
func TestGolden(t *testing.T) {
	golden.Page(t, filepath.Join("testdata", "demo.txt"), check(t))
	lines := strings.TrimRight(check(t, "-json"), "\n")
	golden.JSON(t, filepath.Join("testdata", "demo.json"), "[\n"+strings.ReplaceAll(lines, "\n", ",\n")+"\n]\n", 1e-5)
}

func TestMistakes(t *testing.T) {
	for _, args := range [][]string{{"-nosuchflag"}, {"-limb", "smooth"}, {"-limb", ""}, {"claims.csv"}, {"-claims", ""}, {"-deltat", "x"}} {
		err := run(context.Background(), &bytes.Buffer{}, args)
		if cli.Status(err) != 2 || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v with status %d, want one line and 2", args, err, cli.Status(err))
		}
	}
}

func TestFileErrors(t *testing.T) {
	folder := t.TempDir()
	for content, want := range map[string]string{
		"":   "empty",
		"\n": "lacks",
		"id;date;lat_deg;lon_deg;quantity;value\n":          "commas",
		"date,lat_deg,lon_deg,quantity\n":                   "lacks value",
		"date,lat_deg,lon_deg,quantity,value,Date\n":        "date is there twice",
		"date,lat_deg,lon_deg,quantity,\"value\n":           "header",
		"date,lat_deg,lon_deg,quantity,value\r1999-08-11\r": "CR",
	} {
		path := filepath.Join(folder, "claims.csv")
		require.NoError(t, os.WriteFile(path, []byte(content), 0o666))
		err := run(context.Background(), io.Discard, []string{"-claims", path})
		if cli.Status(err) != 1 || !strings.Contains(err.Error(), "claims.csv") || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v with status %d, want 1, the file's name and %q", content, err, cli.Status(err), want)
		}
	}
	err := run(context.Background(), io.Discard, []string{"-claims", filepath.Join(folder, "nowhere.csv")})
	if cli.Status(err) != 1 || !strings.Contains(err.Error(), "nowhere.csv") {
		t.Errorf("no such file: %v with status %d, want 1 and its name", err, cli.Status(err))
	}
	if err := run(context.Background(), io.Discard, []string{"-claims", folder}); cli.Status(err) != 1 {
		t.Errorf("a folder: %v with status %d, want 1", err, cli.Status(err))
	}
}

func TestOut(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	text, lines := check(t, "-out", folder), check(t, "-json")
	for name, want := range map[string]string{"check.txt": text, "check.jsonl": lines} {
		got, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		if string(got) != want {
			t.Errorf("%s is not what was printed", name)
		}
	}
	if again := check(t, "-json", "-out", folder); again != lines {
		t.Errorf("-json with -out prints another answer")
	}
}

// Where claims are many the text shows those that do not agree, each reason once.
func TestManyClaims(t *testing.T) {
	path := filepath.Join(t.TempDir(), "claims.csv")
	require.NoError(t, os.WriteFile(path, []byte(header+strings.Repeat(osloC1, shown)+
		strings.Repeat("nowhere,1999-08-11,-70,100,0,,,c1,1999-08-11T10:35:00Z,\n", shown+7)), 0o666))
	text := check(t, "-claims", path)
	for want, n := range map[string]int{
		"87 claims": 1, "40  agrees ": 1, "47  no-such-event ": 1, "\n  oslo ": 0, "\n  nowhere ": shown, "and 7 more; -json": 1,
		"nowhere, nowhere, nowhere and 37 more: the Moon's shadow passes": 1, "c1     s      40     40": 1,
	} {
		if got := strings.Count(text, want); got != n {
			t.Errorf("%q is there %d times, want %d:\n%s", want, got, n, text)
		}
	}
}

// What comes from a file cannot write over the screen.
func TestClip(t *testing.T) {
	for s, want := range map[string]string{"a\x1b[2Jb": "a [2Jb", "Besançon": "Besançon", "0123456789": "01234..."} {
		if got := clip(s, 8); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

// What was answered before the file broke is printed.
func TestAnswersBeforeAFailure(t *testing.T) {
	broken := io.MultiReader(strings.NewReader(header+osloC1), iotest.ErrReader(io.ErrUnexpectedEOF))
	opt := settings{Common: cli.Common{JSON: true}}
	c, err := newChecker(&source{ReadCloser: io.NopCloser(broken), name: "claims.csv"}, &opt)
	require.NoError(t, err)
	var b bytes.Buffer
	err = answer(context.Background(), &b, c, &opt)
	if got := parsed(t, b.String()); cli.Status(err) != 1 || len(got) != 1 || got[0].Verdict != "agrees" {
		t.Errorf("%v and %+v, want an error and one answer", err, got)
	}
}

// A cancelled run stops at the next claim.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := run(ctx, io.Discard, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want context.Canceled", err)
	}
}
