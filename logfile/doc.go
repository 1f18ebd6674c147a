// Package logfile reads the files of small loggers, whatever state they are in.
//
// A logger appends a line a second to a file on a memory card. Then the battery
// gives out in the middle of a line, a sector of the card holds zeros, the
// header comes again after a power cycle, or a spreadsheet has been at the
// file. A [Reader] walks such a file line by line and keeps one law: every byte
// is accounted for, as part of a record, a header, a comment, a blank line or a
// [Problem] that says where it is and what is wrong with it.
//
//	r := logfile.NewReader(file, logfile.Options{Name: "20270802.csv"})
//	for rec, err := range r.Records() {
//		if err != nil {
//			return err
//		}
//		use(rec.Time, rec.Light)
//	}
//	fmt.Println(r.Report())
//
// # Layout
//
// The layout is inferred from a bounded sample: which delimiter cuts the lines
// most evenly into columns that are each of one type, which columns hold the
// time, which by its heading is light. [Layout].Reasons says why in words. Where
// two readings are equally good the reader refuses and names the option that
// decides: 03/04/2027 alone does not say which is the day.
//
// # What is a record
//
// A line with as many fields as the layout has columns (an empty one more at the
// end is let pass) and a readable stamp. Cells without a readable number are NaN;
// if it is the light cell, Report.Unreadable counts it. A line with fewer fields
// is a TornLine, with more RunTogether, with a stamp that is none BadStamp, with
// control bytes NotText, beyond 64 KiB TooLong, with a quote left open OpenQuote.
// A line of the right width without any number or stamp is a header, wherever it
// stands; text of another width is NotARecord. Lines that begin with # are
// comments.
//
// # Time
//
// Stamps are RFC 3339 and its common variants, day-month-year and
// month-day-year, with AM and PM or without, in one column or two, or seconds,
// milliseconds or microseconds since 1970. A zone in the stamp comes first, then
// the caller's, else the stamp is read as UTC and the report says so. 23:59:60
// reads as the next second, marked. A time of day without a date takes it from
// the caller or from the file's name, and moves on at midnight.
//
// # Limits
//
// One record is one line: a quoted field must close on its own line. UTF-16
// files are refused as ErrBinary. Month names are not read.
//
// # Sources
//
// RFC 4180 (comma-separated values), RFC 3339 (stamps); for the inference G. J.
// J. van den Burg, A. Nazabal & C. Sutton, Data Min. Knowl. Disc. 33 (2019) 1799.
package logfile
