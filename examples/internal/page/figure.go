package page

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"slices"
	"strings"
)

// A Figure is a picture with its words. Draw makes one.
type Figure struct {
	Name    string // an identifier, once on a page
	Title   string // what it is called aloud
	Text    string // what it shows, for those who do not see it
	Caption string // below it, for all
	viewBox string
	inside  template.HTML
}

// ViewBox and Inside are for the layout.
func (f Figure) ViewBox() string { return f.viewBox }

// Inside is what is in the picture, in markup that Draw has looked through.
func (f Figure) Inside() template.HTML { return f.inside }

var identifier = regexp.MustCompile(`^[a-z][a-z0-9]*$`)

// Draw takes a picture from the function that writes it as an SVG file. Of the file only strokes,
// areas and words are taken over; an element or attribute that is none of these is an
// error, so that nothing comes into a page that was not thought of.
func Draw(name, title, text, caption string, write func(io.Writer) error) (Figure, error) {
	f := Figure{Name: name, Title: title, Text: text, Caption: caption}
	if !identifier.MatchString(name) {
		return f, fmt.Errorf("page: %q is no name of a figure: want small letters and digits", name)
	}
	var file bytes.Buffer
	if err := write(&file); err != nil {
		return f, err
	}
	if err := f.take(Visible(file.String())); err != nil {
		return f, fmt.Errorf("page: figure %s: %w", name, err)
	}
	return f, nil
}

// drawn lists the elements of a picture, and the attributes that each may have.
var drawn = map[string][]string{
	"g":        {"transform", "style"},
	"path":     {"d", "style", "transform"},
	"rect":     {"x", "y", "width", "height", "style", "transform"},
	"circle":   {"cx", "cy", "r", "style", "transform"},
	"line":     {"x1", "y1", "x2", "y2", "style", "transform"},
	"polyline": {"points", "style", "transform"},
	"polygon":  {"points", "style", "transform"},
	"text":     {"x", "y", "style", "transform"},
	"tspan":    {"x", "y", "dx", "dy", "style"},
}

// harmless is what a drawing's attribute is made of: numbers, colours, names. No quotes, no
// address, no at-sign, no escape.
var harmless = regexp.MustCompile(`^[-+a-zA-Z0-9#%.,:;() \n\t]*$`)

// take copies the picture's inside.
func (f *Figure) take(file string) error {
	var out strings.Builder
	d := xml.NewDecoder(strings.NewReader(file))
	depth := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		switch token := token.(type) {
		case xml.StartElement:
			if depth++; depth == 1 {
				err = f.frame(token)
			} else {
				err = open(&out, token)
			}
		case xml.EndElement:
			if depth--; depth > 0 {
				fmt.Fprintf(&out, "</%s>", token.Name.Local)
			}
		case xml.CharData:
			if depth > 0 {
				out.WriteString(template.HTMLEscapeString(string(token)))
			}
		}
		if err != nil {
			return err
		}
	}
	if f.viewBox == "" {
		return errors.New("there is no picture")
	}
	f.inside = template.HTML(strings.TrimSpace(out.String()))
	return nil
}

// frame takes the viewBox from the outermost element: the page's style sets the size.
func (f *Figure) frame(e xml.StartElement) error {
	if e.Name.Local != "svg" {
		return fmt.Errorf("the file holds <%s>, want <svg>", e.Name.Local)
	}
	for _, a := range e.Attr {
		if a.Name.Local == "viewBox" && harmless.MatchString(a.Value) {
			f.viewBox = a.Value
		}
	}
	if f.viewBox == "" {
		return errors.New("<svg> has no viewBox")
	}
	return nil
}

func open(out *strings.Builder, e xml.StartElement) error {
	name := e.Name.Local
	allowed, ok := drawn[name]
	if !ok {
		return fmt.Errorf("<%s> is not among what a page draws", name)
	}
	fmt.Fprintf(out, "<%s", name)
	for _, a := range e.Attr {
		key := a.Name.Local
		if !slices.Contains(allowed, key) || !harmless.MatchString(a.Value) || strings.Contains(strings.ToLower(a.Value), "url") {
			return fmt.Errorf("<%s> has %s=%.40q, which is not among what a page draws", name, key, a.Value)
		}
		fmt.Fprintf(out, ` %s="%s"`, key, strings.TrimSpace(a.Value))
	}
	out.WriteString(">")
	return nil
}
