package logfile

// What a reader keeps is bounded whatever its input, because every part of it is:
//
//	lines.buf                                  2 * lineCap = 128 KiB
//	lines.text, UTF-16 made UTF-8              1.5 * lineCap = 96 KiB
//	Reader.fields, a line of delimiters        24 (lineCap + 1) B, doubled by append: 3 MiB
//	held, the lines before there is a layout   datesBytes + lineCap of text; of the shortest
//	                                           lines, lineCost each, 16,400 that keep 72 + 24 +
//	                                           8 + 16 B, a quarter more by append: 3.3 MiB
//	draft, the sample cut into cells           of 2 * sampleBytes all delimiters 24 B each,
//	                                           doubled by append: 6 MiB, for the best and the
//	                                           one at hand: 12 MiB
//	draft.shapes                               mostColumns of 200 B, and 8 B for each number of
//	                                           the sample, two bytes at least, doubled: 1.1 MiB
//	layouts, the one in force and the next     mostColumns of 150 B, their names lineCap: 0.2 MiB
//	Layout.Reasons                             mostReasons * reasonCap = 100 KiB
//	Report.List                                MaxProblems (56 + textCap + 8) B, doubled: 0.4 MiB
//
// Together that is 20 MiB, if all came at once. The draft and what is held are given
// up with the first record; from then on it is 4 MiB. What the caller asks for comes
// on top: more than 1000 problems, more than mostColumns roles.
const (
	heldMost = 20 << 20
	// mostColumns is more than any logger writes; common practice, no source. Lines of
	// more fields are read if the caller names as many.
	mostColumns = 256
	mostReasons = 100
	reasonCap   = 1000 // bytes
)
