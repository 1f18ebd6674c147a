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
// The source is any io.Reader: a file, a pipe, a decompressor, a serial port.
// Records come in the order of the file, as they are; a file that is newest first
// stays so, and [Report].Order says it. [Events] and [Watch] tell what the clock
// did between the records, [Merge] joins the files of several days and an
// [Averager] makes means over windows of time.
//
// # Layout
//
// Nobody tells the reader what a file looks like, so it looks itself, at a bounded
// sample. Each delimiter cuts the sample into columns; the one wins that cuts most
// lines alike into columns that are each of one type, all numbers, all stamps. A
// line of words of that width is the header. The columns that hold the time are
// known by their content, light and the rest by the words in their headings:
// illuminance before light, light before counts, counts before raw and volts; what
// is known to be something else (a battery's voltage, ultraviolet, a gas) never is
// light, nor is what counts the rows or switches between 0 and 1. Without a header the
// only number beside the time is light, or the one that changes by far the most in up
// to 64 KiB, unless it could be a thermometer's or a hygrometer's, all its numbers
// between 0 and 125 and one above 5.5, or one below zero: then [Options].Light must say.
// A night's sample, in which light stands still, is so refused.
// [Layout].Reasons says in words what was decided and why, and [Layout.Differences]
// where two layouts would read a line in different ways.
//
// Lines of words right below the header belong to it, and the first of them gives the
// units (s,lx,degC). One name may stand over a date and a time of day. A header with
// fewer names than the lines have fields names the first, if its names for the time
// stand over times; one with more names is a header and names nothing. Of several
// columns of times the one that is headed so is read.
//
// A unit after every number of a column, as in 23.5 °C or 22% moisture, is taken off
// and said in [Column].Unit; it gives the column away where no heading does. Nothing
// is converted, and a cell with another unit, or with none, holds no number. Among
// commas, numbers may have a decimal comma if they stand in quotes. Thousands may be
// parted by a comma, a point, a blank or an apostrophe where the groups are whole and
// the decimals or another group tell: 1,234.5 or 1.234,5. Where all there is are
// numbers such as 12,345 the file is refused and [Options].Decimal decides, but between
// semicolons, where the comma is the decimal mark.
//
// Below a header that tells time and light three rows are enough, without a header
// eight, so that a live stream soon flows, but for one whose light only its changing
// shows: give [Options].Light. With [Options].Columns one row is enough. A file
// that is less plain is looked at for up to 64 KiB. Where two readings are equally
// good the reader refuses, with a [LayoutError] that names the option which
// decides. So it is with 02/08/2027: only a date with a number over 12, or a clock
// that runs on over midnight into 03/08/2027, tells day from month. Up to a
// megabyte is searched for one, in which a line counts 64 bytes more than it has: that
// is ten thousand lines, and not a day at one a second.
//
// A later header with its names in other places, or with one more, changes the
// layout for the lines below it.
//
// # What is a record
//
// A line with as many fields as the layout has columns (an empty one more at the
// end is let pass) and a readable stamp, also that of a clock that was not set:
// year 1970 or 2000. Cells without a number, and the numbers by which sensors say
// that they failed (-127 degrees, -999), are NaN and counted in [Report].Missing.
//
//	TornLine     fewer fields, if only by one; or the file ends inside the line's last number
//	RunTogether  more fields, but for one more that is empty
//	BadStamp     the width is right, the time is none, or is a date in another order than the file's
//	NoSuchTime   it has the form of a time that does not exist: 45/25/2165 45:85:85
//	NoStart      it counts from a start of the logger that nobody gave
//	NotText      NUL or other control bytes
//	TooLong      more than 64 KiB
//	OpenQuote    a quote that does not close on the line: that line only, the next is read
//	             by itself, and is no record if it is the other half
//	NotARecord   words that are no header, or a stamp and words: 2027-08-02 07:00:00,Rebooted
//
// No field of a line with too few or too many is read, because nobody knows which one is
// missing. Words where the layout has numbers make a whole line no problem: they are
// missing values.
//
// A whole line after a run of zeros, where a logger went on after a power cut, is
// a record if its first cell shows that it is whole. Lines of words above the
// header are comments, as are lines that begin with #, % or //, and before the first
// record lines above the header that begin with a word: Interval (s),5.
//
// # Time
//
// Stamps are RFC 3339 and its common variants, with day, month and year in any
// order, months and days of the week in English words of three letters or more, AM and
// PM or without, the time before the date or after it, in one column or two; or
// seconds, milli-, micro- or nanoseconds since 1970. Where the first lines have only
// dates led by the year, or with the month in words, a later 02/08/2027 is no record
// unless [Options].Order says how to read it: the order never changes in a file.
// An offset in the stamp comes first, then [Options].Zone, then what the heading
// says (UTC+2), else the stamp is read as UTC and the report says so. A count
// since 1970 that never falls comes before stamps beside it that tell neither zone
// nor second. 23:59:60 reads as the next second, marked. A time of day without a
// date takes the day from [Options].Date or the file's name, and moves on when it
// falls by more than half a day. In the hour that comes twice in autumn a stamp
// without offset is read as time.Date reads it.
//
// A logger without a clock counts from its start: seconds, milliseconds, microseconds.
// Such a file is read where [Options].Starts tells when it was switched on, once for
// each time, and [Options].Tick or the heading what it counts; else it is refused, and
// the refusal asks for them. A count that falls is another power-on, but for a counter
// of 32 bits that rolls over (2^32 ms are 49.7 days, 2^32 µs 71.6 minutes): there it
// begins again within 10 cadences, or 20 s. A single count that is far off, after which
// the next goes on where the one before was, was damaged and is no power-on; it is a
// record all the same, as any stamp with a wrong digit is.
//
// # Clocks
//
// What the clock did, [EventKind] lists with its rules: gaps and duplicates, steps, the
// fall to the epoch of a clock that lost its power, its setting, starts of the logger,
// a date that stayed at midnight. [Segments] are the runs between them and say by how
// much the clock was moved; [ApplyBack] moves the stamps before a step by as much, which
// recovers what a clock wrote before somebody set it. [Merge] joins the day files of a
// station, and [MissingDays] says which days it lacks.
//
// # Writing
//
// A [Writer] makes one canonical file of any log: comma-separated, CRLF, stamps in
// RFC 3339 UTC, units told in CSV-on-the-Web metadata ([Writer.Metadata]). Text that a
// spreadsheet would run as a formula gets an apostrophe in front ([Guard]); numbers,
// negative ones too, stay as they are. A [Grid] rounds coordinates for privacy and says
// what that costs in metres and seconds. What was written reads back equal.
//
// # Speed and memory
//
// A row of five columns takes about 40 ns on one core, 50 where 2 % of the lines are
// damaged, and 65 with every cell in quotes and decimal commas; that is 5.2, 4.3 and 5.0
// times as fast as encoding/csv, time.Parse and strconv.ParseFloat in a loop over the same
// file, undamaged (BenchmarkReadDay, BenchmarkReadDamaged and BenchmarkReadQuoted measure
// both in one run). Writing a row takes 240 ns, and is 1.4 times as fast as such a loop
// (BenchmarkWriteDay). A row allocates nothing but the text of a refused one. Plain cells
// are read where they stand; whatever is not plain goes a second, careful way, and tests
// and a fuzzer hold the two against each other.
//
// A reader never holds more than 20 MiB, whatever comes: that is the sum of all that it may
// keep, and the worst of many hostile inputs took 6, before the first record. Behind the
// first record it is 4 MiB, and for a plain log 200 KiB. More problems or columns asked for
// by the caller come on top. TestStream reads ten gigabytes.
//
// # Limits
//
// One record is one line: a quoted field must close on its own line. Lines of more than
// 256 columns are read only if [Options].Columns names them all. UTF-16 is read
// where it begins with its byte order mark, else it is [ErrNotText]. A count since
// the logger's start that is newest first is not read, nor one alone in its column
// without a reading beside it; a start after which the count was already higher than
// before cannot be seen, nor can a clock that tells no date and falls to 00:00:00 in the
// afternoon be told from one that passes midnight. Counts of milliseconds that begin 11
// days after the start, or of microseconds 16 minutes after it, have the size of the
// seconds since 1970 and are read as these where neither heading nor [Options].Tick says
// what they are. A clock set forward by less than 20 hours looks like a gap, and
// one set forward by more like a pause ([Segment].AtMost). A number cut short inside a
// line that still has all its fields looks like any other and is a record. Without a
// header a gas, a wind or whatever else moves further than light, beyond what air has,
// can pass for it: read the reasons. A time of day such as 07.00.00 or 070000 is one
// only after a date in the same cell; day counts of spreadsheets and Julian dates are
// no time, and cells in single quotes are text.
//
// # Sources
//
// RFC 4180 (comma-separated values), RFC 3339 (stamps), RFC 2781 (UTF-16); for the inference G. J.
// J. van den Burg, A. Nazabal & C. Sutton, Data Min. Knowl. Disc. 33 (2019) 1799.
// The words of headings and the marks of failed sensors are common practice, no
// source.
package logfile
