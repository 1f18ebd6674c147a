package packed

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
)

// made returns two eclipses that could be, with numbers made up.
func made() (Header, []*eclipse.Elements) {
	h := Header{Command: "go run somewhere", SHA256: "00", Source: "made up", TimeU: 0.5, Span: 3.5, K1: 0.2725, K2: 0.2723}
	one := func(date string, t0 float64) *eclipse.Elements {
		return &eclipse.Elements{
			Date: date, Span: 3.5, K1: 0.2725, K2: 0.2723, Source: "made up", TimeU: 0.5,
			X: eclipse.Poly{0.1, 0.5, -1e-5}, Y: eclipse.Poly{-0.2, 0.1, 1e-5}, D: eclipse.Poly{17, -0.01}, Mu: eclipse.Poly{350, 15},
			L1: eclipse.Poly{0.54, 1e-5}, L2: eclipse.Poly{-0.01, 1e-5}, TanF1: eclipse.Poly{0.0046}, TanF2: eclipse.Poly{0.00458},
		}
	}
	a, b := one("2027-08-02", 0), one("2028-01-26", 0)
	a.T0, b.T0 = 870_000_000, 885_000_000
	return h, []*eclipse.Elements{a, b}
}

func TestRoundTrip(t *testing.T) {
	h, elements := made()
	file, err := Encode(h, elements)
	require.NoError(t, err)
	gotHeader, got, err := Decode(file)
	require.NoError(t, err)
	if !reflect.DeepEqual(got, elements) {
		t.Errorf("came back as %+v", got)
	}
	if gotHeader.Count != 2 || gotHeader.Terms != [8]int{3, 3, 2, 2, 2, 2, 1, 1} || gotHeader.Command != h.Command {
		t.Errorf("header came back as %+v", gotHeader)
	}
}

// The sum of a rounded polynomial must be right within a unit of its constant
// term, which is what the file promises to keep: 1e-9 Earth radii, 1e-8 degrees.
func TestRoundKeepsWhatItPromises(t *testing.T) {
	_, elements := made()
	e := elements[0]
	e.X = eclipse.Poly{math.Pi / 10, math.E / 5, -math.Pi * 1e-5, math.E * 1e-6, math.Pi * 1e-7}
	e.Mu = eclipse.Poly{math.Pi * 100, math.Pi * 5, math.E * 1e-7}
	x, mu := append(eclipse.Poly(nil), e.X...), append(eclipse.Poly(nil), e.Mu...)
	Round(e)
	for _, h := range []float64{-3.5, -1, 0, 2, 3.5} {
		if δ := math.Abs(e.X.At(h) - x.At(h)); !(δ <= 1e-11) {
			t.Errorf("x at %g h moved by %g Earth radii", h, δ)
		}
		if δ := math.Abs(e.Mu.At(h) - mu.At(h)); !(δ <= 1.2e-10) { // and bits of 400 degrees
			t.Errorf("mu at %g h moved by %g degrees", h, δ)
		}
	}
	once := append(eclipse.Poly(nil), e.X...)
	Round(e)
	if !reflect.DeepEqual(once, e.X) {
		t.Errorf("rounding twice gives %v after %v", e.X, once)
	}
}

func TestEncodeRefusesWhatTheHeaderDenies(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*Header, []*eclipse.Elements)
		text  string
	}{
		{"another span", func(_ *Header, e []*eclipse.Elements) { e[1].Span = 3 }, "2028-01-26"},
		{"another radius", func(h *Header, _ []*eclipse.Elements) { h.K2 = 0.2724 }, "lunar radii"},
		{"another degree", func(_ *Header, e []*eclipse.Elements) { e[1].Y = e[1].Y[:2] }, "polynomial 2"},
		{"a date of five digits", func(_ *Header, e []*eclipse.Elements) { e[0].Date = "12027-08-02" }, "YYYY-MM-DD"},
	} {
		h, elements := made()
		c.spoil(&h, elements)
		if _, err := Encode(h, elements); err == nil || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: error %v, want one that says %q", c.name, err, c.text)
		}
	}
	if _, err := Encode(Header{}, nil); err == nil {
		t.Error("no elements were encoded")
	}
}

// sealed puts a right checksum on a file, so that what is inside gets looked at.
func sealed(body []byte) []byte {
	return binary.LittleEndian.AppendUint32(append([]byte(nil), body...), crc32.ChecksumIEEE(body))
}

func TestDecodeLooksInsideARightChecksum(t *testing.T) {
	h, elements := made()
	swapped, err := Encode(h, []*eclipse.Elements{elements[1], elements[0]})
	require.NoError(t, err)
	elements[0].L1[0] = math.NaN()
	nan, err := Encode(h, elements)
	require.NoError(t, err)
	for _, c := range []struct {
		name, text string
		file       []byte
	}{
		{"empty", "does not begin", nil},
		{"magic only", "cut off", []byte(magic)},
		{"no header line", "header has no end", sealed([]byte(magic + "{}"))},
		{"header not JSON", "header:", sealed([]byte(magic + "hello\n"))},
		{"no terms", "0 terms", sealed([]byte(magic + "{}\n"))},
		{"a huge number of terms", "terms", sealed([]byte(magic + `{"terms":[1,1,1,1,1,1,1,1000000000]}` + "\n"))},
		{"a huge count", "bytes of elements", sealed(fmt.Appendf(nil, "%s{\"count\":%d,\"terms\":[1,1,1,1,1,1,1,1]}\n", magic, math.MaxInt/2+1))},
		{"a negative count", "bytes of elements", sealed([]byte(magic + `{"count":-1,"terms":[1,1,1,1,1,1,1,1]}` + "\n"))},
		{"out of order", "not later", swapped},
		{"not a number", "eclipse 1 of 2", nan},
	} {
		_, _, err := Decode(c.file)
		if !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: error %v, want damage that says %q", c.name, err, c.text)
		}
	}
}

// Whatever is read, there is no panic; what is accepted is valid and encodes to
// the same bytes.
func FuzzDecode(f *testing.F) {
	h, elements := made()
	file, err := Encode(h, elements)
	require.NoError(f, err)
	f.Add(file[:len(file)-4])
	f.Add([]byte(magic + `{"count":1,"terms":[1,1,1,1,1,1,1,1]}` + "\n"))
	if whole, err := os.ReadFile("../../canon.bin"); err == nil {
		f.Add(whole[:2000])
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		for _, file := range [][]byte{body, sealed(body)} {
			h, elements, err := Decode(file)
			if err != nil {
				if !errors.Is(err, ErrDamaged) {
					t.Fatalf("%v does not say that the file is damaged", err)
				}
				continue
			}
			for _, e := range elements {
				if err := e.Validate(); err != nil {
					t.Fatalf("accepted, yet %v", err)
				}
			}
			again, err := Encode(h, elements)
			if err != nil {
				t.Fatal(err)
			}
			if _, same, err := Decode(again); err != nil || !reflect.DeepEqual(same, elements) {
				t.Fatalf("does not survive a second trip: %v", err)
			}
		}
	})
}
