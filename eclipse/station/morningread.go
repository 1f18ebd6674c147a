package station

import (
	"context"
	"errors"
	"fmt"

	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

// A Morning is a clear morning's log, calibrated or refused.
type Morning struct {
	Station *Station // as given
	// Files holds the accounting of each log, in the order given.
	Files []logfile.Report
	// Fit is nil where the morning was refused; Refusal says why.
	Fit     *MorningFit
	Refusal *Refusal
}

// CalibrateMorning reads a station's logs of a clear morning and calibrates its
// sensor by them. Where the station has a chain the readings are ohms of its
// photoresistor, amperes of its phototransistor or counts of its digital sensor, and
// of the latter two the exponent is 1 unless an option says another; without a chain
// they are the light column's own numbers. A refusal is an answer, in the result; the
// error is as [Reduce]'s, or for options that cannot be.
func CalibrateMorning(ctx context.Context, s *Station, files []File, o MorningOptions) (*Morning, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	out := &Morning{Station: s}
	samples, err := out.read(ctx, files, o)
	if err != nil {
		return nil, err
	}
	if s.Chain != nil && s.Chain.Divider == nil && o.Exponent == 0 { // exactly: not set
		o.Exponent = 1
	}
	out.Fit, err = FitMorning(samples, s.Site.Sun(), o)
	if no := (*Refusal)(nil); errors.As(err, &no) {
		out.Fit, out.Refusal = nil, no
		return out, nil
	}
	return out, err
}

// read streams the files and keeps what the fit needs.
func (m *Morning) read(ctx context.Context, files []File, o MorningOptions) ([]MorningSample, error) {
	opt, err := m.Station.readerOptions()
	if err != nil {
		return nil, err
	}
	opt.NearDate = o.Day
	convert, err := converting(m.Station.Chain)
	if err != nil {
		return nil, err
	}
	var samples []MorningSample
	for _, f := range files {
		if err := m.readOne(ctx, f, opt, func(rec logfile.Record) { samples = append(samples, convert(rec)) }); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return samples, nil
}

func (m *Morning) readOne(ctx context.Context, f File, opt logfile.Options, keep func(logfile.Record)) error {
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
	reader := logfile.NewReader(in, opt)
	for rec, err := range reader.Records() {
		if errors.Is(err, logfile.ErrEmpty) {
			break
		}
		if err != nil {
			return err
		}
		if rec.Line%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		keep(rec)
	}
	m.Files = append(m.Files, reader.Report())
	return nil
}

// converting makes samples of records, in what the chain's part has to be
// calibrated in.
func converting(c *sensor.Chain) (func(logfile.Record) MorningSample, error) {
	if c == nil {
		return func(rec logfile.Record) MorningSample { return MorningSample{Time: rec.Time, Value: rec.Light} }, nil
	}
	part, err := NewPart(*c)
	if err != nil {
		return nil, err
	}
	return func(rec logfile.Record) MorningSample {
		k, status := part.Value(rec.Light)
		return MorningSample{Time: rec.Time, Value: k.Value, ValueLnU: k.ValueLnU, Status: status}
	}, nil
}
