package packed

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func made(t testing.TB) (Header, [][]float64, []byte) {
	h := Header{
		Command: "go test", SHA256: "made up", Source: "made up",
		Lon: Axis{-1, 0.5, 5}, Lat: Axis{-0.3, 0.3, 3}, Points: 40, Unit: 0.05, Radius: 1737.4,
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var profiles [][]float64
	for range h.Lon.Count * h.Lat.Count {
		p := make([]float64, h.Points)
		for i := range p {
			p[i] = 10*rng.Float64() - 4
		}
		profiles = append(profiles, p)
	}
	b, err := Encode(h, profiles)
	require.NoError(t, err)
	return h, profiles, b
}

func TestRoundTrip(t *testing.T) {
	want, profiles, b := made(t)
	h, heights, err := Decode(b)
	require.NoError(t, err)
	want.Lowest = h.Lowest
	require.Equal(t, want, h)
	for i, p := range profiles {
		for k, v := range p {
			if got := h.Lowest + h.Unit*float64(heights[i*h.Points+k]); !(math.Abs(got-v) <= h.Unit/2+1e-9) {
				t.Fatalf("profile %d point %d: %.3f km, want %.3f", i, k, got, v)
			}
		}
	}
	_, _, again := made(t)
	require.Equal(t, b, again)
}

func TestEncodeRefuses(t *testing.T) {
	h, profiles, _ := made(t)
	profiles[3][7] = 20 // km: more than a byte spans
	if _, err := Encode(h, profiles); err == nil {
		t.Error("a height out of range is taken")
	}
	profiles[3][7] = math.NaN()
	if _, err := Encode(h, profiles); err == nil {
		t.Error("a height that is no number is taken")
	}
	if _, err := Encode(h, profiles[1:]); err == nil {
		t.Error("a profile too few is taken")
	}
	profiles[0] = profiles[0][1:]
	if _, err := Encode(h, profiles); err == nil {
		t.Error("a profile too short is taken")
	}
}

// Whatever is read, the answer is the heights or ErrDamaged.
func FuzzDecode(f *testing.F) {
	_, _, b := made(f)
	f.Add(b)
	f.Add(b[:len(b)-5])
	f.Add([]byte(magic + "{}\n1234"))
	f.Fuzz(func(t *testing.T, in []byte) {
		h, heights, err := Decode(in)
		if err != nil {
			if !errors.Is(err, ErrDamaged) {
				t.Fatalf("%v is not ErrDamaged", err)
			}
			return
		}
		if len(heights) != h.Lon.Count*h.Lat.Count*h.Points {
			t.Fatalf("%d heights for %+v", len(heights), h)
		}
	})
}

// A right checksum alone makes no file: what is in it is looked at, and said.
func TestDecodeLooksInsideARightChecksum(t *testing.T) {
	good, _, b := made(t)
	sealed := func(body []byte) []byte {
		return binary.LittleEndian.AppendUint32(body, crc32.ChecksumIEEE(body))
	}
	headed := func(change func(h *Header)) []byte {
		h := good
		change(&h)
		line, err := json.Marshal(h)
		require.NoError(t, err)
		return sealed(append(append([]byte(magic), line...), '\n'))
	}
	for _, c := range []struct {
		name, text string
		file       []byte
	}{
		{"nothing", "does not begin", nil},
		{"the first line alone", "does not begin", []byte(magic)},
		{"no header", "no header", sealed([]byte(magic + "{}"))},
		{"a header that is not JSON", "header:", sealed([]byte(magic + "hello\n"))},
		{"one libration", "librations", headed(func(h *Header) { h.Lon.Count = 1 })},
		{"a step of nothing", "librations", headed(func(h *Header) { h.Lat.Step = 0 })},
		{"a libration no Moon has", "librations", headed(func(h *Header) { h.Lat.First = 90 })},
		{"no points", "profiles of 0 points", headed(func(h *Header) { h.Points = 0 })},
		{"profiles whose number has 43 bits", "profiles of 2 points", headed(func(h *Header) { h.Lon.Count, h.Lat.Count, h.Points = 1<<21, 1<<21, 2 })},
		{"no unit", "unit 0 km", headed(func(h *Header) { h.Unit = 0 })},
		{"another Moon", "radius 1600 km", headed(func(h *Header) { h.Radius = 1600 })},
		{"no heights", "heights:", headed(func(*Header) {})},
		{"heights cut off", "heights:", sealed(bytes.Clone(b[:len(b)-100]))},
	} {
		h, heights, err := Decode(c.file)
		if !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: error %v, want damage that says %q", c.name, err, c.text)
		}
		if h != (Header{}) || heights != nil {
			t.Errorf("%s: %+v and %d heights beside an error", c.name, h, len(heights))
		}
	}
}

func TestEncodeRefusesAHeaderWithoutNumbers(t *testing.T) {
	h, profiles, _ := made(t)
	h.Radius = math.NaN() // which JSON does not have
	if _, err := Encode(h, profiles); err == nil || !strings.Contains(err.Error(), "header") {
		t.Errorf("error %v, want one that speaks of the header", err)
	}
}

func TestAxisAt(t *testing.T) {
	a := Axis{First: -8, Step: 0.5, Count: 33}
	if first, last := a.At(0), a.At(a.Count-1); first != -8 || last != 8 {
		t.Errorf("from %g to %g degrees, want -8 to 8", first, last)
	}
}

// One byte changed anywhere is noticed.
func TestEveryByteCounts(t *testing.T) {
	_, _, b := made(t)
	for i := range b {
		b[i] ^= 0x10
		if _, _, err := Decode(b); !errors.Is(err, ErrDamaged) {
			t.Fatalf("byte %d changed: %v", i, err)
		}
		b[i] ^= 0x10
	}
}
