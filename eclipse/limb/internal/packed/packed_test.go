package packed

import (
	"errors"
	"math"
	"math/rand/v2"
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
