// Package pagecheck looks through a page as the tests want it: well-formed, self-contained,
// without script, and with what those need who read it by keyboard or by ear. Tests alone
// import it. What only a browser can see, contrast and overflow, is .ci/pages' part.
package pagecheck

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
)

// elements lists all that a page has, with the attributes that each may have beside those that
// any may. An element or attribute that is not here came in from outside.
var elements = map[string]string{
	"html": "lang", "head": "", "meta": "charset name content http-equiv", "title": "", "style": "", "body": "", "a": "href", "header": "", "main": "", "footer": "", "nav": "",
	"section": "", "h1": "", "h2": "", "p": "", "strong": "", "span": "", "bdi": "", "ul": "", "ol": "", "li": "", "blockquote": "dir", "div": "", "figure": "", "figcaption": "",
	"table": "", "caption": "", "thead": "", "tbody": "", "tr": "", "th": "scope", "td": "",
	"svg": "viewBox", "desc": "", "g": "transform style", "path": "d transform style", "rect": "x y width height transform style", "circle": "cx cy r transform style",
	"line": "x1 y1 x2 y2 transform style", "polyline": "points transform style", "polygon": "points transform style", "text": "x y transform style", "tspan": "x y dx dy style",
}

const anyElement = "id class role tabindex aria-labelledby aria-describedby"

// A look is what is gathered on the way through a page.
type look struct {
	faults          []error
	stack           []xml.StartElement
	ids             map[string]bool
	wanted          []string // ids that something points to
	h1, h2          int
	tables, figures int
	text            strings.Builder // what is read, without style
}

// Faults are all that is wrong with a page; none is good.
func Faults(page string) []error {
	l := look{ids: map[string]bool{}}
	d := xml.NewDecoder(strings.NewReader(page))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return append(l.faults, fmt.Errorf("not well-formed: %w", err))
		}
		switch token := token.(type) {
		case xml.StartElement:
			l.open(token)
		case xml.EndElement:
			l.stack = l.stack[:len(l.stack)-1]
		case xml.CharData:
			l.read(string(token))
		}
	}
	l.end(page)
	return l.faults
}

// Text is what a page says, without its style.
func Text(page string) string {
	l := look{ids: map[string]bool{}}
	d := xml.NewDecoder(strings.NewReader(page))
	for token, err := d.Token(); err == nil; token, err = d.Token() {
		switch token := token.(type) {
		case xml.StartElement:
			l.stack = append(l.stack, token.Copy())
		case xml.EndElement:
			l.stack = l.stack[:len(l.stack)-1]
		case xml.CharData:
			l.read(string(token))
		}
	}
	return l.text.String()
}

func (l *look) fault(format string, args ...any) {
	l.faults = append(l.faults, fmt.Errorf(format, args...))
}

func (l *look) inside(name string) bool {
	return slices.ContainsFunc(l.stack, func(e xml.StartElement) bool { return e.Name.Local == name })
}

func (l *look) read(text string) {
	if !l.inside("style") {
		l.text.WriteString(text)
	}
}

func attribute(e xml.StartElement, key string) string {
	for _, a := range e.Attr {
		if a.Name.Local == key {
			return a.Value
		}
	}
	return ""
}

func (l *look) open(e xml.StartElement) {
	l.stack = append(l.stack, e.Copy())
	name := e.Name.Local
	may, known := elements[name]
	if !known {
		l.fault("<%s> has no place in a page", name)
	}
	for _, a := range e.Attr {
		l.attribute(name, may, a.Name.Local, a.Value)
	}
	switch name {
	case "html":
		if attribute(e, "lang") == "" {
			l.fault("<html> has no lang")
		}
	case "h1":
		l.h1++
	case "h2":
		if l.h2++; l.h1 == 0 {
			l.fault("an h2 comes before the h1")
		}
	case "table":
		l.tables++
	case "caption":
		l.tables--
	case "th":
		if s := attribute(e, "scope"); s != "col" && s != "row" {
			l.fault("<th> has the scope %q", s)
		}
	case "svg":
		l.figures++
		if attribute(e, "role") != "img" || attribute(e, "aria-labelledby") == "" || attribute(e, "aria-describedby") == "" {
			l.fault("a picture lacks its role, name or description: %v", e.Attr)
		}
	case "desc":
		l.figures--
	}
}

var outside = regexp.MustCompile(`(?i)(https?|data|javascript|vbscript|file):|url\(|@import|expression`)

func (l *look) attribute(element, may, key, value string) {
	if !slices.Contains(strings.Fields(may+" "+anyElement), key) {
		l.fault("<%s> has the attribute %s=%q", element, key, value)
	}
	if outside.MatchString(value) {
		l.fault("<%s> reaches out of the page: %s=%q", element, key, value)
	}
	switch key {
	case "id":
		if l.ids[value] {
			l.fault("the id %q stands twice", value)
		}
		l.ids[value] = true
	case "href":
		if !strings.HasPrefix(value, "#") {
			l.fault("a link leads out of the page: %q", value)
		}
		l.wanted = append(l.wanted, strings.TrimPrefix(value, "#"))
	case "aria-labelledby", "aria-describedby":
		l.wanted = append(l.wanted, strings.Fields(value)...)
	}
}

var style = regexp.MustCompile(`(?s)<style>(.*?)</style>`)

func (l *look) end(page string) {
	if l.h1 != 1 {
		l.fault("%d h1, want one", l.h1)
	}
	if l.tables != 0 {
		l.fault("%d tables have no caption", l.tables)
	}
	if l.figures != 0 {
		l.fault("%d pictures have no description", l.figures)
	}
	for _, id := range l.wanted {
		if !l.ids[id] {
			l.fault("nothing has the id %q", id)
		}
	}
	styles := style.FindAllStringSubmatch(page, -1)
	if len(styles) != 1 || outside.MatchString(styles[0][1]) {
		l.fault("%d styles, or one that loads something", len(styles))
	}
	if !strings.HasPrefix(page, "<!DOCTYPE html>") {
		l.fault("the page does not begin with its type")
	}
	for _, r := range page {
		if r < ' ' && r != '\n' && r != '\t' || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			l.fault("the page holds the character %U", r)
		}
	}
}

var pictured = regexp.MustCompile(`(?s)(</desc>).*?(</svg>)`)

// Bare is a page without its style and the insides of its pictures, which have golden files
// of their own.
func Bare(page string) string {
	return style.ReplaceAllString(pictured.ReplaceAllString(page, "$1$2"), "<style></style>")
}

// Shape is the sequence of a page's tags, without what they hold: two pages of one shape
// differ in words alone.
func Shape(page string) string {
	return regexp.MustCompile(`>[^<]*<`).ReplaceAllString(Bare(page), "><")
}
