// Package packed is the file format of the embedded limb: a line of text that names
// it, a line of JSON that says how it was made, the heights as differences of bytes
// between neighbours, deflated, and a checksum.
package packed

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
)

// magic opens the file; the number is the version of the format.
const magic = "noonfall limb of the Moon 1\n"

// ErrDamaged is wrapped by every error of [Decode].
var ErrDamaged = errors.New("limb of the Moon is damaged")

// An Axis is a row of equidistant librations, degrees.
type Axis struct {
	First float64 `json:"first_deg"`
	Step  float64 `json:"step_deg"`
	Count int     `json:"count"`
}

// At is the libration of a node.
func (a Axis) At(i int) float64 { return a.First + a.Step*float64(i) }

// A Header says how a file was made and what its bytes mean.
type Header struct {
	Command string  `json:"command"`      // that made the file
	SHA256  string  `json:"input_sha256"` // of the map
	Source  string  `json:"source"`
	Lon     Axis    `json:"libration_in_longitude"`
	Lat     Axis    `json:"libration_in_latitude"`
	Points  int     `json:"points"`    // position angles of a profile, all around
	Unit    float64 `json:"unit_km"`   // of a byte
	Lowest  float64 `json:"lowest_km"` // the height that byte 0 stands for
	Radius  float64 `json:"radius_km"` // of the sphere that heights are counted from
}

// samples is how many bytes there are.
func (h *Header) samples() int { return h.Lon.Count * h.Lat.Count * h.Points }

// Encode packs profiles, one a node, latitudes within longitudes. The lowest height is
// filled in. Heights that a byte cannot span, or too few of them, are an error.
func Encode(h Header, profiles [][]float64) ([]byte, error) {
	if len(profiles) != h.Lon.Count*h.Lat.Count {
		return nil, fmt.Errorf("packed: %d profiles, want %d", len(profiles), h.Lon.Count*h.Lat.Count)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range profiles {
		if len(p) != h.Points {
			return nil, fmt.Errorf("packed: profile %d has %d points, want %d", i, len(p), h.Points)
		}
		for _, v := range p {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	h.Lowest = h.Unit * math.Floor(low/h.Unit)
	if !(high-h.Lowest < 255.5*h.Unit) {
		return nil, fmt.Errorf("packed: heights from %.2f to %.2f km do not go into bytes of %g km", low, high, h.Unit)
	}
	heights := make([]byte, 0, h.samples())
	for _, p := range profiles {
		for _, v := range p {
			heights = append(heights, byte(math.Round((v-h.Lowest)/h.Unit)))
		}
	}
	line, err := json.Marshal(h)
	if err != nil {
		return nil, fmt.Errorf("packed: header: %w", err)
	}
	differences(&h, heights, func(at int, expected byte) { heights[at] -= expected })
	b := bytes.NewBuffer(append(append([]byte(magic), line...), '\n'))
	w, err := flate.NewWriter(b, flate.BestCompression)
	if err != nil {
		return nil, fmt.Errorf("packed: %w", err)
	}
	if _, err := w.Write(heights); err != nil {
		return nil, fmt.Errorf("packed: %w", err)
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("packed: %w", err)
	}
	return binary.LittleEndian.AppendUint32(b.Bytes(), crc32.ChecksumIEEE(b.Bytes())), nil
}

// differences visits the samples from the last to the first, with what a sample's
// neighbours before it let expect: the plane through three of them, which the ground
// behind the limb follows from node to node. Bytes wrap around.
func differences(h *Header, v []byte, visit func(at int, expected byte)) {
	for at := len(v) - 1; at >= 0; at-- {
		visit(at, expected(h, v, at))
	}
}

func expected(h *Header, v []byte, at int) byte {
	lat, lon := h.Points, h.Points*h.Lat.Count // steps back to the neighbours
	inLat, inLon := at/h.Points%h.Lat.Count > 0, at >= lon
	switch {
	case inLat && inLon:
		return v[at-lon] + v[at-lat] - v[at-lon-lat]
	case inLon:
		return v[at-lon]
	case inLat:
		return v[at-lat]
	case at > 0:
		return v[at-1]
	}
	return 0
}

// most bounds what a header may ask for, a guard against nonsense.
const most = 1 << 22

// Decode unpacks a file: its header and its bytes. Any fault gives an error that wraps
// [ErrDamaged]; nothing that is read makes it panic.
func Decode(file []byte) (Header, []byte, error) {
	h, heights, err := open(file)
	if err != nil {
		return Header{}, nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return h, heights, nil
}

func open(file []byte) (h Header, heights []byte, err error) {
	const sum = 4
	rest, ok := bytes.CutPrefix(file, []byte(magic))
	if !ok || len(rest) < sum {
		return h, nil, fmt.Errorf("it does not begin with %q", magic)
	}
	body := file[:len(file)-sum]
	if got, want := crc32.ChecksumIEEE(body), binary.LittleEndian.Uint32(file[len(body):]); got != want {
		return h, nil, fmt.Errorf("checksum %08x, want %08x", got, want)
	}
	line, packed, ok := bytes.Cut(rest[:len(rest)-sum], []byte("\n"))
	if !ok {
		return h, nil, errors.New("it has no header")
	}
	if err := json.Unmarshal(line, &h); err != nil {
		return h, nil, fmt.Errorf("header: %w", err)
	}
	if err := h.check(); err != nil {
		return h, nil, fmt.Errorf("header: %w", err)
	}
	heights = make([]byte, h.samples())
	r := flate.NewReader(bytes.NewReader(packed))
	if _, err := io.ReadFull(r, heights); err != nil {
		return h, nil, fmt.Errorf("heights: %w", err)
	}
	for at := range heights {
		heights[at] += expected(&h, heights, at)
	}
	return h, heights, nil
}

func (h *Header) check() error {
	for _, a := range []Axis{h.Lon, h.Lat} {
		if !(a.Count >= 2 && a.Count < most && a.Step > 0 && math.Abs(a.First) < 90 && a.Step < 90) {
			return fmt.Errorf("librations %+v", a)
		}
	}
	if !(h.Points >= 2 && h.Points < most) || h.Lat.Count > most/h.Points/h.Lon.Count { // no product, which may be too large for an int
		return fmt.Errorf("%d by %d profiles of %d points", h.Lon.Count, h.Lat.Count, h.Points)
	}
	if !(h.Unit > 0 && h.Unit < 1 && math.Abs(h.Lowest) < 20 && h.Radius > 1700 && h.Radius < 1800) {
		return fmt.Errorf("unit %g km, lowest %g km, radius %g km", h.Unit, h.Lowest, h.Radius)
	}
	return nil
}
