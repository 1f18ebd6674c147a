// Package look is the one look of the examples' pictures: sizes, letters, colours, marks of
// the axes, and words around them.
//
//	c := look.NewChart("illuminance (lx)", "UTC (hours and minutes)", 240)
//	c.Y.Scale, c.Y.Tick.Marker = plot.LogScale{}, look.Decades{}
//	c.Key("predicted", c.Line(points, look.Bold(look.Blue)))
//	err := (&look.Sheet{Title: "Light at the school yard", Caption: "Invented data.", Charts: []*look.Chart{c}}).WriteSVG(w)
//
// A picture is a [Sheet]: a title, one chart or several that share their abscissa, and a
// caption that says what is shown and whence it is. The name and unit of an ordinate stand
// level above its axis, and the key of the marks above the data, so that neither hides anything.
//
// Pictures are 480 points wide. On a page of 400 pixels the least letters, 10 points, are
// eight pixels high; pictures grow to any width, for they are strokes and words. A viewer
// without the font takes another without serifs, up to a sixth wider (seen, not published):
// words have room for that.
//
// # Colours
//
// From the set for all kinds of colour vision of M. Okabe and K. Ito, Color Universal Design
// (2008; from memory): black, blue and orange for data and yellow for the Sun; greys beside
// them. As greys, black, blue, orange and the paper differ by a contrast of 2.2 each (ratio of
// relative luminances as in WCAG 2, W3C). What differs by colour also differs by dash, width or shape.
package look
