package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"example.org/noonfall/eclipse/station"
	"example.org/noonfall/examples/internal/cli"
	"example.org/noonfall/examples/internal/demo"
)

// open finds the station and its files: those named, those of a station's file,
// or the demo's; and those of the control day.
func (o *settings) open() (s *station.Station, files, control []station.File, err error) {
	s, files, control, err = o.described()
	if err != nil {
		return nil, nil, nil, err
	}
	if s == nil {
		s = &station.Station{Version: station.Version, Code: "log", Site: station.Site{Lat: o.Site.Lat, Lon: o.Site.Lon, Height: o.Site.Height},
			Eclipse: o.Date.Format(time.DateOnly)}
	}
	if len(o.files) > 0 {
		if files, err = named(o.files); err != nil {
			return nil, nil, nil, err
		}
	}
	if len(o.control) > 0 {
		if control, err = named(o.control); err != nil {
			return nil, nil, nil, err
		}
	}
	return s, files, control, o.overrule(s)
}

// place puts -site, -date and -deltat over the station's own.
func (o *settings) place(s *station.Station) {
	if o.given["site"] {
		s.Site = station.Site{Lat: o.Site.Lat, Lon: o.Site.Lon, Height: o.Site.Height}
	}
	if o.given["date"] {
		s.Eclipse = o.Date.Format(time.DateOnly)
	}
	if o.DeltaT != nil {
		s.DeltaT = o.DeltaT
	}
}

// overrule puts what the flags say over the station's own settings.
func (o *settings) overrule(s *station.Station) error {
	o.place(s)
	if _, err := station.ParseZone(o.zone); err != nil {
		return cli.Usagef("-zone: %v", err)
	}
	if o.columns != "" {
		o.layout.Columns = strings.Split(o.columns, ",")
	}
	if o.starts != "" {
		o.layout.Starts = strings.Split(o.starts, ",")
	}
	if wrong := (*station.LayoutError)(nil); errors.As(o.layout.Validate(), &wrong) {
		return cli.Usagef("-%s: %s", wrong.Field, wrong.Reason)
	}
	for _, f := range []struct {
		value string
		into  *string
	}{
		{o.zone, &s.Zone}, {o.layout.Order, &s.Layout.Order}, {o.layout.Light, &s.Layout.Light}, {o.layout.Delimiter, &s.Layout.Delimiter},
		{o.layout.Decimal, &s.Layout.Decimal}, {o.layout.Tick, &s.Layout.Tick},
	} {
		if f.value != "" {
			*f.into = f.value
		}
	}
	for _, f := range []struct{ value, into *[]string }{{&o.layout.Columns, &s.Layout.Columns}, {&o.layout.Starts, &s.Layout.Starts}} {
		if len(*f.value) > 0 {
			*f.into = *f.value
		}
	}
	return nil
}

// described is the station of -station, or the demo's where nothing is named.
func (o *settings) described() (s *station.Station, logs, control []station.File, err error) {
	var fsys fs.FS
	name := demo.StationFile
	switch {
	case o.station != "":
		fsys, name = os.DirFS(filepath.Dir(o.station)), filepath.Base(o.station)
	case len(o.files) == 0 && !o.given["site"] && !o.given["date"]:
		fsys = demo.Station()
	case len(o.files) == 0:
		return nil, nil, nil, cli.Usagef("name the log files, or a folder of them")
	default:
		return nil, nil, nil, nil
	}
	if len(o.files) == 0 {
		if s, err = station.ReadFile(fsys, name); err != nil {
			return nil, nil, nil, err
		}
		return s, station.FilesIn(fsys, s.Files...), station.FilesIn(fsys, s.Control...), nil
	}
	data, err := fs.ReadFile(fsys, name) // the logs that it names need not be there
	if err != nil {
		return nil, nil, nil, err
	}
	if s, err = station.Parse(data); err != nil {
		return nil, nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	return s, nil, station.FilesIn(fsys, s.Control...), nil
}

// named are the files of the command line, folders opened up.
func named(paths []string) ([]station.File, error) {
	var out []station.File
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil && strings.HasPrefix(p, "-") {
			return nil, cli.Usagef("%s: flags come before the files", p)
		}
		if err != nil {
			return nil, err
		}
		if !info.IsDir() {
			out = append(out, station.File{Name: p, Open: func() (io.ReadCloser, error) { return os.Open(p) }})
			continue
		}
		entries, err := os.ReadDir(p)
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if e.Type().IsRegular() && !strings.HasPrefix(e.Name(), ".") {
				full := filepath.Join(p, e.Name())
				out = append(out, station.File{Name: full, Found: true, Open: func() (io.ReadCloser, error) { return os.Open(full) }})
			}
		}
	}
	return out, nil
}
