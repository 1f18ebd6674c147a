package rehearsal

import (
	"bufio"
	"bytes"
	"io"
	"math"
	"strconv"
	"time"
)

// header is the made-up logger's: degrees, degrees, RFC 3339 UTC to the second,
// counts, degrees Celsius.
const header = "lat,lon,time,light,temp"

// Invented is the first line of every log that is written here.
const Invented = "# invented data: a rehearsal, nothing was measured"

const newline = "\r\n"

// WriteTo writes the file as its logger does: the remark that all is invented, a
// header, one comma-separated line a record, the header again after each power
// cycle, and what damage left of the rest. It implements io.WriterTo; the errors
// are those of w.
func (l *Log) WriteTo(w io.Writer) (int64, error) {
	c := &counter{w: w}
	b := bufio.NewWriter(c)
	l.write(b)
	err := b.Flush() // holds on to the first error
	return c.n, err
}

func (l *Log) write(b *bufio.Writer) {
	b.WriteString(Invented + newline)
	b.WriteString(header + newline)
	var line []byte
	for _, r := range l.records {
		if r.header {
			b.WriteString(header + newline)
		}
		line = l.line(line[:0], r.Sample)
		switch r.fate {
		case torn:
			half, comma := len(line)/2, bytes.LastIndexByte(line, ',')
			line = line[:half+int(r.cut*float64(comma-half))]
		case nulled:
			half := len(line) / 2
			clear(line[half+int(r.cut*float64(len(line)-half)):])
		}
		b.Write(line)
		b.WriteString(newline)
	}
}

// line is one record without its end.
func (l *Log) line(b []byte, s Sample) []byte {
	b = strconv.AppendFloat(b, l.Plan.Site.Lat, 'f', 5, 64)
	b = append(b, ',')
	b = strconv.AppendFloat(b, l.Plan.Site.Lon, 'f', 5, 64)
	b = append(b, ',')
	b = s.Stamp.AppendFormat(b, time.RFC3339)
	b = append(b, ',')
	b = strconv.AppendFloat(b, s.Counts, 'f', decimals(l.scene.sensor.step), 64)
	b = append(b, ',')
	return strconv.AppendFloat(b, s.Temp, 'f', 2, 64)
}

// decimals that a step needs.
func decimals(step float64) int {
	if step >= 1 {
		return 0
	}
	return int(math.Ceil(-math.Log10(step)))
}

// A counter counts the bytes that pass.
type counter struct {
	w io.Writer
	n int64
}

// Write passes the bytes on and counts those that went through.
func (c *counter) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}
