// Package station is one logger at one site on the day of one eclipse: its
// description and its files go in, a [Report] comes out.
//
// A [Station] is data, read from JSON or filled in by a program. [Reduce] joins
// the rooms of the library in the order in which the data flow:
//
//	files   package logfile      records, and what was refused
//	counts  package sensor       lux with a status, where the chain is known
//	sky     packages eclipse/canon, eclipse    the eclipse and its light at the site
//	clock   package eclipse/fit  by how much the stamps are ahead of UTC
//
// A typical use:
//
//	s, err := station.Parse(data)
//	rep, err := station.Reduce(ctx, s, station.FilesIn(os.DirFS(dir), s.Files...), station.Options{})
//	if rep.Refusal != nil {
//		fmt.Println(rep.Refusal)
//	} else {
//		fmt.Println(rep.Clock.Offset, rep.Clock.CI95)
//	}
//
// # Refusals and errors
//
// What nature or the data decide is an answer and stands in the report: no
// eclipse that day, none visible at the site, no overlap, no usable light, cloud
// throughout. An error is a file that cannot be opened or read, a layout that
// cannot be decided, a station that contradicts itself.
//
// # Limits
//
// Files are streamed, but one small struct a record is kept: a day at one a
// second is about four megabytes. The Moon is smooth; what its real limb leaves
// open is a named term of the clock's uncertainty (fit.LimbU).
package station
