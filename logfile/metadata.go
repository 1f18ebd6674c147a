package logfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// The vocabulary of W3C CSV on the Web (Recommendations of 17 December 2015).
const csvwContext = "http://www.w3.org/ns/csvw"

// ErrMetadata is what every MetadataError unwraps to.
var ErrMetadata = errors.New("these are no metadata of a table after W3C CSV on the Web")

// A MetadataError says which property of a metadata document breaks a rule.
type MetadataError struct {
	Property string // the way to it: tableSchema.columns[2].name
	Found    string // what stands there
	Reason   string // what was wanted
}

// Error names the property, what stands there and what is wanted.
func (e *MetadataError) Error() string {
	return fmt.Sprintf("%s: %v: found %q, %s", e.Property, ErrMetadata, e.Found, e.Reason)
}

// Unwrap returns ErrMetadata.
func (e *MetadataError) Unwrap() error { return ErrMetadata }

// Properties are the members of a JSON object that Metadata has no field for,
// common properties such as dc:creator among them. They are kept as they are.
type Properties map[string]json.RawMessage

// Metadata describe one CSV file in the JSON-LD of W3C CSV on the Web. Beside
// log.csv they belong into log.csv-metadata.json, where readers look for them;
// the media type is application/csvm+json. The zero value is not valid: Check says
// what is missing.
type Metadata struct {
	URL        string           // of the CSV file, relative to the metadata
	Language   string           // of titles and descriptions, BCP 47; empty does not say
	Base       string           // against which URLs are resolved; empty is the metadata's own
	Title      string           // dc:title
	License    string           // dc:license, a URL
	Columns    []MetadataColumn // from left to right
	PrimaryKey []string         // names of columns
	Dialect    Properties       // how the file is cut, as the document says; may be empty
	Other      Properties       // of the table
	SchemaMore Properties       // other members of tableSchema
}

// A MetadataColumn describes one column; they match those of the file by position.
type MetadataColumn struct {
	// Name is a variable name of RFC 6570: letters, digits, _, dots inside and %XX,
	// not beginning with _; once in a table.
	Name        string
	Titles      []string // one of them is the file's heading
	Description string   // dc:description
	Required    bool     // no cell may be empty
	Datatype    Datatype // what its cells hold
	// Unit is a UCUM code, as schema:unitText; CSV on the Web has no term of its own.
	Unit  string
	Other Properties // of the column
}

// A Datatype is what the cells of a column hold. The zero value is not written, and
// means string.
type Datatype struct {
	Base             string     // dateTime, double, decimal, string, ... ; empty is string
	Format           string     // dateTime: yyyy-MM-ddTHH:mm:ss.SSSX, S as many as digits at most
	Minimum, Maximum string     // as text; empty is none
	Other            Properties // of the datatype
}

// Metadata describe what was written so far: take them when the last record is.
// The URL is that of the CSV file relative to the metadata's: its name, when both
// lie in one folder. Give Title, License and the rest as you like and Check again.
func (w *Writer) Metadata(url string) *Metadata {
	m := &Metadata{URL: url, Language: "en", Dialect: canonicalDialect()}
	for i, f := range w.fields {
		c := MetadataColumn{Name: variableName(f.Name), Titles: []string{f.Name}, Unit: f.Unit, Datatype: Datatype{Base: "double"}}
		switch {
		case f.Role == Time:
			c.Required = true
			c.Description, c.Datatype = w.timeType()
		case f.Role == Skip && f.Unit == "":
			c.Datatype = Datatype{Base: "string"}
			c.Description = "text; an apostrophe before text that a spreadsheet would run as a formula is not part of it"
		case f.Role == Humidity:
			c.Datatype.Minimum = "0"
		case f.Role == Lat || f.Role == Lon:
			c.Description = w.placeRemark()
		}
		if slices.ContainsFunc(m.Columns, func(o MetadataColumn) bool { return o.Name == c.Name }) {
			c.Name = fmt.Sprintf("%s.%d", c.Name, i+1)
		}
		m.Columns = append(m.Columns, c)
	}
	return m
}

// timeType is that of the stamps that were written. A leap second is no dateTime
// of XML Schema, so a file that holds one has text with a pattern.
func (w *Writer) timeType() (description string, t Datatype) {
	if w.leaps > 0 {
		return "instant of the reading, UTC, RFC 3339; with leap seconds", Datatype{Base: "string",
			Format: `\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z`}
	}
	format := "yyyy-MM-ddTHH:mm:ss"
	if w.digits > 0 {
		format += "." + strings.Repeat("S", w.digits)
	}
	return "instant of the reading, UTC", Datatype{Base: "dateTime", Format: format + "X"}
}

func (w *Writer) placeRemark() string {
	if w.opt.Grid.Step == 0 {
		return "WGS84, north and east positive"
	}
	return fmt.Sprintf("WGS84, north and east positive; rounded to %s degrees for privacy: %v", shortest(w.opt.Grid.Step), w.cost)
}

// canonicalDialect says how the file is cut. The documents of the standard differ
// in what holds where trim is missing, so it is there.
func canonicalDialect() Properties {
	return Properties{
		"delimiter": json.RawMessage(`","`), "header": json.RawMessage(`true`), "encoding": json.RawMessage(`"utf-8"`),
		"lineTerminators": json.RawMessage(`["\r\n","\n"]`), "trim": json.RawMessage(`false`),
	}
}

// variableName makes a heading the name of a column: what is not a letter or digit
// of ASCII is written %XX, byte by byte (RFC 6570, section 2.3).
func variableName(heading string) string {
	var b strings.Builder
	for i := range len(heading) {
		c := heading[i]
		if c|0x20-'a' < 26 || c-'0' < 10 || c == '_' && i > 0 {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

// ReadMetadata reads a document and checks it.
func ReadMetadata(r io.Reader) (*Metadata, error) {
	var m Metadata
	if err := json.NewDecoder(r).Decode(&m); err != nil {
		return nil, fmt.Errorf("logfile: metadata: %w", err)
	}
	return &m, m.Check()
}

// Write checks the document and writes it, indented.
func (m *Metadata) Write(w io.Writer) error {
	if err := m.Check(); err != nil {
		return err
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(m); err != nil {
		return fmt.Errorf("logfile: metadata: %w", err)
	}
	return nil
}
