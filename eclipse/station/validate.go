package station

import (
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"strings"
	"unicode"

	"example.org/noonfall/sensor"
	"example.org/noonfall/sun"
)

// The longest texts, bytes; common practice, no source.
const (
	longestCode    = 40
	longestRemarks = 16 << 10
)

// Validate reports everything that is wrong with the description at once: a *FieldError
// for each key, joined.
func (s *Station) Validate() error {
	if err := joined(s.faults(), nil, ""); err != nil {
		return fmt.Errorf("station %q: %w", s.Code, err)
	}
	return nil
}

// faults are all that is wrong, but for what only the file's text can tell.
func (s *Station) faults() []*FieldError {
	var faults []*FieldError
	fault := func(key string, err error, format string, args ...any) {
		faults = append(faults, &FieldError{Key: key, Reason: fmt.Sprintf(format, args...), Err: err})
	}
	if len(s.Code) > longestCode || strings.ContainsFunc(s.Code, unicode.IsControl) {
		fault("code", nil, "%.60q is no short name: want at most %d bytes on one line", s.Code, longestCode)
	}
	if err := s.Site.Sun().Validate(); err != nil {
		fault(siteKey(err), err, "%v; degrees, north and east positive, and metres above the ellipsoid", err)
	}
	if _, err := s.Day(); err != nil {
		fault("eclipse", err, "%v", err)
	}
	if _, err := ParseZone(s.Zone); err != nil {
		fault("zone", err, "%v", err)
	}
	for _, err := range apart(s.Layout.Validate()) {
		key, wrong := "layout", (*LayoutError)(nil)
		if errors.As(err, &wrong) {
			key, err = key+"."+wrong.Field, errors.New(wrong.Reason)
		}
		fault(key, err, "%v", err)
	}
	if s.DeltaT != nil && !(*s.DeltaT > -10000 && *s.DeltaT < 100000) {
		fault("delta_t_s", nil, "%g is out of any measured or forecast range; leave it out for the library's own", *s.DeltaT)
	}
	if err := s.Thermometer.validate(); err != nil {
		fault("thermometer", err, "%v", err)
	}
	if s.Chain != nil {
		for _, err := range apart(s.Chain.Validate()) {
			key, part := "chain", (*sensor.PartError)(nil)
			if errors.As(err, &part) {
				key += "." + part.Field
			}
			fault(key, err, "%v", err)
		}
	}
	if len(s.Remarks) > longestRemarks {
		fault("remarks", nil, "%d bytes, want at most %d: keep a diary in a file of its own", len(s.Remarks), longestRemarks)
	}
	if err := s.ClockSet.validate(); err != nil {
		fault("clock_set", err, "%v", err)
	}
	faults = append(faults, s.noteFaults()...)
	return append(faults, s.fileFaults()...)
}

// siteKey is the key of the part of a site that is out of range.
func siteKey(err error) string {
	out := (*sun.RangeError)(nil)
	if !errors.As(err, &out) {
		return "site"
	}
	return map[string]string{"Site.Lat": "site.lat_deg", "Site.Lon": "site.lon_deg", "Site.Height": "site.height_m"}[out.Field]
}

// apart takes joined errors to pieces.
func apart(err error) []error {
	if err == nil {
		return nil
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range many.Unwrap() {
			out = append(out, apart(e)...)
		}
		return out
	}
	return []error{err}
}

// logs are the lists of files, by key, in the order of the station's file.
func (s *Station) logs() iter.Seq2[string, []string] {
	return func(yield func(string, []string) bool) {
		_ = yield("files", s.Files) && yield("control", s.Control)
	}
}

// fileFaults are names that cannot be a file beneath the station's own, and those that
// stand twice.
func (s *Station) fileFaults() []*FieldError {
	var faults []*FieldError
	seen := map[string]string{}
	for list, names := range s.logs() {
		for i, name := range names {
			key := fmt.Sprintf("%s[%d]", list, i)
			switch {
			case !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\:"):
				faults = append(faults, &FieldError{Key: key, Reason: fmt.Sprintf(
					"%q is no file in the station's own folder or one beneath it: want a name like \"logs/20270802.csv\", with / between folders and no ..", name)})
			case seen[name] != "":
				faults = append(faults, &FieldError{Key: key, Reason: fmt.Sprintf("%q is %s already: keep one", name, seen[name])})
			}
			seen[name] = key
		}
	}
	return faults
}
