package references

import (
	"compress/gzip"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// A failing test ends where it fails and keeps what it said.
type failing struct {
	testing.TB
	said string
}

func (f *failing) Helper() {}

func (f *failing) Fatalf(format string, args ...any) {
	f.said = fmt.Sprintf(format, args...)
	runtime.Goexit()
}

// complaint is what a test that reads so fails with, or nothing.
func complaint(reads func(t testing.TB)) string {
	f, done := &failing{}, make(chan bool)
	go func() {
		defer close(done)
		reads(f)
	}()
	<-done
	return f.said
}

func TestEveryTableIsRead(t *testing.T) {
	files, err := tables.ReadDir(".")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d tables: %v", len(files), err)
	}
	for _, f := range files {
		Table(t, f.Name())
	}
}

// Each way not to read a figure fails, in words that name it.
func TestWhatIsNotThere(t *testing.T) {
	row := Row{"a": "1.50", "b": "", "x0": "1", "x1": "-2e-3", "x2": "", "x3": "", "y0": "1", "y1": "", "y2": "3", "z0": "",
		"t0_date": "2012-05-32", "t0_tdt_h": "0", "ge_tdt": ""}
	for want, reads := range map[string]func(t testing.TB){
		"no published table: open absent.csv":            func(t testing.TB) { Table(t, "absent.csv") },
		"no table: open ":                                func(t testing.TB) { File(t, filepath.Join("absent", "a.csv")) },
		`no column "c"`:                                  func(t testing.TB) { row.Number(t, "c") },
		`no column "d"`:                                  func(t testing.TB) { row.Text(t, "d") },
		`no column "e"`:                                  func(t testing.TB) { row.Half(t, "e") },
		`column b: strconv.ParseFloat: parsing ""`:       func(t testing.TB) { row.Number(t, "b") },
		`no column "w0"`:                                 func(t testing.TB) { row.Poly(t, "w") },
		"column y2: a term above one that is not":        func(t testing.TB) { row.Poly(t, "y") },
		`column z0: strconv.ParseFloat: parsing ""`:      func(t testing.TB) { row.Poly(t, "z") },
		"column t0_date: parsing time":                   func(t testing.TB) { row.T0(t) },
		"no elements canon5m of 2000-01-01":              func(t testing.TB) { Elements(t, "canon5m", "2000-01-01") },
		"a.csv: has no rows":                             func(t testing.TB) { read(t, "a.csv", strings.NewReader("a,b\n")) },
		"empty.csv: has no rows":                         func(t testing.TB) { read(t, "empty.csv", strings.NewReader("")) },
		"a.csv: record on line 2: wrong number":          func(t testing.TB) { read(t, "a.csv", strings.NewReader("a,b\n1\n")) },
		`a.csv: two columns have one name: ["a" "b" "a"`: func(t testing.TB) { read(t, "a.csv", strings.NewReader("a,b,a\n1,2,3\n")) },
	} {
		if got := complaint(reads); !strings.HasPrefix(got, want) {
			t.Errorf("said %q, want %q", got, want)
		}
	}
}

func TestRow(t *testing.T) {
	row := Row{"a": "1.50", "b": "", "c": "40", "x0": "1", "x1": "-2e-3", "x2": "", "x3": "", "t0_date": "2000-01-02", "t0_tdt_h": "1.000", "ge_tdt": "23:53:54"}
	if v, half, whole := row.Number(t, "a"), row.Half(t, "a"), row.Half(t, "c"); v != 1.5 || !(math.Abs(half-0.005) <= 1e-18) || whole != 0.5 {
		t.Errorf("1.50 is %g +- %g; 40 is +- %g", v, half, whole)
	}
	if s := row.Text(t, "b"); s != "" {
		t.Errorf("an empty cell is %q", s)
	}
	if p := row.Poly(t, "x"); !slices.Equal(p, []float64{1, -0.002}) {
		t.Errorf("x is %v", p)
	}
	if got := row.T0(t); got != 13*3600 {
		t.Errorf("T0 is %g s", got)
	}
	row["t0_tdt_h"] = "0.000" // the end of that day, since greatest eclipse is close to it
	if got := row.T0(t); got != 36*3600 {
		t.Errorf("T0 at the day's end is %g s", got)
	}
	if e := Elements(t, "canon5m", "2027-08-02"); e.Number(t, "saros") != 136 {
		t.Errorf("elements of saros %s", e["saros"])
	}
}

// A table elsewhere reads the same, packed and not.
func TestFile(t *testing.T) {
	folder := t.TempDir()
	plain, packed := filepath.Join(folder, "a.csv"), filepath.Join(folder, "a.csv.gz")
	var b strings.Builder
	z := gzip.NewWriter(&b)
	fmt.Fprint(z, "a,b\n1,\n2,x\n")
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{plain: "a,b\n1,\n2,x\n", packed: b.String()} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprint(File(t, name)); got != "[map[a:1 b:] map[a:2 b:x]]" {
			t.Errorf("%s: %s", name, got)
		}
	}
	torn := filepath.Join(folder, "torn.csv.gz")
	if err := os.WriteFile(torn, []byte("not,packed\n1,2\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got, want := complaint(func(t testing.TB) { File(t, torn) }), torn+": gzip: invalid header"; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
}
