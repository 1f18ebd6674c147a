package page_test

import (
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/examples/internal/page"
	"example.org/noonfall/examples/internal/page/pagecheck"
)

const picture = `<?xml version="1.0"?>
<!-- made -->
<svg width="9pt" height="9pt" viewBox="0 0 9 9"
	xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">
<g transform="scale(1, -1) translate(0, -9)">
<path d="M0,0L9,9Z" style="fill:#FFFFFF" />
<text x="1" y="-1" transform="scale(1, -1)"
	style="font-family:Liberation Serif;font-size:12px">%s</text>
</g>
</svg>
`

// written makes a page in which every text is the one given.
func written(t *testing.T, word string) string {
	t.Helper()
	f, err := page.Draw("fig", word, word, word, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, picture, strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(word))
		return err
	})
	require.NoError(t, err)
	s := page.Section{Part: word, Heading: word, Text: []string{word}, Quote: word, Figures: []page.Figure{f}, Lead: word, List: []string{word, word},
		Tables: []page.Table{{Caption: word, Columns: []page.Column{{Head: word}, {Head: word, Number: true}}, Rows: [][]string{{word, word}}}}}
	numbered := page.Section{Heading: word, List: []string{word}, Numbered: true}
	p := page.Page{Title: word, About: []string{word}, Verdict: page.Verdict{Answer: word, Points: []string{word}, Mind: []string{word}}, Sections: []page.Section{s, numbered}, Foot: word}
	var b strings.Builder
	require.NoError(t, p.Write(&b))
	return b.String()
}

func TestPageIsSound(t *testing.T) {
	for _, f := range pagecheck.Faults(written(t, "word")) {
		t.Error(f)
	}
}

// Whatever stands in the place of a word, it is shown as text: the page has the same tags as
// with a harmless word, nothing else, and says it.
func TestHostileWords(t *testing.T) {
	tame := pagecheck.Shape(written(t, "word"))
	for _, tt := range []struct{ word, shown string }{
		{"<script>alert(1)</script>", "<script>alert(1)</script>"},
		{`"><img src=x onerror=alert(1)>`, `"><img src=x onerror=alert(1)>`},
		{`' onmouseover='alert(1)`, `' onmouseover='alert(1)`},
		{"javascript:alert(1)", "javascript:alert(1)"},
		{"</style><script>x</script>", "</style><script>x</script>"},
		{"</title></svg></desc><b>", "</title></svg></desc><b>"},
		{"<!--", "<!--"}, {"-->", "-->"}, {"]]>", "]]>"}, {"<?xml ?>", "<?xml ?>"},
		{"{{.Title}}", "{{.Title}}"},
		{"&lt;b&gt; &amp; &#0;", "&lt;b&gt; &amp; &#0;"},
		{"a\u202egnp.exe", `a\u202egnp.exe`},
		{"\u2066x\u2069", `\u2066x\u2069`},
		{"\x00\x07\x1b[31mred\x7f\u0085", `\x00\a\x1b[31mred\x7f\u0085`},
		{"\ufeffx\u200by\u2028z", `\ufeffx\u200by\u2028z`},
		{"\xff\xfe", "\ufffd\ufffd"},
		{strings.Repeat("W", 5000), strings.Repeat("W", 100)},
		{"مدرسة", "مدرسة"}, {"学校", "学校"}, {"👩\u200d🚀", "👩\u200d🚀"},
	} {
		got := written(t, tt.word)
		for _, f := range pagecheck.Faults(got) {
			t.Errorf("%.40q: %v", tt.word, f)
		}
		if pagecheck.Shape(got) != tame {
			t.Errorf("%.40q changes the page's tags:\n%s", tt.word, pagecheck.Shape(got))
		}
		// Title, h1, about, answer, point, two headings, a part, a paragraph, a quote, ...
		if n := strings.Count(pagecheck.Text(got), tt.shown); n < 20 {
			t.Errorf("%.40q is shown %d times, want it 20 times and more", tt.word, n)
		}
	}
}

// A cell that a spreadsheet would run is guarded, numbers and sentences are not.
func TestCells(t *testing.T) {
	for _, tt := range []struct{ cell, want string }{
		{"=1+1", "'=1+1"}, {"@x", "'@x"}, {"+x", "'+x"}, {" =1", "' =1"}, {"\u202e=1", `\u202e=1`},
		{"a\tb\nc", `a\tb\nc`}, {"\t=1", `\t=1`}, {"-5.6", "-5.6"}, {"+3e4", "+3e4"}, {"1, together 62 s", "1, together 62 s"}, {"", ""},
	} {
		p := page.Page{Sections: []page.Section{{Tables: []page.Table{{Columns: []page.Column{{}, {}}, Rows: [][]string{{"head", tt.cell}}}}}}}
		var b strings.Builder
		require.NoError(t, p.Write(&b))
		if want := "head" + tt.want; !strings.Contains(pagecheck.Text(b.String()), want) {
			t.Errorf("%q: wanted %q in %q", tt.cell, want, pagecheck.Text(b.String()))
		}
	}
}

func TestRaggedTable(t *testing.T) {
	p := page.Page{Sections: []page.Section{{Heading: "H", Tables: []page.Table{{Caption: "C", Columns: []page.Column{{}}, Rows: [][]string{{"a"}, {"b", "c"}}}}}}}
	if err := p.Write(io.Discard); err == nil || !strings.Contains(err.Error(), `"C": row 2 has 2 cells, want 1`) {
		t.Errorf("%v", err)
	}
}

// A picture that holds anything but a drawing is refused by name.
func TestDrawRefuses(t *testing.T) {
	for _, tt := range []struct{ name, svg, want string }{
		{"Fig 1", "<svg viewBox=''/>", "no name"},
		{"f", `<svg viewBox="0 0 1 1"><script>x</script></svg>`, "<script>"},
		{"f", `<svg viewBox="0 0 1 1"><image href="x"/></svg>`, "<image>"},
		{"f", `<svg viewBox="0 0 1 1"><foreignObject/></svg>`, "<foreignObject>"},
		{"f", `<svg viewBox="0 0 1 1"><path onload="x"/></svg>`, "onload"},
		{"f", `<svg viewBox="0 0 1 1"><path style="fill:url(#a)"/></svg>`, "style"},
		{"f", `<svg viewBox="0 0 1 1"><path style="fill:URL (x)"/></svg>`, "style"},
		{"f", `<svg viewBox="0 0 1 1"><path style="a:\75rl"/></svg>`, "style"},
		{"f", `<svg viewBox="0 0 1 1"><a xmlns:x="y" x:href="#"/></svg>`, "<a>"},
		{"f", `<svg viewBox="&quot;"/>`, "viewBox"},
		{"f", `<svg/>`, "viewBox"},
		{"f", `<p/>`, "<svg>"},
		{"f", `<svg viewBox="0 0 1 1"><g>`, "EOF"},
		{"f", ``, "no picture"},
	} {
		_, err := page.Draw(tt.name, "", "", "", func(w io.Writer) error { _, err := io.WriteString(w, tt.svg); return err })
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want a word of %s", tt.svg, err, tt.want)
		}
	}
	if _, err := page.Draw("f", "", "", "", func(io.Writer) error { return io.ErrShortWrite }); err == nil {
		t.Error("a picture that cannot be drawn is no error")
	}
}

func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		v      float64
		digits int
		want   string
	}{{41.76, 1, "41.8"}, {-0.04, 1, "0.0"}, {-0.06, 1, "-0.1"}, {-0.4, 0, "0"}, {math.NaN(), 2, ""}, {math.Inf(1), 0, ""}, {-100, 0, "-100"}} {
		if got := page.Number(tt.v, tt.digits); got != tt.want {
			t.Errorf("%g with %d: %q, want %q", tt.v, tt.digits, got, tt.want)
		}
	}
}
