// Package page writes one HTML file that stands alone: it loads nothing, runs nothing, and can
// be read on a telephone, on paper and aloud.
//
// A program fills in a [Page] of [Section]s with paragraphs, pictures, tables and lists, and
// writes it:
//
//	p := page.Page{Title: "How wrong was the clock?", Verdict: page.Verdict{Answer: "41.8 s fast."}}
//	light, err := page.Draw("light", "Light", "what it shows", "caption", writePicture)
//	p.Sections = append(p.Sections, page.Section{Part: "Result", Heading: "The light", Figures: []page.Figure{light}})
//	err = p.Write(w)
//
// # What it promises
//
//   - Text is text. Whatever a log, a heading or a station's remarks contain is escaped by
//     html/template, and what has no shape of its own (control characters, marks that
//     turn the direction of reading round) is spelt out by [Visible]. A cell that a
//     spreadsheet would run gets an apostrophe, as logfile.Guard has it. Nothing that comes
//     from outside becomes a tag, an attribute, an address or a style.
//   - There is no script, no link out of the page, and a content policy that forbids both.
//   - One h1, then h2 without a gap; a skip link; captions on tables and scope on their
//     headings; every picture has a name and a description in words.
//   - A wide table scrolls within itself, and can be reached by keyboard to do so.
//   - The output is well-formed XML too, which the tests use.
//
// Package pagecheck has the test of all that.
package page
