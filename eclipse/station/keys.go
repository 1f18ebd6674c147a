package station

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// A keyWalk goes over the text of a station beside the type that it is read into. The
// standard decoder refuses an unknown key too, but says not where it is, lets a key stand
// twice, and takes "Site" for "site".
type keyWalk struct {
	data   []byte
	d      *json.Decoder
	lines  map[string]int
	faults []*FieldError
}

// keysOf are the lines of all keys and list items by path, and the keys that cannot be.
// The text must be JSON.
func keysOf(data []byte, into any) (map[string]int, []*FieldError) {
	w := keyWalk{data: data, d: json.NewDecoder(bytes.NewReader(data)), lines: map[string]int{}}
	w.value(reflect.TypeOf(into), "")
	return w.lines, w.faults
}

// value reads one value; t is nil where nothing is known of its keys.
func (w *keyWalk) value(t reflect.Type, path string) {
	for t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	token, err := w.d.Token()
	if err != nil {
		return
	}
	switch token {
	case json.Delim('{'):
		w.object(t, path)
	case json.Delim('['):
		var item reflect.Type
		if t != nil && t.Kind() == reflect.Slice {
			item = t.Elem()
		}
		for i := 0; w.d.More(); i++ {
			at := fmt.Sprintf("%s[%d]", path, i)
			w.lines[at] = lineAt(w.data, w.next())
			w.value(item, at)
		}
		w.close()
	}
}

// next is where the next token begins.
func (w *keyWalk) next() int64 {
	at := w.d.InputOffset()
	for at < int64(len(w.data)) && strings.IndexByte(" \t\r\n,:", w.data[at]) >= 0 {
		at++
	}
	return at
}

func (w *keyWalk) close() { _, _ = w.d.Token() } // the text has been found to be JSON

func (w *keyWalk) object(t reflect.Type, path string) {
	known := keysIn(t)
	for w.d.More() {
		token, err := w.d.Token()
		key, ok := token.(string)
		if err != nil || !ok {
			return
		}
		at := key
		if path != "" {
			at = path + "." + key
		}
		line := lineAt(w.data, w.d.InputOffset())
		field, ok := known[key]
		switch {
		case known != nil && !ok:
			w.faults = append(w.faults, &FieldError{Line: line, Key: at, Reason: "there is no such key" + suggestion(key, known)})
		case w.lines[at] > 0:
			w.faults = append(w.faults, &FieldError{Line: line, Key: at, Reason: fmt.Sprintf("it stands in line %d already: keep one", w.lines[at])})
		}
		w.lines[at] = line
		w.value(field, at)
	}
	w.close()
}

// keysIn are the JSON keys of a struct; nil where the type is none, or reads itself.
func keysIn(t reflect.Type) map[string]reflect.Type {
	if t == nil || t.Kind() != reflect.Struct || reflect.PointerTo(t).Implements(reflect.TypeFor[json.Unmarshaler]()) {
		return nil
	}
	keys := map[string]reflect.Type{}
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.IsExported() && !f.Anonymous && name != "-" {
			if name == "" {
				name = f.Name
			}
			keys[name] = f.Type
		}
	}
	return keys
}

// suggestion names the known key that is nearest, or all of them.
func suggestion(key string, known map[string]reflect.Type) string {
	var names []string
	nearest, least := "", 3 // edits; more is another word
	for name := range known {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		n := edits(strings.ToLower(key), name)
		if strings.HasPrefix(name, key) || strings.HasPrefix(key, name) {
			n = min(n, 2)
		}
		if n < least {
			nearest, least = name, n
		}
	}
	if nearest != "" {
		return fmt.Sprintf("; is %q meant?", nearest)
	}
	return "; there are " + strings.Join(names, ", ")
}

// edits is the distance of V. I. Levenshtein (1965): letters put in, left out or changed.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// lineAt is the line, from 1, of an offset in bytes.
func lineAt(data []byte, offset int64) int {
	offset = min(max(offset, 0), int64(len(data)))
	return 1 + bytes.Count(data[:offset], []byte("\n"))
}
