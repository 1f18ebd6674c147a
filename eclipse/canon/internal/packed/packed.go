// Package packed is the file format of the embedded catalogue: a line of text
// that names it, a line of JSON that says how it was made, the elements as
// little-endian float64, and a checksum.
//
// Each coefficient is rounded in decimal before it is written (see [Round]), far
// below what the positions are good for, so that what is kept can be stated.
package packed

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"math"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun/timescale"
)

// magic opens the file; the number is the version of the format.
const magic = "noonfall catalogue of elements 1\n"

// ErrDamaged is wrapped by every error of [Decode].
var ErrDamaged = errors.New("catalogue of elements is damaged")

// A Header says how a file was made and what is common to its elements.
type Header struct {
	Command string  `json:"command"`      // that made the file
	SHA256  string  `json:"input_sha256"` // of the positions, as packed
	Source  string  `json:"source"`
	TimeU   float64 `json:"time_u_s"`
	Span    float64 `json:"span_h"`
	K1      float64 `json:"k1_earth_radii"`
	K2      float64 `json:"k2_earth_radii"`
	Count   int     `json:"count"`
	// Terms is the number of coefficients of each polynomial, in the order x,
	// y, d, mu, l1, l2, tan f1, tan f2.
	Terms [8]int `json:"terms"`
}

// polynomials lists the polynomials of elements in the order of the file.
func polynomials(e *eclipse.Elements) [8]*eclipse.Poly {
	return [8]*eclipse.Poly{&e.X, &e.Y, &e.D, &e.Mu, &e.L1, &e.L2, &e.TanF1, &e.TanF2}
}

// decimals holds for each polynomial how many decimals its constant term keeps.
// Earth radii keep 1e-11 and degrees 1e-10, a hundred times finer than is asked of
// a catalogue; the tangents multiply up to one Earth radius.
var decimals = [8]int{11, 11, 10, 10, 11, 11, 11, 11}

// Round rounds the coefficients of elements to what the file keeps: one decimal
// more for each power of an hour, so that over 3.5 h the sum is right within
// three quarters of a unit of the constant term.
func Round(e *eclipse.Elements) {
	for i, p := range polynomials(e) {
		for j := range *p {
			unit := math.Pow10(decimals[i] + j)
			(*p)[j] = math.Round((*p)[j]*unit) / unit
		}
	}
}

// Encode writes a catalogue. Count and Terms of the header are filled in from
// the elements; all must have the same numbers of terms, span and lunar radii
// as the header says.
func Encode(h Header, elements []*eclipse.Elements) ([]byte, error) {
	if len(elements) == 0 {
		return nil, errors.New("packed: no elements")
	}
	h.Count = len(elements)
	for i, p := range polynomials(elements[0]) {
		h.Terms[i] = len(*p)
	}
	line, err := json.Marshal(h)
	if err != nil {
		return nil, fmt.Errorf("packed: header: %w", err)
	}
	b := append([]byte(magic), line...)
	b = append(b, '\n')
	for _, e := range elements {
		if b, err = appendElements(b, h, e); err != nil {
			return nil, fmt.Errorf("packed: %s: %w", e.Date, err)
		}
	}
	return binary.LittleEndian.AppendUint32(b, crc32.ChecksumIEEE(b)), nil
}

func appendElements(b []byte, h Header, e *eclipse.Elements) ([]byte, error) {
	if e.Span != h.Span || e.K1 != h.K1 || e.K2 != h.K2 { // copies of one number
		return nil, errors.New("span or lunar radii are not those of the header")
	}
	if len(e.Date) != dateLength {
		return nil, fmt.Errorf("date %q is not YYYY-MM-DD", e.Date)
	}
	b = append(b, e.Date...)
	b = appendFloat(b, float64(e.T0))
	for i, p := range polynomials(e) {
		if len(*p) != h.Terms[i] {
			return nil, fmt.Errorf("polynomial %d has %d terms, the first eclipse's %d", i+1, len(*p), h.Terms[i])
		}
		for _, c := range *p {
			b = appendFloat(b, c)
		}
	}
	return b, nil
}

func appendFloat(b []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
}

const (
	dateLength  = len("2006-01-02")
	floatLength = 8
	sumLength   = 4
	maxTerms    = 16 // of one polynomial; a guard against nonsense in the header
)

// Decode reads a catalogue. Elements.DeltaT is left zero. Any fault gives an
// error that wraps [ErrDamaged]; nothing that is read makes it panic, and it takes
// memory only in proportion to the file.
func Decode(file []byte) (Header, []*eclipse.Elements, error) {
	h, records, err := open(file)
	if err != nil {
		return Header{}, nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	elements := make([]*eclipse.Elements, h.Count)
	size := h.recordLength()
	for i := range elements {
		e := h.elements(records[i*size : (i+1)*size])
		if err := e.Validate(); err != nil {
			return Header{}, nil, fmt.Errorf("%w: eclipse %d of %d: %w", ErrDamaged, i+1, h.Count, err)
		}
		if i > 0 && e.T0 <= elements[i-1].T0 {
			return Header{}, nil, fmt.Errorf("%w: eclipse %d of %d (%s) is not later than the one before", ErrDamaged, i+1, h.Count, e.Date)
		}
		elements[i] = e
	}
	return h, elements, nil
}

// open checks the frame of a file and returns its header and records.
func open(file []byte) (Header, []byte, error) {
	var h Header
	rest, ok := bytes.CutPrefix(file, []byte(magic))
	if !ok {
		return h, nil, fmt.Errorf("does not begin with %q", magic)
	}
	if len(rest) < sumLength {
		return h, nil, errors.New("cut off before its checksum")
	}
	body, sum := file[:len(file)-sumLength], binary.LittleEndian.Uint32(file[len(file)-sumLength:])
	if got := crc32.ChecksumIEEE(body); got != sum {
		return h, nil, fmt.Errorf("checksum %08x, want %08x", got, sum)
	}
	line, records, ok := bytes.Cut(rest[:len(rest)-sumLength], []byte("\n"))
	if !ok {
		return h, nil, errors.New("header has no end")
	}
	if err := json.Unmarshal(line, &h); err != nil {
		return h, nil, fmt.Errorf("header: %w", err)
	}
	for i, n := range h.Terms {
		if n < 1 || n > maxTerms {
			return h, nil, fmt.Errorf("header: polynomial %d has %d terms, want 1 to %d", i+1, n, maxTerms)
		}
	}
	if size := h.recordLength(); h.Count < 1 || h.Count > len(records)/size || h.Count*size != len(records) {
		return h, nil, fmt.Errorf("%d bytes of elements, want %d eclipses of %d", len(records), h.Count, size)
	}
	return h, records, nil
}

func (h Header) recordLength() int {
	n := dateLength + floatLength
	for _, terms := range h.Terms {
		n += terms * floatLength
	}
	return n
}

// elements reads one record of the right length. The polynomials share one array.
func (h Header) elements(record []byte) *eclipse.Elements {
	e := &eclipse.Elements{
		Date: string(record[:dateLength]),
		Span: h.Span, K1: h.K1, K2: h.K2, Source: h.Source, TimeU: h.TimeU,
	}
	record = record[dateLength:]
	v := make([]float64, len(record)/floatLength)
	for i := range v {
		v[i] = math.Float64frombits(binary.LittleEndian.Uint64(record[i*floatLength:]))
	}
	e.T0, v = timescale.TT(v[0]), v[1:]
	for i, p := range polynomials(e) {
		n := h.Terms[i]
		*p, v = v[:n:n], v[n:]
	}
	return e
}
