package station

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

// A File is a log that can be opened: on disk, in an archive, embedded.
type File struct {
	Name string
	Open func() (io.ReadCloser, error)
}

// FilesIn are files of a file system, by name.
func FilesIn(fsys fs.FS, names ...string) []File {
	out := make([]File, len(names))
	for i, name := range names {
		out[i] = File{Name: name, Open: func() (io.ReadCloser, error) { return fsys.Open(name) }}
	}
	return out
}

// unpack reads through gzip where the first bytes are gzip's (RFC 1952).
func unpack(r io.Reader) (io.Reader, error) {
	b := bufio.NewReader(r)
	if head, _ := b.Peek(2); bytes.Equal(head, []byte{0x1f, 0x8b}) {
		return gzip.NewReader(b)
	}
	return b, nil
}

// readerOptions are the station's settings in the reader's terms.
func (s *Station) readerOptions() (logfile.Options, error) {
	opt := logfile.Options{Light: s.Layout.Light}
	var err error
	if opt.Zone, err = ParseZone(s.Zone); err != nil {
		return opt, err
	}
	if opt.Order, err = logfile.ParseOrder(s.Layout.Order); err != nil {
		return opt, err
	}
	for _, name := range s.Layout.Columns {
		role, err := logfile.ParseRole(name)
		if err != nil {
			return opt, err
		}
		opt.Columns = append(opt.Columns, role)
	}
	return opt, nil
}

// read streams every file and keeps what a fit needs.
func (r *Report) read(ctx context.Context, files []File) error {
	opt, err := r.Station.readerOptions()
	if err != nil {
		return err
	}
	if r.Station.Chain != nil {
		if r.chain, err = r.Station.Chain.Compile(); err != nil {
			return err
		}
	}
	for _, f := range files {
		if err := r.readOne(ctx, f, opt); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	slices.SortStableFunc(r.Samples, func(a, b fit.Sample) int { return a.Time.Compare(b.Time) })
	before := len(r.Samples)
	r.Samples = slices.CompactFunc(r.Samples, func(a, b fit.Sample) bool { return a.Time.Equal(b.Time) && a.Value == b.Value })
	if n := before - len(r.Samples); n > 0 {
		r.warn("%d records repeat the stamp and the light of another (files that overlap?) and count once in the fit", n)
	}
	return nil
}

func (r *Report) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}

func (r *Report) readOne(ctx context.Context, f File, opt logfile.Options) error {
	src, err := f.Open()
	if err != nil {
		return err
	}
	defer src.Close()
	in, err := unpack(src)
	if err != nil {
		return err
	}
	opt.Name = f.Name
	opt.NearDate, _ = r.Station.Day() // validated; a time of day is one of the eclipse's day
	reader := logfile.NewReader(in, opt)
	var watch logfile.Watch
	unset := 0
	for rec, err := range reader.Records() {
		if errors.Is(err, logfile.ErrEmpty) {
			r.warn("%s is empty", f.Name)
			break
		}
		if err != nil {
			return err
		}
		if rec.Line%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if r.isUnset(rec.Time) {
			unset++
			continue
		}
		if e, ok := watch.See(rec); ok {
			r.Events = append(r.Events, e)
		}
		r.Samples = append(r.Samples, sample(rec, r.chain))
	}
	r.account(reader.Report(), unset)
	return nil
}

// account adds one file's book-keeping to the report.
func (r *Report) account(rep logfile.Report, unset int) {
	r.Files = append(r.Files, rep)
	r.Records += int(rep.Lines.Records)
	for kind, n := range rep.ByKind {
		r.Problems[kind.String()] += n
	}
	if unset > 0 {
		r.warn("%s: %d records carry the stamp of a clock that was not set and stay out of the fit", rep.Name, unset)
	}
	if rep.Unreadable > 0 {
		r.warn("%s: %d cells of light are empty or no number", rep.Name, rep.Unreadable)
	}
	if rep.ZoneAssumed && r.Station.Zone == "" {
		r.warn("%s: its stamps carry no zone and were read as UTC", rep.Name)
	}
}

// sample turns one record into light: lux where the chain is known, the
// column's own numbers where it is not.
func sample(rec logfile.Record, chain *sensor.Converter) fit.Sample {
	if chain == nil {
		return fit.Sample{Time: rec.Time, Value: rec.Light}
	}
	reading := chain.Lux(rec.Light)
	return fit.Sample{Time: rec.Time, Value: reading.Lux, Status: reading.Status}
}
