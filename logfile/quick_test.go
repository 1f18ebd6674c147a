package logfile

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

// threeWays reads a file by the short way, a byte at a time, and with the short way barred.
func threeWays(t *testing.T, name string, in []byte, opt Options) {
	t.Helper()
	recs, rep, err := drain(t, bytes.NewReader(in), opt)
	slow := NewReader(bytes.NewReader(in), opt)
	slow.slow = true
	for way, r := range map[string]*Reader{"a byte at a time": NewReader(iotest.OneByteReader(bytes.NewReader(in)), opt), "the careful way": slow} {
		others, rep1, err1 := walk(t, r)
		if !same(recs, others) || fmt.Sprint(rep, err) != fmt.Sprint(rep1, err1) || fmt.Sprint(rep.Missing) != fmt.Sprint(rep1.Missing) {
			t.Fatalf("%s, %+v: %s reads otherwise:\n%v %v\n%v\n%v %v\n%v\n%q", name, opt, way, rep, err, recs, rep1, err1, others, in)
		}
	}
}

// All fixtures under many options; the fuzzer goes on from there.
func TestShortWayOnFixtures(t *testing.T) {
	all := fixtures(t)
	rng := rand.New(rand.NewPCG(1, 2))
	n := 100
	if testing.Short() {
		n = 10
	}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for range n {
			threeWays(t, name, all[name], pickedOptions(rng.Uint64()))
		}
	}
}

// Cells of every form follow each other, so that no expectation holds for long.
func TestShortWayOnCells(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	digits := func(n int) string {
		b := make([]byte, n)
		for i := range b {
			b[i] = '0' + byte(rng.IntN(10))
		}
		return string(b)
	}
	odd := []string{"", " ", "nan", "-", "--", ".", "-.", ",5", "+3", "1e3", " 7", "7 ", "\"\"", "\"7\"", "\"7\"8", "\"-7.5\"", "\"7", "7\"", "-127", "-999", "1.2.3", "8-7", "5-", "\x00", "°", "\t4", "007"}
	number := func(mark string) string {
		s := digits(1 + rng.IntN(10))
		if rng.IntN(2) == 0 {
			s += mark + digits(rng.IntN(8))
		}
		if rng.IntN(3) == 0 {
			s = "-" + s
		}
		if rng.IntN(8) == 0 {
			s = "\"" + s + "\""
		}
		return s
	}
	for i := range 400 {
		delimiter, mark := ",", "."
		if i%2 == 1 {
			delimiter, mark = ";", ","
		}
		end := [...]string{"\n", "\r\n", "\r", delimiter + "\n"}[rng.IntN(4)]
		var b strings.Builder
		b.WriteString(strings.Join([]string{"time", "light", "temp", "lat", "note", "pressure"}, delimiter) + "\n")
		for k := range 60 {
			cells := []string{fmt.Sprintf("2027-08-02T07:%02d:%02dZ", k/60, k%60)}
			for range 5 {
				switch rng.IntN(12) {
				case 0:
					cells = append(cells, odd[rng.IntN(len(odd))])
				case 1:
					cells = append(cells, number([]string{".", ","}[rng.IntN(2)]))
				default:
					cells = append(cells, number(mark))
				}
			}
			b.WriteString(strings.Join(cells, delimiter) + end)
		}
		threeWays(t, fmt.Sprint(i), []byte(b.String()), Options{Decimal: mark[0], Delimiter: delimiter[0]})
	}
}

// The short way must be the usual one, or it is no use that it is quick.
func TestShortWayIsTaken(t *testing.T) {
	day := madeUpDay()
	for name, in := range map[string][]byte{"plain": day, "quoted": quotedDay(day)} {
		r := NewReader(bytes.NewReader(in[:len(in)/8]), Options{})
		if err := r.open(); err != nil {
			t.Fatal(err)
		}
		r.plan()
		taken, lines := 0, 0
		for ; ; lines++ {
			if len(r.steps) > 0 && r.quick() {
				taken++
				continue
			}
			l, ok := r.lines.next()
			if !ok {
				break
			}
			r.read(&l)
		}
		if !(float64(taken) > 0.995*float64(lines)) {
			t.Errorf("%s: %d of %d lines", name, taken, lines)
		}
	}
}
