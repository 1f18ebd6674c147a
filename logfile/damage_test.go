package logfile

import (
	"bytes"
	"fmt"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const sector = 512 // bytes, of memory cards

var damageOptions = Options{Columns: []Role{Lat, Lon, Time, Light, Temp}, Delimiter: ',', Decimal: '.', Order: YMD}

// shortLog is a made-up log with a header, and again one at each of a few power
// cycles.
func shortLog(rows, cycle int) []byte {
	var b bytes.Buffer
	at := time.Date(2027, 8, 2, 7, 0, 0, 0, time.UTC)
	for i := range rows {
		if i%cycle == 0 {
			b.WriteString("lat,lon,time,light,temp\r\n")
		}
		fmt.Fprintf(&b, "%.5f,%.5f,%s,%d,%.2f\r\n", 36+float64(i%7)/1e5, -5.6-float64(i%5)/1e5, at.Add(time.Duration(i)*time.Second).Format(time.RFC3339), 4000-i, 24-float64(i)/100)
	}
	return b.Bytes()
}

// spoil damages sectors as numbers say, and returns what is left and which are damaged.
func spoil(in []byte, d *drawn) (out []byte, bad map[int]bool) {
	out, bad = bytes.Clone(in), map[int]bool{}
	sectors := len(in) / sector
	if sectors < 2 {
		return out, bad
	}
	whole := func(i int) []byte { return out[i*sector : (i+1)*sector] }
	for range 1 + d.upTo(6) {
		a, b := d.upTo(sectors), d.upTo(sectors)
		switch d.upTo(4) {
		case 0:
			clear(whole(a))
		case 1: // swapped
			c := bytes.Clone(whole(a))
			copy(whole(a), whole(b))
			copy(whole(b), c)
			bad[b] = true
		case 2: // one sector again in the place of another
			copy(whole(a), whole(b))
		case 3: // any other part of the file, not from the start of a sector
			copy(whole(a), in[d.upTo(len(in)-sector):])
		}
		bad[a] = true
	}
	return out[:len(out)-d.upTo(2)*d.upTo(len(out))], bad
}

// survives says that damage left a line alone, and the end of the line before it.
func survives(from, to, length int, bad map[int]bool) bool {
	if to > length {
		return false
	}
	for i := max(from-2, 0) / sector; i <= (to-1)/sector; i++ {
		if bad[i] {
			return false
		}
	}
	return true
}

// FuzzDamage spoils sectors of a made-up log, and cuts it: every byte is accounted
// for, and every record that the damage left alone, with the ends of its line and of
// that before, comes out as from the whole log.
func FuzzDamage(f *testing.F) {
	for _, b := range fixtures(f) {
		f.Add(b)
	}
	for i := range 8 {
		f.Add(bytes.Repeat([]byte{byte(i), 3, 7, byte(5 * i), 1}, 40))
	}
	f.Fuzz(func(t *testing.T, numbers []byte) {
		d := drawn(numbers)
		log := shortLog(20+d.upTo(100), 5+d.upTo(60))
		checkDamage(t, log, &d)
	})
}

func checkDamage(t *testing.T, log []byte, d *drawn) (survivors int) {
	want, _, err := drain(t, bytes.NewReader(log), damageOptions)
	if err != nil {
		t.Fatal(err)
	}
	in, bad := spoil(log, d)
	got, rep, err := drain(t, bytes.NewReader(in), damageOptions)
	lawful(t, rep, int64(len(in)))
	if err != nil && len(in) > 3*sector && len(bad) == 0 {
		t.Fatal(err)
	}
	at := map[int64]Record{}
	for _, r := range got {
		at[r.Offset] = r
	}
	for _, w := range want {
		from := int(w.Offset)
		to := from + bytes.IndexByte(log[from:], '\n') + 1
		if !survives(from, to, len(in), bad) {
			continue
		}
		survivors++
		if r, there := at[w.Offset]; !there || !r.saysTheSame(w) {
			t.Fatalf("line %d at %d, %q, came out as %+v (%v): %v %v %v\n%q", w.Line, from, log[from:to], r, there, err, rep, rep.ByKind, in)
		}
	}
	return survivors
}

// A fixed set of damages, so that the check is seen to check something.
func TestDamage(t *testing.T) {
	n := 0
	for seed := range uint64(2000) {
		x := seed
		var b []byte
		for range 40 {
			x = x*6364136223846793005 + 1442695040888963407
			b = append(b, byte(x>>33), byte(x>>41), byte(x>>49), 0, 0, 0, 0, 0)
		}
		d := drawn(b)
		n += checkDamage(t, shortLog(100, 30), &d)
	}
	if n < 50_000 {
		t.Errorf("only %d records survived 2000 times", n)
	}
}

// Each log of the testdata, cut at every byte: the law holds, and where the beginning
// shows the same layout as the whole, every line that ended before the cut reads as in
// the whole. So no record is invented before the cut.
func TestFixturesCutAtEveryByte(t *testing.T) {
	compared, lines, stride := 0, 0, 1
	if testing.Short() {
		stride = 11
	}
	for name, whole := range fixtures(t) {
		full, rep, err := drain(t, bytes.NewReader(whole), Options{Name: "20270802.csv"})
		lawful(t, rep, int64(len(whole)))
		at := map[int64]Record{}
		for _, r := range full {
			at[r.Offset] = r
		}
		for n := 0; n < len(whole); n += stride {
			got, rep1, err1 := drain(t, bytes.NewReader(whole[:n]), Options{Name: "20270802.csv"})
			lawful(t, rep1, int64(n))
			if err != nil || err1 != nil || !sameReading(rep.Layout, rep1.Layout) {
				continue
			}
			compared++
			for i, r := range got {
				if i == len(got)-1 {
					break // its line may have been cut, in a number whose end nobody can know
				}
				lines++
				if w, there := at[r.Offset]; !there || !r.saysTheSame(w) || r.Line != w.Line {
					t.Fatalf("%s cut at %d: %+v, in the whole %+v (%v)", name, n, r, w, there)
				}
			}
		}
	}
	require.Greater(t, compared, 3000/stride)
	require.Greater(t, lines, 50_000/stride)
}

// sameReading says that two layouts read a line alike, as far as one can see.
func sameReading(a, b Layout) bool {
	return a.Delimiter == b.Delimiter && a.DecimalComma == b.DecimalComma && a.Order == b.Order && reflect.DeepEqual(a.Columns, b.Columns)
}
