package logfile

import (
	"encoding/json"
	"errors"
	"maps"
	"strings"
)

// members is a JSON object that is being taken apart: what has a field is taken
// out, the rest is kept.
type members struct {
	left Properties
	way  string // to the object, for errors
	err  error  // the first one
}

func open(b []byte, way string) members {
	m := members{way: way}
	if err := json.Unmarshal(b, &m.left); err != nil || m.left == nil {
		m.err = &MetadataError{Property: way, Found: excerpt(b), Reason: "wanted a JSON object"}
	}
	return m
}

// take moves a member into a variable of its type.
func (m *members) take(key string, into any, wanted string) {
	b, there := m.left[key]
	delete(m.left, key)
	if !there || m.err != nil {
		return
	}
	err := json.Unmarshal(b, into)
	if inner, ok := errors.AsType[*MetadataError](err); ok {
		m.err = inner
		return
	}
	if err != nil || string(b) == "null" {
		m.err = &MetadataError{Property: join(m.way, key), Found: excerpt(b), Reason: "wanted " + wanted}
	}
}

// takeTexts takes a text or an array of texts.
func (m *members) takeTexts(key string, into *[]string) {
	if b := m.left[key]; len(b) > 0 && b[0] == '"' {
		*into = []string{""}
		m.take(key, &(*into)[0], "a text")
		return
	}
	m.take(key, into, "a text or an array of texts")
}

// rest is what has no field, nil where there is nothing.
func (m *members) rest() Properties {
	if len(m.left) == 0 {
		return nil
	}
	return m.left
}

func join(way, key string) string {
	if way == "" {
		return key
	}
	return way + "." + key
}

// UnmarshalJSON takes a document apart; Check says whether it keeps the rules. The error is
// a *MetadataError for a property that is of another type.
func (m *Metadata) UnmarshalJSON(b []byte) error {
	o := open(b, "")
	*m = Metadata{}
	var context, schema json.RawMessage
	o.take("@context", &context, "a context")
	o.take("url", &m.URL, "a URL")
	o.take("dialect", &m.Dialect, "an object")
	o.take("tableSchema", &schema, "an object: schemas elsewhere are not fetched")
	if b := o.left["dc:title"]; len(b) > 0 && b[0] == '"' { // else in other languages: kept as it is
		o.take("dc:title", &m.Title, "a text")
	}
	if id, ok := bareID(o.left["dc:license"]); ok {
		delete(o.left, "dc:license")
		m.License = id
	}
	m.Other = o.rest()
	if o.err != nil {
		return o.err
	}
	if err := m.takeContext(context); err != nil {
		return err
	}
	if schema == nil {
		return nil
	}
	return m.takeSchema(schema)
}

// bareID reads {"@id": URL} with nothing else in it.
func bareID(b json.RawMessage) (string, bool) {
	var o map[string]string
	if len(b) == 0 || json.Unmarshal(b, &o) != nil || len(o) != 1 {
		return "", false
	}
	id, ok := o["@id"]
	return id, ok && id != ""
}

func (m *Metadata) takeContext(b json.RawMessage) error {
	wrong := &MetadataError{Property: "@context", Found: excerpt(b),
		Reason: `wanted "` + csvwContext + `", or an array of that and an object with @base or @language`}
	var name string
	if json.Unmarshal(b, &name) == nil {
		if name != csvwContext {
			return wrong
		}
		return nil
	}
	var pair []json.RawMessage
	if json.Unmarshal(b, &pair) != nil || len(pair) != 2 || json.Unmarshal(pair[0], &name) != nil || name != csvwContext {
		return wrong
	}
	o := open(pair[1], "@context[1]")
	o.take("@language", &m.Language, "a text")
	o.take("@base", &m.Base, "a text")
	if o.err != nil {
		return o.err
	}
	if len(o.left) > 0 || m.Language == "" && m.Base == "" {
		return wrong
	}
	return nil
}

func (m *Metadata) takeSchema(b json.RawMessage) error {
	o := open(b, "tableSchema")
	o.take("columns", &m.Columns, "an array of columns")
	o.takeTexts("primaryKey", &m.PrimaryKey)
	m.SchemaMore = o.rest()
	return o.err
}

// UnmarshalJSON takes a column apart, with the errors of a document.
func (c *MetadataColumn) UnmarshalJSON(b []byte) error {
	o := open(b, "tableSchema.columns[]")
	*c = MetadataColumn{}
	o.take("name", &c.Name, "a text")
	if b := o.left["titles"]; len(b) > 0 && b[0] != '{' { // by language: kept as it is
		o.takeTexts("titles", &c.Titles)
	}
	if b := o.left["dc:description"]; len(b) > 0 && b[0] == '"' {
		o.take("dc:description", &c.Description, "a text")
	}
	o.take("required", &c.Required, "true or false")
	o.take("datatype", &c.Datatype, "a name or an object")
	if b := o.left["schema:unitText"]; len(b) > 0 && b[0] == '"' {
		o.take("schema:unitText", &c.Unit, "a text")
	}
	c.Other = o.rest()
	return o.err
}

// UnmarshalJSON reads a datatype, which may be a name alone, with the errors of a document.
func (t *Datatype) UnmarshalJSON(b []byte) error {
	*t = Datatype{}
	if json.Unmarshal(b, &t.Base) == nil {
		return nil
	}
	o := open(b, "datatype")
	o.take("base", &t.Base, "a name")
	if b := o.left["format"]; len(b) > 0 && b[0] == '"' { // of numbers it may be an object
		o.take("format", &t.Format, "a text")
	}
	t.Minimum, t.Maximum = o.bound("minimum"), o.bound("maximum")
	t.Other = o.rest()
	return o.err
}

// bound takes a text or a number, as text.
func (m *members) bound(key string) (text string) {
	b := m.left[key]
	var n json.Number // takes both a number and a text that is one
	if len(b) > 0 && b[0] != '"' && json.Unmarshal(b, &n) == nil {
		delete(m.left, key)
		return n.String()
	}
	m.take(key, &text, "a number or a text")
	return text
}

// put adds a member, unless its value says nothing.
func (p Properties) put(key string, v any, skip bool) error {
	if skip {
		return nil
	}
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	p[key] = json.RawMessage(strings.TrimSpace(b.String()))
	return err
}

func oneOrMany(texts []string) any {
	if len(texts) == 1 {
		return texts[0]
	}
	return texts
}

// MarshalJSON writes the document; members are in the order of their names. The error is
// that of Properties that are no JSON.
func (m *Metadata) MarshalJSON() ([]byte, error) {
	schema := copyOf(m.SchemaMore)
	out := copyOf(m.Other)
	var context any = csvwContext
	if m.Language != "" || m.Base != "" {
		context = []any{csvwContext, struct {
			Base     string `json:"@base,omitempty"`
			Language string `json:"@language,omitempty"`
		}{m.Base, m.Language}}
	}
	for _, step := range []error{
		schema.put("columns", m.Columns, len(m.Columns) == 0),
		schema.put("primaryKey", oneOrMany(m.PrimaryKey), len(m.PrimaryKey) == 0),
		out.put("@context", context, false),
		out.put("url", m.URL, m.URL == ""),
		out.put("dc:title", m.Title, m.Title == ""),
		out.put("dc:license", map[string]string{"@id": m.License}, m.License == ""),
		out.put("dialect", m.Dialect, m.Dialect == nil),
	} {
		if step != nil {
			return nil, step
		}
	}
	if err := out.put("tableSchema", schema, len(schema) == 0); err != nil {
		return nil, err
	}
	return json.Marshal(out)
}

// MarshalJSON writes a column; the error is as the document's.
func (c MetadataColumn) MarshalJSON() ([]byte, error) {
	out := copyOf(c.Other)
	for _, step := range []error{
		out.put("name", c.Name, c.Name == ""),
		out.put("titles", oneOrMany(c.Titles), len(c.Titles) == 0),
		out.put("dc:description", c.Description, c.Description == ""),
		out.put("required", true, !c.Required),
		out.put("datatype", c.Datatype, c.Datatype.zero()),
		out.put("schema:unitText", c.Unit, c.Unit == ""),
	} {
		if step != nil {
			return nil, step
		}
	}
	return json.Marshal(out)
}

func (t Datatype) zero() bool { return t.bare() && t.Base == "" }

// bare says that the name alone is enough.
func (t Datatype) bare() bool {
	return t.Format == "" && t.Minimum == "" && t.Maximum == "" && len(t.Other) == 0
}

// MarshalJSON writes a datatype, as a name where that is all; the error is as the document's.
func (t Datatype) MarshalJSON() ([]byte, error) {
	if t.bare() {
		return json.Marshal(t.Base)
	}
	out := copyOf(t.Other)
	for _, step := range []error{
		out.put("base", t.Base, t.Base == ""),
		out.put("format", t.Format, t.Format == ""),
		out.put("minimum", t.Minimum, t.Minimum == ""),
		out.put("maximum", t.Maximum, t.Maximum == ""),
	} {
		if step != nil {
			return nil, step
		}
	}
	return json.Marshal(out)
}

func copyOf(p Properties) Properties {
	if p == nil {
		return Properties{}
	}
	return maps.Clone(p)
}
