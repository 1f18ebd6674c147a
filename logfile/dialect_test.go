package logfile

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A dialect is a way in which loggers and what people do to their files write the
// same two readings, 2 August 2027 07:00:00 and :01 UTC, light 812 and 813.
type dialect struct {
	name, in string
	opt      Options
	step     time.Duration // between them, 1 s if zero
	lines    Accounts
}

func dialects(t testing.TB) []dialect {
	madrid, err := time.LoadLocation("Europe/Madrid")
	require.NoError(t, err)
	name := Options{Name: "log_20270802.csv"}
	two := Accounts{Records: 2}
	head := Accounts{Records: 2, Headers: 1}
	return []dialect{
		{"comma, CRLF", "time,light,temp\r\n2027-08-02T07:00:00Z,812,24.5\r\n2027-08-02T07:00:01Z,813,24.5\r\n", Options{}, 0, head},
		{"no end of the last line", "time,light,temp\n2027-08-02T07:00:00Z,812,24.5\n2027-08-02T07:00:01Z,813,24.5", Options{}, 0, head},
		{"CR", "time,light\r2027-08-02T07:00:00Z,812\r2027-08-02T07:00:01Z,813\r", Options{}, 0, head},
		{"ends mixed", "time,light\r\n2027-08-02T07:00:00Z,812\r2027-08-02T07:00:01Z,813\n", Options{}, 0, head},
		{"byte order mark", "\xef\xbb\xbftime,light\n2027-08-02T07:00:00Z,812\n2027-08-02T07:00:01Z,813\n", Options{}, 0, head},
		{"byte order mark, no header", "\xef\xbb\xbf2027-08-02T07:00:00Z,812\n2027-08-02T07:00:01Z,813\n", Options{}, 0, two},
		{"semicolon", "time;lux\n2027-08-02 07:00:00;812\n2027-08-02 07:00:01;813\n", Options{}, 0, head},
		{"semicolon, decimal comma", "time;light;temp\n2027-08-02 07:00:00;812,0;24,5\n2027-08-02 07:00:01;813,0;24,5\n", Options{}, 0, head},
		{"decimal comma in quotes", "\"time\";\"light\"\n\"2027-08-02 07:00:00\";\"812,0\"\n\"2027-08-02 07:00:01\";\"813,0\"\n", Options{}, 0, head},
		{"tab", "time\tlight\n2027-08-02 07:00:00\t812\n2027-08-02 07:00:01\t813\n", Options{}, 0, head},
		{"pipe", "2027-08-02 07:00:00|812\n2027-08-02 07:00:01|813\n", Options{}, 0, two},
		{"runs of blanks", "no date time sum\n400  2027-08-02 07:00:00   812\n400 2027-08-02 07:00:01 813 \n", Options{Light: "sum"}, 0, head},
		{"blank behind each comma", "time, light, temp\n2027-08-02 07:00:00, 812, 24.5\n2027-08-02 07:00:01, 813, 24.5\n", Options{}, 0, head},
		{"delimiter at the end", "time,light,\n2027-08-02 07:00:00,812,\n2027-08-02 07:00:01,813,\n", Options{}, 0, head},
		{"delimiter at the end of data only", "time,light\n2027-08-02 07:00:00,812,\n2027-08-02 07:00:01,813,\n", Options{}, 0, head},
		{"quotes, doubled and with a delimiter", "\"time\",\"light, \"\"raw\"\"\"\n\"2027-08-02 07:00:00\",\"812\"\n\"2027-08-02 07:00:01\",\"813\"\n", Options{}, 0, head},
		{"blanks before quotes", "time, light\n2027-08-02 07:00:00, \"812\"\n2027-08-02 07:00:01, \"813\"\n", Options{}, 0, head},
		{"words in a column", "time,light,sky\n2027-08-02 07:00:00,812,clear\n2027-08-02 07:00:01,813,haze\n", Options{}, 0, head},
		{"preamble", "Logger made up\nSample count: 2\ntime,light\n2027-08-02 07:00:00,812\n2027-08-02 07:00:01,813\n", Options{}, 0, Accounts{Records: 2, Headers: 1, Comments: 2}},
		{"headings in a remark", "# time lux temp\n2027-08-02T07:00:00Z 812 24.5\n2027-08-02T07:00:01Z 813 24.5\n", Options{}, 0, Accounts{Records: 2, Comments: 1}},
		{"headings that are numbers", "time,415,light\n2027-08-02 07:00:00,3,812\n2027-08-02 07:00:01,4,813\n", Options{}, 0, head},
		{"Latin-1 in the heading", "time,light,temp \xb0C\n2027-08-02 07:00:00,812,24.5\n2027-08-02 07:00:01,813,24.5\n", Options{}, 0, head},
		{"header below the first record", "2027-08-02 07:00:00,812,3\ntime,light,x\n2027-08-02 07:00:01,813,3\n", Options{}, 0, head},

		{"offset in the stamp", "time,light\n2027-08-02T09:00:00+02:00,812\n2027-08-02T09:00:01+02:00,813\n", Options{Zone: time.UTC}, 0, head},
		{"offset in the stamp, four digits", "time,light\n2027-08-02T01:30:00-0530,812\n2027-08-02T01:30:01-0530,813\n", Options{}, 0, head},
		{"zone of the caller", "time,light\n2027-08-02 09:00:00,812\n2027-08-02 09:00:01,813\n", Options{Zone: madrid}, 0, head},
		{"Z beats the caller's zone", "time,light\n2027-08-02T07:00:00Z,812\n2027-08-02T07:00:01Z,813\n", Options{Zone: madrid}, 0, head},
		{"zone in the heading", "time (UTC+2),light\n2027-08-02 09:00:00,812\n2027-08-02 09:00:01,813\n", Options{}, 0, head},
		{"the caller's zone beats the heading's", "time GMT,light\n2027-08-02 09:00:00,812\n2027-08-02 09:00:01,813\n", Options{Zone: madrid}, 0, head},
		{"slashes", "time,light\n2027/08/02 07:00:00,812\n2027/8/2 7:0:1,813\n", Options{}, 0, head},
		{"points", "time,light\n2027.08.02 07:00:00,812\n2027.8.2 7:0:1,813\n", Options{}, 0, head},
		{"without seconds", "time,light\n2027-08-02 07:00,812\n2027-08-02 07:01,813\n", Options{}, time.Minute, head},
		{"two stamps, one of them UTC", "local,utc,light\n2027-08-02 09:00:00,2027-08-02 07:00:00,812\n2027-08-02 09:00:01,2027-08-02 07:00:01,813\n", Options{}, 0, head},
		{"no separators", "time,light\n20270802T070000Z,812\n20270802T070001Z,813\n", Options{}, 0, head},
		{"fourteen digits", "time,light\n20270802070000,812\n20270802070001,813\n", Options{}, 0, head},
		{"eight digits and a clock", "date,time,light\n20270802,07:00:00,812\n20270802,07:00:01,813\n", Options{}, 0, head},
		{"date and time apart", "date,time,light\n2027-08-02,07:00:00,812\n2027-08-02,07:00:01,813\n", Options{}, 0, head},
		{"time before date", "07:00:00,2027-08-02,812\n07:00:01,2027-08-02,813\n", Options{}, 0, two},
		{"time before date in one cell", "7:0:0 2027/8/2,812\n7:0:1 2027/8/2,813\n", Options{}, 0, two},
		{"month by name", "02.Aug.2027,07:00:00,812\n02.Aug.2027,07:00:01,813\n", Options{}, 0, two},
		{"day first, shown by a 13th", "time,light\n02/08/2027 07:00:00,812\n13/08/2027 07:00:01,813\n", Options{}, 11*24*time.Hour + time.Second, head},
		{"month first, AM", "time,light\n8/2/2027 7:00:00 AM,812\n8/13/2027 7:00:01 AM,813\n", Options{}, 11*24*time.Hour + time.Second, head},
		{"order given", "time,light\n02.08.27 07:00,812\n02.08.27 07:01,813\n", Options{Order: DMY}, time.Minute, head},
		{"order given, year first", "time,light\n27/08/02 07:00,812\n27/08/02 07:01,813\n", Options{Order: YMD}, time.Minute, head},
		{"epoch", "epoch,light\n1817190000,812\n1817190001,813\n", Options{}, 0, head},
		{"epoch with decimals", "1817190000.00,812\n1817190001.00,813\n", Options{}, 0, two},
		{"milliseconds", "1817190000000,812\n1817190001000,813\n", Options{}, 0, two},
		{"microseconds", "1817190000000000,812\n1817190001000000,813\n", Options{}, 0, two},
		{"time of day, date in the name", "07:00:00,812\n07:00:01,813\n", name, 0, two},
		{"time of day, date given", "09:00:00,812\n09:00:01,813\n", Options{Date: time.Date(2027, 8, 2, 23, 0, 0, 0, madrid), Zone: madrid, Name: "log_20200101"}, 0, two},

		{"columns given", "812,24.5,2027-08-02 07:00:00\n813,24.5,2027-08-02 07:00:01\n", Options{Columns: []Role{Light, Temp, Time}}, 0, two},
		{"columns given, zone and order too", "2027-08-02 07:00:00,812,24.5\n2027-08-02 07:00:01,813,24.5\n", Options{Columns: []Role{Time, Light, Temp}, Zone: time.FixedZone("", 0), Order: YMD}, 0, two},
		{"columns given in spite of a header", "a,b,c\n812,24.5,2027-08-02 07:00:00\n813,24.5,2027-08-02 07:00:01\n", Options{Columns: []Role{Light, Temp, Time}}, 0, head},
		{"light by number", "time,a,b\n2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,1,813\n", Options{Light: "3"}, 0, head},
		{"light by name", "time,a,B\n2027-08-02 07:00:00,1,812\n2027-08-02 07:00:01,1,813\n", Options{Light: "b"}, 0, head},
	}
}

func TestDialects(t *testing.T) {
	for _, tt := range dialects(t) {
		t.Run(tt.name, func(t *testing.T) {
			recs, rep, err := drain(t, strings.NewReader(tt.in), tt.opt)
			require.NoError(t, err)
			lawful(t, rep, int64(len(tt.in)))
			if rep.Lines != tt.lines || len(recs) != 2 {
				t.Fatalf("%+v, want %+v: %v", rep.Lines, tt.lines, rep.List)
			}
			if tt.step == 0 {
				tt.step = time.Second
			}
			first := at(t, "2027-08-02T07:00:00Z")
			for i, r := range recs {
				if want := first.Add(time.Duration(i) * tt.step); !r.Time.Equal(want) || r.Time.Location() != time.UTC || r.Light != 812+float64(i) {
					t.Errorf("record %d is %v %g, want %v %d", i, r.Time, r.Light, want, 812+i)
				}
			}
			if len(rep.Layout.Reasons) == 0 {
				t.Error("no reasons")
			}
		})
	}
}

// The short way through a line must read as the careful one does.
func TestShortWayIsTheCarefulOne(t *testing.T) {
	for _, tt := range dialects(t) {
		in := tt.in + strings.Repeat("2027-08-02\n", 3) + tt.in
		quick, rep, err := drain(t, strings.NewReader(in), tt.opt)
		r := NewReader(strings.NewReader(in), tt.opt)
		r.slow = true
		slow, rep1, err1 := walk(t, r)
		if fmt.Sprint(quick, rep, err) != fmt.Sprint(slow, rep1, err1) {
			t.Errorf("%s: %v %v\n%v\n%v", tt.name, err, err1, quick, slow)
		}
	}
}

func TestAccidents(t *testing.T) {
	const head = "time,light,temp\n2027-08-02 07:00:00,812,24\n2027-08-02 07:00:01,813,24\n"
	for _, tt := range []struct {
		name, in string
		lines    Accounts // beside the header and two records
		kind     Kind
	}{
		{"torn", "2027-08-02 07:0\n", Accounts{Problems: 1}, TornLine},
		{"torn behind the light", "2027-08-02 07:00:02,814\n", Accounts{Problems: 1}, TornLine},
		{"run together", "2027-08-02 07:00:02,814,242027-08-02 07:00:03,815,24\n", Accounts{Problems: 1}, RunTogether},
		{"torn and run together", "2027-08-02 07:2027-08-02 07:00:03,815,24\n", Accounts{Problems: 1}, BadStamp},
		{"clock not set", "45/25/2165 45:85:85,817,24\n", Accounts{Problems: 1}, NoSuchTime},
		{"clock not set, readable", "2000-01-01 00:00:07,817,24\n1970-01-01 00:00:00,817,24\n", Accounts{Records: 2}, 0},
		{"no date", "07:00:02,817,24\n", Accounts{Problems: 1}, BadStamp},
		{"no time of day", "2027-08-02,817,24\n", Accounts{Problems: 1}, BadStamp},
		{"delimiters alone", ",,\n", Accounts{Problems: 1}, NotARecord},
		{"zeros before a whole line", "\x00\x00\x002027-08-02 07:00:05,818,24\n", Accounts{Records: 1}, 0},
		{"zeros before the header", "\x00\x00\x00time,light,temp\n", Accounts{Headers: 1}, 0},
		{"zeros before half a line", "\x00\x00\x00-02 07:00:05,818,24\n", Accounts{Problems: 1}, NotText},
		{"zeros before a line that begins with half a year", "\x00\x00\x0027-08-02 07:00:05,818,24\n", Accounts{Problems: 1}, NotText},
		{"zeros inside", "2027-08-02 07:00:05,8\x00\x00\x00,24\n", Accounts{Problems: 1}, NotText},
		{"zeros at the end", "2027-08-02 07:00:05,818,24\x00\x00\n", Accounts{Problems: 1}, NotText},
		{"zeros alone", strings.Repeat("\x00", 512) + "\n", Accounts{Problems: 1}, NotText},
		{"open quote", "2027-08-02 07:00:07,\"819,24\n", Accounts{Problems: 1}, OpenQuote},
		{"words", "rebooted\n", Accounts{Problems: 1}, NotARecord},
		{"a stamp and words", "2027-08-02 07:00:02,rebooted\n2027-08-02 07:00:03 Rebooted\n", Accounts{Problems: 2}, NotARecord},
		{"a stamp and half a number", "2027-08-02 07:00:02,8\n", Accounts{Problems: 1}, TornLine},
		{"a stamp alone", "2027-08-02 07:00:02\n", Accounts{Problems: 1}, TornLine},
		{"words with a stamp before and numbers behind", "2027-08-02 07:00:02,rebooted,24,5\n", Accounts{Problems: 1}, RunTogether},
		{"one field short, empty", "2027-08-02 07:00:02,\n", Accounts{Problems: 1}, TornLine},
		{"one field more, empty", "2027-08-02 07:00:02,814,24,\n", Accounts{Records: 1}, 0},
		{"two fields more, empty", "2027-08-02 07:00:02,814,24,,\n", Accounts{Problems: 1}, RunTogether},
		{"one field more", "2027-08-02 07:00:02,814,24,1\n", Accounts{Problems: 1}, RunTogether},
		{"all fields, no numbers", "2027-08-02 07:00:02,rebooted,well\n", Accounts{Records: 1}, 0},
		{"a quote that closes on the next line", "2027-08-02 07:00:07,\"819\n\",24\n", Accounts{Problems: 2}, OpenQuote},
		{"words of the right width", "sensor,not,found\n", Accounts{Problems: 1}, NotARecord},
		{"header again", "time,light,temp\n", Accounts{Headers: 1}, 0},
		{"header in capitals and quotes", "\"TIME\",\"LIGHT\",\"TEMP\"\n", Accounts{Headers: 1}, 0},
		{"header torn", "time,li\n", Accounts{Problems: 1}, NotARecord},
		{"remarks", "# a\n// b\n% c\n", Accounts{Comments: 3}, 0},
		{"blanks", "\r\n\n  \t\n", Accounts{Blanks: 3}, 0},
		{"too long", "2027-08-02 07:00:07," + strings.Repeat("8", lineCap) + ",24\n", Accounts{Problems: 1}, TooLong},
	} {
		t.Run(tt.name, func(t *testing.T) {
			const tail = "2027-08-02 07:00:09,820,24\n"
			recs, rep, err := drain(t, strings.NewReader(head+tt.in+tail), Options{})
			require.NoError(t, err)
			lawful(t, rep, int64(len(head+tt.in+tail)))
			want := tt.lines
			want.Headers++
			want.Records += 3
			if rep.Lines != want || tt.kind != 0 && rep.ByKind[tt.kind] != int(want.Problems) {
				t.Errorf("%+v %v, want %+v %v", rep.Lines, rep.ByKind, want, tt.kind)
			}
			if last := recs[len(recs)-1]; last.Light != 820 || last.Temp != 24 {
				t.Errorf("the last record is %+v", last)
			}
		})
	}
}

// A record stays one when a sensor fails: what it said is NaN, and counted.
func TestFailedSensors(t *testing.T) {
	for _, cell := range []string{"", " ", "nan", "NaN", "-nan", "inf", "-Infinity", "ERR", "n/a", "-", "0x1F", "1_000", "1e400", "-999", "-9999.00", "\"\""} {
		in := "time,light,temp,hum\n2027-08-02 07:00:00,812,24,40\n2027-08-02 07:00:01," + cell + ",-127.00,-1\n2027-08-02 07:00:02,813,24,40\n"
		recs, rep, err := drain(t, strings.NewReader(in), Options{})
		require.NoError(t, err)
		lawful(t, rep, int64(len(in)))
		if len(recs) != 3 || rep.Missing[Light] != 1 || rep.Missing[Temp] != 1 || rep.Missing[Humidity] != 1 {
			t.Fatalf("%q: %d records, %v missing", cell, len(recs), rep.Missing)
		}
		if r := recs[1]; !math.IsNaN(r.Light) || !math.IsNaN(r.Temp) || !math.IsNaN(r.Humidity) {
			t.Errorf("%q: %+v", cell, r)
		}
		if recs[2].Light != 813 || recs[2].Temp != 24 {
			t.Errorf("%q: the next record is %+v", cell, recs[2])
		}
	}
}

// Night offsets of a radiometer are values.
func TestNegativeLightIsAValue(t *testing.T) {
	recs, rep, err := drain(t, strings.NewReader("time,GHI\n2027-08-02 00:00:00,-2.493\n2027-08-02 00:01:00,-1\n"), Options{})
	require.NoError(t, err)
	if recs[0].Light != -2.493 || recs[1].Light != -1 || rep.Missing[Light] != 0 {
		t.Errorf("%+v", recs)
	}
}

// Whole numbers in the sample do not show the decimal mark.
func TestDecimalCommaAfterTheSample(t *testing.T) {
	in := "time;light\n" + body("2027-08-02 07:%02d:%02d;%d\n", 80) + "2027-08-02 07:02:00;812,5\n"
	recs, rep, err := drain(t, strings.NewReader(in), Options{})
	require.NoError(t, err)
	if got := recs[80].Light; got != 812.5 || !rep.Layout.DecimalComma {
		t.Errorf("812,5 reads as %g", got)
	}
}

func TestSectorsOfZeros(t *testing.T) {
	in := "time,light\n" + body("2027-08-02 07:%02d:%02d,%d\n", 600)
	for from := 512; from+512 < len(in); from += 512 {
		b := in[:from] + strings.Repeat("\x00", 512) + in[from+512:]
		recs, rep, err := drain(t, strings.NewReader(b), Options{})
		require.NoError(t, err)
		lawful(t, rep, int64(len(b)))
		if rep.Lines.Problems != 1 || len(recs) < 600-22 {
			t.Errorf("zeros at %d: %v, %d records", from, rep.ByKind, len(recs))
		}
		for _, r := range recs { // seconds after 07:00 and light agree in every row
			if want := r.Time.Sub(at(t, "2027-08-02T07:00:00Z")).Seconds() + 1000; r.Light != want {
				t.Fatalf("zeros at %d: %+v", from, r)
			}
		}
	}
}

// Behind zeros the first cell may be half of what it was: no light is made of it.
func TestHalfANumberBehindZeros(t *testing.T) {
	in := "light,time\n998,2027-08-02 07:00:00\n999,2027-08-02 07:00:01\n999,2027-08-02 07:00:02\n\x00\x00000,2027-08-02 07:00:03\n"
	recs, rep, err := drain(t, strings.NewReader(in), Options{})
	require.NoError(t, err)
	if len(recs) != 3 || rep.ByKind[NotText] != 1 {
		t.Errorf("%d records, %v", len(recs), rep.ByKind)
	}
}
