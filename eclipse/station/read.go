package station

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/noonfall/logfile"
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
	var logs pieces
	var runs stretches
	r.ascends = true
	var others error
	for _, f := range files {
		w, err := r.readOne(ctx, f, opt)
		if layout := (*logfile.LayoutError)(nil); err != nil && !errors.As(err, &layout) { // that names the file itself
			err = fmt.Errorf("%s: %w", f.Name, err)
		}
		switch {
		case err != nil && f.Found && isNoLog(err):
			others = errors.Join(others, err)
			r.warn("left out, since it is no log: %v", err)
			continue
		case err != nil:
			return err
		}
		logs = append(logs, w.kept...)
		runs.add(w)
	}
	if len(r.Files) == 0 && others != nil {
		return others
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	r.warnOfFiles()
	if !r.ascends {
		merged, duplicates := logfile.Merge(logs...)
		if duplicates > 0 {
			r.warn("%d records repeat the stamp and the readings of another (files that overlap?) and count once", duplicates)
		}
		logs = pieces{merged}
	}
	r.layOut(logs)
	r.stretches = runs.samples(r)
	return nil
}

// isNoLog says that a file is no text, or that no column of it holds a time.
func isNoLog(err error) bool {
	layout := (*logfile.LayoutError)(nil)
	return errors.Is(err, logfile.ErrNotText) || errors.As(err, &layout) && layout.Decides == "columns"
}

// emptiness says of a file without data whether there is anything in it.
func emptiness(rep logfile.Report) string {
	if rep.Bytes.Sum() == 0 {
		return rep.Name + " is empty"
	}
	return rep.Name + " holds no data, only headers, remarks, blank lines or what is left of a torn line"
}

// warnOfFiles says what several files may have in common, once for all of them and
// before what concerns a single one.
func (r *Report) warnOfFiles() {
	single := r.Warnings
	r.Warnings = nil
	if len(r.Files) == 0 {
		r.warn("there is no file to read")
	}
	if u := &r.unset; u.Records > 0 {
		r.warn("%s: %s with the stamp of a clock that was not set; %d put right by the step that set it, the others stay out of the fit",
			andMore(r.unsetIn), several(u.Records, "record"), u.Mended)
	}
	if names, n := r.filesWith(func(f *logfile.Report) int { return f.Missing[logfile.Light] }); n > 0 {
		r.warn("%s: %s of light without a number", names, several(n, "cell"))
	}
	bare := func(f *logfile.Report) int { return map[bool]int{true: 1}[f.ZoneAssumed && r.Station.Zone == ""] }
	if names, n := r.filesWith(bare); n > 0 {
		r.warn("%s: stamps without a zone were read as UTC", names)
	}
	r.Warnings = append(r.Warnings, single...)
}

// filesWith names the files that have some of a thing, and sums them up.
func (r *Report) filesWith(count func(*logfile.Report) int) (names string, sum int) {
	var with []string
	for i := range r.Files {
		if n := count(&r.Files[i]); n > 0 {
			with = append(with, r.Files[i].Name)
			sum += n
		}
	}
	return andMore(with), sum
}

func andMore(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return fmt.Sprintf("%s and %d more", names[0], len(names)-1)
}

func (r *Report) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}

// readOne reads one file to its end.
func (r *Report) readOne(ctx context.Context, f File, opt logfile.Options) (*walk, error) {
	src, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer src.Close()
	in, err := unpack(cancellable{ctx, src})
	if err != nil {
		return nil, err
	}
	opt.Name = f.Name
	opt.NearDate = undated
	reader := logfile.NewReader(in, opt)
	w := &walk{report: r, zone: opt.Zone, last: r.end, ascends: true}
	for rec, err := range reader.Records() {
		if err == nil {
			w.take(rec)
			continue
		}
		switch {
		case errors.Is(err, logfile.ErrEmpty):
			r.warn("%s", emptiness(reader.Report()))
		case damaged(err):
			r.warn("%s: the compressed file is damaged (%v); what came out of it before that is used", f.Name, err)
		default:
			return nil, err
		}
	}
	w.settle()
	if w.day.days != 0 {
		r.warn("%s: its times of day carry no date; the first was taken for one of %s", f.Name, w.day.first.Format(time.DateOnly))
	}
	r.unset.add(w.unset)
	if w.unset.Records > 0 {
		r.unsetIn = append(r.unsetIn, f.Name)
	}
	r.account(reader.Report())
	return w, nil
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

// account adds one file's book-keeping to the report.
func (r *Report) account(rep logfile.Report) {
	r.Files = append(r.Files, rep)
	r.Records += int(rep.Lines.Records)
	for kind, n := range rep.ByKind {
		r.Problems[kind.String()] += n
	}
}
