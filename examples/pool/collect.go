package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path"
	"path/filepath"
	"slices"

	"example.org/noonfall/eclipse/campaign"
	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/demo"
	"example.org/noonfall/examples/internal/pooled"
)

// A source is one argument: a station's description, or a summary that somebody sent.
type source struct {
	name    string
	station *station.Station
	files   []station.File
	control []station.File
	summary *station.Summary
	mark    string // of everything that the summary rests on, so that it need not be made again
	err     error
}

// collect reduces what is not yet reduced.
func (o *settings) collect(ctx context.Context) (*campaign.Campaign, []pooled.Failure, error) {
	all := o.sources()
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	c, kept := &campaign.Campaign{}, shelf{folder: o.Out}
	var failed []pooled.Failure
	todo := make([]source, 0, len(all))
	seen := map[string]bool{}
	for _, s := range all {
		switch {
		case s.err == nil && s.summary == nil && seen[s.mark]:
			continue // given twice
		case s.err == nil && s.summary == nil:
			seen[s.mark] = true
			s.summary = kept.find(s.mark)
		}
		switch {
		case s.err != nil:
			failed = append(failed, pooled.Failure{Name: s.name, Reason: s.err.Error()})
		case s.summary != nil:
			if err := c.Add(s.summary); err != nil {
				failed = append(failed, pooled.Failure{Name: s.name, Reason: err.Error()})
			}
		default:
			todo = append(todo, s)
		}
	}
	marks := make(map[string]string, len(todo))
	for _, s := range todo {
		marks[s.name] = s.mark
	}
	bar := newBar(len(todo))
	defer bar.end()
	for out := range campaign.Reduce(ctx, jobs(todo), o.reduceOptions()) {
		bar.step()
		if out.Err != nil {
			if ctx.Err() == nil {
				failed = append(failed, pooled.Failure{Name: out.Name, Reason: out.Err.Error()})
			}
			continue
		}
		if err := kept.put(marks[out.Name], out.Summary); err != nil {
			return nil, nil, err
		}
		if err := c.Add(out.Summary); err != nil {
			return nil, nil, err
		}
	}
	return c, failed, ctx.Err()
}

func jobs(all []source) iter.Seq[campaign.Job] {
	return func(yield func(campaign.Job) bool) {
		for _, s := range all {
			if !yield(campaign.Job{Name: s.name, Station: s.station, Files: s.files, Control: s.control}) {
				return
			}
		}
	}
}

// sources opens the arguments, or the demo's school network where there are none.
func (o *settings) sources() []source {
	if len(o.names) == 0 {
		return o.invented()
	}
	out := make([]source, len(o.names))
	for i, name := range o.names {
		if info, err := os.Stat(name); err == nil && info.IsDir() {
			name = filepath.Join(name, demo.StationFile)
		}
		out[i] = o.open(os.DirFS(filepath.Dir(name)), filepath.Base(name), name)
	}
	return out
}

// invented are the demo's stations.
func (o *settings) invented() (out []source) {
	network := demo.Network()
	entries, err := fs.ReadDir(network, ".")
	if err != nil {
		return []source{{name: "the demo", err: err}}
	}
	for _, e := range entries {
		folder, err := fs.Sub(network, e.Name())
		if err != nil {
			out = append(out, source{name: e.Name(), err: err})
			continue
		}
		out = append(out, o.open(folder, demo.StationFile, path.Join(e.Name(), demo.StationFile)))
	}
	return out
}

// open reads one description or summary.
func (o *settings) open(fsys fs.FS, base, name string) source {
	s := source{name: name}
	text, err := fs.ReadFile(fsys, base)
	if err != nil {
		s.err = fmt.Errorf("%s: %w", name, err)
		return s
	}
	if s.station, s.summary, s.err = pooled.Describe(name, text, o.DeltaT); s.station == nil {
		return s
	}
	s.files, s.control = station.FilesIn(fsys, s.station.Files...), station.FilesIn(fsys, s.station.Control...)
	s.mark = o.markOf(fsys, text, append(slices.Clone(s.station.Files), s.station.Control...), filepath.Dir(name))
	return s
}

// markOf is a digest of all that a summary rests on: the description, where it lies, each log's
// name, size and time of change, and the flags that count. A log of gigabytes is not read for it.
func (o *settings) markOf(fsys fs.FS, description []byte, logs []string, folder string) string {
	if abs, err := filepath.Abs(folder); err == nil && len(o.names) > 0 {
		folder = abs
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "1 %q %q %v %v", folder, description, o.exact, o.Limb)
	if o.DeltaT != nil {
		fmt.Fprintf(&b, " %g", *o.DeltaT)
	}
	for _, log := range logs {
		if info, err := fs.Stat(fsys, log); err == nil {
			fmt.Fprintf(&b, " %q %d %d", log, info.Size(), info.ModTime().UnixNano())
		}
	}
	sum := sha256.Sum256(b.Bytes())
	return hex.EncodeToString(sum[:12])
}
