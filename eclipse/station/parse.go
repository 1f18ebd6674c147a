package station

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// A FieldError says which key of a station's file cannot be, and what to do.
type FieldError struct {
	File   string // empty where the text came from no file
	Line   int    // from 1; 0 where the station came from no text, or the key is not there
	Key    string // its path, as in "site.lat_deg" or "clock_notes[1].utc"
	Reason string // what was found, and what is wanted
	Err    error  // the cause, where another package refused the value; may be nil
}

// Error names the file, the line and the key as far as they are known.
func (e *FieldError) Error() string {
	var b strings.Builder
	if b.WriteString(e.File); e.File != "" && e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	} else if e.Line > 0 {
		fmt.Fprintf(&b, "line %d", e.Line)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	return b.String() + e.Reason
}

// Unwrap is the cause, nil where there is none.
func (e *FieldError) Unwrap() error { return e.Err }

// ReadFile reads a station's file and sees whether the logs that it names are there. All
// that is wrong comes back at once: a *FieldError each, with file, line and key.
func ReadFile(fsys fs.FS, name string) (*Station, error) {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	s, lines, faults := parse(data)
	if len(faults) == 0 {
		faults = s.absent(fsys)
	}
	if err := joined(faults, lines, name); err != nil {
		return nil, err
	}
	return s, nil
}

// Parse reads a station's JSON. Unknown keys are refused by name and line, since a
// mistyped key would be a setting lost; so are keys that are given twice. The error joins
// a *FieldError for everything that is wrong.
func Parse(data []byte) (*Station, error) {
	s, lines, faults := parse(data)
	if err := joined(faults, lines, ""); err != nil {
		return nil, fmt.Errorf("station: %w", err)
	}
	return s, nil
}

// byteOrderMark is what some editors put before UTF-8.
var byteOrderMark = []byte("\ufeff")

// parse reads and checks; lines are those of the keys, by path.
func parse(data []byte) (*Station, map[string]int, []*FieldError) {
	data = bytes.TrimPrefix(data, byteOrderMark)
	var s Station
	err := json.Unmarshal(data, &s)
	if syntax := (*json.SyntaxError)(nil); errors.As(err, &syntax) {
		return nil, nil, []*FieldError{{Line: lineAt(data, syntax.Offset), Err: err,
			Reason: fmt.Sprintf("this is no JSON: %v; look for a comma or a quote that is missing or too many", err)}}
	}
	mistyped := (*json.UnmarshalTypeError)(nil)
	if errors.As(err, &mistyped) && mistyped.Field == "" {
		return nil, nil, []*FieldError{{Line: 1, Err: err, Reason: fmt.Sprintf("want a station in braces, found %s", a(mistyped.Value))}}
	}
	lines, faults := keysOf(data, &s)
	if v, there := lines["version"]; !there {
		faults = append(faults, &FieldError{Key: "version", Reason: fmt.Sprintf("it is missing: write \"version\": %d", Version)})
	} else if s.Version != Version && (mistyped == nil || mistyped.Field != "version") {
		return nil, nil, []*FieldError{{Line: v, Key: "version", Reason: fmt.Sprintf("it is %d, this library reads %d", s.Version, Version)}}
	}
	if err != nil {
		return nil, lines, append(faults, badType(data, err, mistyped))
	}
	for _, key := range []string{"site.lat_deg", "site.lon_deg"} {
		if _, there := lines[key]; !there {
			faults = append(faults, &FieldError{Key: key, Reason: "it is missing: give degrees, north and east positive"})
		}
	}
	return &s, lines, append(faults, s.faults()...)
}

// badType is a value of another kind than its key wants.
func badType(data []byte, err error, mistyped *json.UnmarshalTypeError) *FieldError {
	if mistyped == nil {
		return &FieldError{Reason: err.Error(), Err: err}
	}
	wants := map[string]string{"float64": "a number", "int": "a whole number", "string": "a text in quotes", "bool": "true or false", "slice": "a list in square brackets", "struct": "keys in braces"}
	want := wants[mistyped.Type.Kind().String()]
	if want == "" {
		want = "a " + mistyped.Type.String()
	}
	return &FieldError{Line: lineAt(data, mistyped.Offset), Key: mistyped.Field, Reason: fmt.Sprintf("found %s, want %s", a(mistyped.Value), want), Err: err}
}

// a is a word with its article.
func a(word string) string {
	if strings.HasPrefix(word, "a") || strings.HasPrefix(word, "o") {
		return "an " + word
	}
	return "a " + word
}

// joined gives the faults their file and lines, in the order of the text.
func joined(faults []*FieldError, lines map[string]int, file string) error {
	all := make([]error, len(faults))
	for _, f := range faults {
		if f.File = file; f.Line == 0 {
			f.Line = lineOf(lines, f.Key)
		}
	}
	slices.SortStableFunc(faults, func(a, b *FieldError) int { return a.Line - b.Line })
	for i, f := range faults {
		all[i] = f
	}
	return errors.Join(all...)
}

// lineOf is the line of a key, or of the nearest above it that is in the text.
func lineOf(lines map[string]int, key string) int {
	for key != "" {
		if n, ok := lines[key]; ok {
			return n
		}
		key = key[:max(0, strings.LastIndexAny(key, ".["))]
	}
	return 0
}

// absent are the logs that the file names and that are not there.
func (s *Station) absent(fsys fs.FS) []*FieldError {
	var faults []*FieldError
	for key, names := range s.logs() {
		for i, name := range names {
			if _, err := fs.Stat(fsys, name); err != nil {
				faults = append(faults, &FieldError{Key: fmt.Sprintf("%s[%d]", key, i), Err: err,
					Reason: fmt.Sprintf("there is no %q beside this file, where logs are looked for: %v", name, err)})
			}
		}
	}
	return faults
}
