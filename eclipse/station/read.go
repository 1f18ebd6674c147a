package station

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"example.org/noonfall/eclipse/fit"
	"example.org/noonfall/logfile"
	"example.org/noonfall/sensor"
)

// read walks every file and joins the records of all into one series.
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
	if r.day, err = r.Station.Day(); err != nil {
		return err
	}
	logs := make([][]logfile.Record, len(files))
	for i, f := range files {
		if logs[i], err = r.readOne(ctx, f, opt); err != nil {
			if layout := (*logfile.LayoutError)(nil); errors.As(err, &layout) {
				return err // it names the file itself
			}
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	var duplicates int
	r.records, duplicates = logfile.Merge(logs...)
	if duplicates > 0 {
		r.warn("%d records repeat the stamp and the readings of another (files that overlap?) and count once", duplicates)
	}
	r.Samples = make([]fit.Sample, len(r.records))
	for i, rec := range r.records {
		r.Samples[i] = sample(rec, r.chain)
	}
	return nil
}

// mended moves the records of a clock that was not set by the step that set it, and
// those behind a midnight at which the date stayed by their day. Other steps stay as
// they are: whether the stamps before or behind one are right, the light must say.
func mended(records []logfile.Record) []logfile.Record {
	segments := logfile.Segments(records)
	for i := range segments {
		if segments[i].Began != logfile.Set {
			segments[i].AtMost = true // not to be applied
		}
	}
	return logfile.ApplyBack(records, segments)
}

func (r *Report) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}

// readOne reads one file to its end and returns the records of a clock that was
// set, or that could be put right.
func (r *Report) readOne(ctx context.Context, f File, opt logfile.Options) ([]logfile.Record, error) {
	src, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer src.Close()
	in, err := unpack(src)
	if err != nil {
		return nil, err
	}
	opt.Name = f.Name
	opt.NearDate = undated
	reader := logfile.NewReader(in, opt)
	var kept []logfile.Record
	var watch logfile.Watch
	var day placement
	var unset unsetClock
	mendable := false
	for rec, err := range reader.Records() {
		if errors.Is(err, logfile.ErrEmpty) {
			r.warn("%s is empty", f.Name)
			break
		}
		if err != nil {
			return nil, err
		}
		if rec.Line%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		rec.Time = day.place(rec.Time, r, opt.Zone)
		if e, ok := watch.See(rec); ok {
			r.note(e)
			mendable = mendable || e.Kind == logfile.Set || e.Kind == logfile.Midnight
		}
		unset.see(rec.Time, r.day)
		kept = append(kept, rec)
	}
	if mendable {
		kept = mended(kept)
	}
	if unset.Records > 0 {
		kept = slices.DeleteFunc(kept, func(rec logfile.Record) bool { return isUnset(rec.Time, r.day) })
		unset.Mended = unset.Records - (int(reader.Report().Lines.Records) - len(kept))
	}
	for _, rec := range kept {
		if rec.Time.After(r.end) {
			r.end = rec.Time
		}
	}
	if day.days != 0 {
		r.warn("%s: its times of day carry no date; the first was taken for one of %s", f.Name, day.first.Format(time.DateOnly))
	}
	r.unset.add(unset)
	r.account(reader.Report(), unset)
	return kept, nil
}

// maxEvents caps the list of events, not their counts: a clock that steps with
// every record would make a list longer than the log.
const maxEvents = 1000

// note counts an event and keeps it while the list is short.
func (r *Report) note(e logfile.Event) {
	r.EventCounts[e.Kind.String()]++
	if len(r.Events) < maxEvents {
		r.Events = append(r.Events, e)
	}
}

// undated is the day on which the reader lays times of day that have no date, in
// the lines or in the file's name. The reader takes no date before 1900, so that the
// station knows them again and gives them their day.
var undated = time.Date(1850, 1, 1, 0, 0, 0, 0, time.UTC)

// A placement moves the times of day of one file to the days they are of.
type placement struct {
	seen  bool
	days  int       // to be added; 0 where the file has dates of its own
	first time.Time // the first stamp, moved
}

// place returns a stamp on its day. The first file is laid on the eclipse's day, a
// later one where its first stamp comes nearest to the end of those before: it
// goes on, or overlaps by less than half a day.
func (p *placement) place(t time.Time, r *Report, zone *time.Location) time.Time {
	if zone == nil {
		zone = time.UTC
	}
	if !p.seen {
		p.seen = true
		if t.Year() >= 1900-1 { // a zone may set the year back
			return t
		}
		p.days = wholeDays(undated, r.day)
		if !r.end.IsZero() {
			p.days += wholeDays(moved(t, p.days, zone), r.end)
		}
		p.first = moved(t, p.days, zone).In(zone)
	}
	if p.days == 0 {
		return t
	}
	return moved(t, p.days, zone)
}

// wholeDays is the number of days from a to b, to the nearest.
func wholeDays(a, b time.Time) int {
	return int(b.Sub(a).Round(24*time.Hour) / (24 * time.Hour))
}

// moved is the same reading of a wall clock so many days later.
func moved(t time.Time, days int, zone *time.Location) time.Time {
	t = t.In(zone)
	y, m, d := t.Date()
	return time.Date(y, m, d+days, t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), zone).UTC()
}

// account adds one file's book-keeping to the report.
func (r *Report) account(rep logfile.Report, unset unsetClock) {
	r.Files = append(r.Files, rep)
	r.Records += int(rep.Lines.Records)
	for kind, n := range rep.ByKind {
		r.Problems[kind.String()] += n
	}
	if unset.Records > 0 {
		r.warn("%s: %d records carry the stamp of a clock that was not set; %d were put right by the step that set it, the others stay out of the fit", rep.Name, unset.Records, unset.Mended)
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
