package pagecheck

import (
	"strings"
	"testing"
)

const good = `<!DOCTYPE html>
<html lang="en"><head><style>p { color: red }</style></head><body><a href="#v">v</a><h1>q</h1><h2 id="v">a</h2>
<table><caption>c</caption><tr><th scope="col">h</th></tr></table>
<svg role="img" aria-labelledby="t" aria-describedby="d" viewBox="0 0 1 1"><title id="t">t</title><desc id="d">d</desc><path d="M0,0"/></svg></body></html>`

// Each fault must be found, and the good page has none.
func TestFaults(t *testing.T) {
	if f := Faults(good); len(f) != 0 {
		t.Fatalf("the good page: %v", f)
	}
	for _, tt := range []struct{ old, new, want string }{
		{"<h1>q</h1>", "<h1>q", "well-formed"},
		{"<h1>q</h1>", "", "h1"},
		{"<h1>q</h1>", "<h1>q</h1><h1>r</h1>", "2 h1"},
		{"<h1>q</h1>", "<h1>q</h1><script>x</script>", "<script>"},
		{"<h1>q</h1>", `<h1 onclick="x">q</h1>`, "onclick"},
		{"<h1>q</h1>", `<h1>q</h1><img src="x"/>`, "<img>"},
		{"<h1>q</h1>", "<h1>\u202e</h1>", "U+202E"},
		{"<h1>q</h1>", `<h1 id="v">q</h1>`, "twice"},
		{`href="#v"`, `href="javascript:x"`, "leads out"},
		{`href="#v"`, `href="#w"`, `"w"`},
		{`lang="en"`, ``, "lang"},
		{"<caption>c</caption>", "", "caption"},
		{` scope="col"`, "", "scope"},
		{`role="img"`, "", "role"},
		{`<desc id="d">d</desc>`, `<g id="d"/>`, "description"},
		{`d="M0,0"`, `style="fill:url(#a)"`, "reaches out"},
		{"color: red", "background: url(x)", "loads"},
		{"color: red", "@import 'x'", "loads"},
		{"<!DOCTYPE html>", "", "type"},
	} {
		page := strings.Replace(good, tt.old, tt.new, 1)
		found := ""
		for _, f := range Faults(page) {
			found += f.Error() + "\n"
		}
		if !strings.Contains(found, tt.want) {
			t.Errorf("%q for %q: found %q, want a word of %q", tt.new, tt.old, found, tt.want)
		}
	}
}

func TestTextBareShape(t *testing.T) {
	if got := strings.Join(strings.Fields(Text(good)), " "); got != "vqa ch td" {
		t.Errorf("text %q", got)
	}
	if got := Bare(good); strings.Contains(got, "red") || strings.Contains(got, "path") || !strings.Contains(got, "</desc></svg>") {
		t.Errorf("bare %q", got)
	}
	if a, b := Shape(good), Shape(strings.Replace(good, "<h1>q", "<h1>other words", 1)); a != b {
		t.Errorf("%q\n%q", a, b)
	}
	if a, b := Shape(good), Shape(strings.Replace(good, "<h1>q", "<h1><b>q</b>", 1)); a == b {
		t.Error("a tag more is not seen")
	}
}
