package logfile

import "testing"

// Dates with words in them, all 2 August 2027 and those with a time of day 19:05:00.
func TestWordedStamps(t *testing.T) {
	for _, in := range []string{
		"Mon 02 Aug 2027 19:05:00", "Monday, August 2, 2027", "2-Aug-27", "Aug 2 2027 7:05PM", "Aug 2, 2027", "August 2nd, 2027", "2nd of August 2027", "02AUG2027", "2Aug2027 19:05",
		"Mon Aug  2 19:05:00 2027", "Mon Aug 2 19:05:00 UTC 2027", "Mon, 02 Aug 2027 19:05:00 GMT", "Mon, 2 Aug 2027 19:05:00 +0000", "Monday, 02-Aug-27 19:05:00 GMT", "02/Aug/2027:19:05:00 +0000",
		"Aug-02-2027", "Aug/02/2027", "Aug.2.2027 19:05:00", "Aug. 2, 2027", "2. August 2027", "2. Aug. 2027 19:05:00", "2-Aug-'27", "2027-Aug-02", "2027 Aug 2 19:05:00",
		"Mon 2027-08-02 19:05:00", "Mon. 2 Aug 2027", "2 Aug 2027 Mon", "19:05:00 Mon 2 Aug 2027", "19:05:00 August 2, 2027", "Mon 20270802", "August 2, 2027 at 7:05:00 p.m.", "[2027-08-02 19:05:00]",
		"2027-08-02-19:05:00", "2027-08-02 19.05.00", "2027-08-02_19-05-00", "2027-08-02 19h05", "20270802-190500", "20270802, 19:05:00", "MONDAY 2 AUGUST 2027", "mon 2 aug 2027",
	} {
		s, form := parseStamp([]byte(in), DMY)
		if !form || !s.valid() || !s.hasDate || s.year != 2027 || s.month != 8 || s.day != 2 {
			t.Errorf("%q: %v %+v", in, form, s)
		}
		if s.hasClock && s.clock() != 19*3600+5*60 {
			t.Errorf("%q: %d s of the day", in, s.clock())
		}
	}
	for _, in := range []string{
		"August", "2 August", "August 2027", "Mon", "Monday 2", "May be 2 2027", "2 of 3, 2027", "Mon 2 Aug 2027 Light", "2 Aug 2027 Sept", "2027 2027 Aug 2", "2 3 Aug 2027 9", "Sat 12.5", "Aug 2 27 27", "Su 2 Aug 2027",
		"light 2 aug 2027", "second 2 aug 2027", "'2 Aug 2027", "2 Au 2027", "Mon 2 Aug 2027 25",
	} {
		if s, form := parseStamp([]byte(in), DMY); form {
			t.Errorf("%q is no stamp: %+v", in, s)
		}
	}
}

// The milliseconds may stand behind a colon, if there are three digits of them.
func TestColonBeforeMilliseconds(t *testing.T) {
	if s, form := parseStamp([]byte("2027-08-02 07:00:00:250"), YMD); !form || s.nano != 250e6 {
		t.Errorf("%v %+v", form, s)
	}
	for _, in := range []string{"2027-08-02 07:00:00:25", "2027-08-02 07:00:00:"} {
		if s, form := parseStamp([]byte(in), YMD); form {
			t.Errorf("%q: %+v", in, s)
		}
	}
}
