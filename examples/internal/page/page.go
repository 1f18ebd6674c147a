package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"example.org/noonfall/logfile"
)

// A Page is what is written. Texts are plain: markup in them is shown, not obeyed.
type Page struct {
	Title    string   // a question; the window's name and the one h1
	About    []string // below it: whose, where, which day
	Verdict  Verdict
	Sections []Section
	Foot     string
}

// A Verdict is the answer to the title's question.
type Verdict struct {
	Answer  string // one sentence
	Points  []string
	Mind    []string // what makes it doubtful
	Refused bool     // there is none, and Answer says so
}

// A Section is a heading and what is below it, shown in the order of the fields.
type Section struct {
	Part     string // of a report on a board: Method, Result; may be empty
	Heading  string
	Text     []string // paragraphs
	Quote    string   // somebody's own words, lines kept
	Figures  []Figure
	Tables   []Table
	Lead     string // a line above the list
	List     []string
	Numbered bool // the list's order counts
}

// A Table can be copied into a spreadsheet: plain cells, units in the headings, nothing where
// there is no value. The first cell of a row is its heading.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]string
}

// A Column is one column's heading. Numbers stand to the right.
type Column struct {
	Head   string // with the unit in brackets
	Number bool
}

//go:embed page.html
var layout string

//go:embed page.css
var style string

var made = template.Must(template.New("page").Funcs(template.FuncMap{
	"style": func() template.CSS { return template.CSS(style) },
	"show":  Visible,
	"cell":  cell,
	"id":    id,
}).Parse(layout))

// unbroken spells out what a spreadsheet would cut a copied table at.
var unbroken = strings.NewReplacer("\t", `\t`, "\n", `\n`)

// cell is text that a spreadsheet neither cuts nor runs. What begins with a digit or comma it would
// not run: logfile.Guard minds that for readers of files with a decimal comma.
func cell(text string) string {
	text = unbroken.Replace(Visible(text))
	if strings.IndexAny(text, "0123456789,") == 0 {
		return text
	}
	return logfile.Guard(text)
}

// id is an identifier within the page: its kind, and where it stands.
func id(kind string, at ...int) string {
	for _, k := range at {
		kind += fmt.Sprintf("-%d", k+1)
	}
	return kind
}

// Write writes the page. The error is of the writer, or names a table whose rows do not have
// as many cells as it has columns.
func (p *Page) Write(w io.Writer) error {
	for _, s := range p.Sections {
		for _, t := range s.Tables {
			if err := t.check(); err != nil {
				return fmt.Errorf("page: section %q: %w", s.Heading, err)
			}
		}
	}
	return made.Execute(w, p)
}

func (t *Table) check() error {
	for i, row := range t.Rows {
		if len(row) != len(t.Columns) {
			return fmt.Errorf("table %q: row %d has %d cells, want %d", t.Caption, i+1, len(row), len(t.Columns))
		}
	}
	return nil
}
