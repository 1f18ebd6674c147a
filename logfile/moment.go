package logfile

import (
	"encoding/binary"
	"math"
	"time"
)

// A moment gathers the parts of a line's time, and what else must wait until the
// line is known to be a record.
type moment struct {
	day, clock        int64 // seconds: of the date's midnight since 1970 as if UTC, and since midnight
	nano, zone        int
	hasDate, hasClock bool
	hasZone, leap     bool
	sinceStart        bool   // it is a count since the logger's start
	why               Kind   // it cannot be read, where BadStamp does not say it
	missing           uint16 // a bit for each role whose cell held no number
}

// dayCache remembers the last date read, because it comes again in nearly every
// line of a log.
type dayCache struct {
	text     [16]byte
	first    uint64 // eight bytes of it
	more     uint16 // and two
	n        int
	midnight int64
}

func (c *dayCache) is(b []byte) bool { return len(b) == c.n && string(b) == string(c.text[:c.n]) }

// leads says that a stamp begins with the date, in ten bytes.
func (c *dayCache) leads(b []byte) bool {
	return c.n == 10 && binary.LittleEndian.Uint64(b) == c.first && binary.LittleEndian.Uint16(b[8:]) == c.more
}

func (c *dayCache) set(b []byte, midnight int64) {
	if len(b) <= len(c.text) {
		c.n = copy(c.text[:], b)
		c.midnight = midnight
		c.first, c.more = binary.LittleEndian.Uint64(c.text[:]), binary.LittleEndian.Uint16(c.text[8:])
	}
}

// clock8 reads HH:MM:SS, eight bytes at once. A leap second is left to parseStamp.
func clock8(b []byte) (int64, bool) {
	const zeros = 0x30303a30303a3030 // "00:00:00", the first byte lowest
	x := binary.LittleEndian.Uint64(b) ^ zeros
	const colons, over9, tops = 0x0000ff0000ff0000, 0x7676767676767676, 0x8080808080808080
	if x&colons != 0 || (x|(x+over9))&tops != 0 {
		return 0, false
	}
	h := 10*int64(x&15) + int64(x>>8&15)
	m := 10*int64(x>>24&15) + int64(x>>32&15)
	s := 10*int64(x>>48&15) + int64(x>>56&15)
	return 3600*h + 60*m + s, h < 24 && m < 60 && s < 60
}

// zone6 reads ±HH:MM.
func zone6(b []byte) (int, bool) {
	h1, h2, m1, m2 := int(b[1])-'0', int(b[2])-'0', int(b[4])-'0', int(b[5])-'0'
	if b[3] != ':' || b[0] != '+' && b[0] != '-' || uint(h1) > 1 || uint(h2) > 9 || uint(m1) > 5 || uint(m2) > 9 {
		return 0, false
	}
	v := 3600*(10*h1+h2) + 60*(10*m1+m2)
	if b[0] == '-' {
		v = -v
	}
	return v, v >= -18*3600 && v <= 18*3600
}

// stampCell reads a cell that is part of the time; false where it cannot.
func (r *Reader) stampCell(c *Column, f []byte) bool {
	n := &r.now
	switch {
	case c.Role == Date && r.day.is(f):
		n.day, n.hasDate = r.day.midnight, true
		return true
	case c.Role == Clock && len(f) == 8:
		if s, ok := clock8(f); ok {
			n.clock, n.hasClock = s, true
			return !c.zoned || !c.torn
		}
	case c.Role == Time && c.Scale != 0:
		return r.epochCell(c, f)
	case c.Role == Time && c.Tick != 0:
		return r.countCell(c, f)
	case c.Role == Time:
		if n, ok := r.knownDay(c, f); ok && n == len(f) {
			return true
		}
	}
	return r.writtenCell(c, f)
}

// knownDay reads the stamp at the front of b, if it stands for a second of the day read
// last in the plainest form, and says how long it is.
func (r *Reader) knownDay(c *Column, b []byte) (length int, ok bool) {
	if c.Role != Time || c.Scale != 0 || len(b) < 19 || b[10] != 'T' && b[10] != ' ' || !r.day.leads(b) {
		return 0, false
	}
	n := &r.now
	clock, ok := clock8(b[11:])
	if !ok {
		return 0, false
	}
	length = 19
	switch {
	case len(b) > 19 && b[19] == 'Z':
		n.hasZone, n.zone, length = true, 0, 20
	case len(b) >= 25 && (b[19] == '+' || b[19] == '-'):
		if n.zone, n.hasZone = zone6(b[19:]); !n.hasZone {
			return 0, false
		}
		length = 25
	case c.torn && c.zoned:
		return 0, false
	}
	n.day, n.clock, n.hasDate, n.hasClock = r.day.midnight, clock, true, true
	return length, true
}

// writtenCell is stampCell for any written form.
func (r *Reader) writtenCell(c *Column, f []byte) bool {
	s, form := parseStamp(f, r.layout.Order)
	if form = form && (c.Role == Clock || s.hasDate) && (c.Role == Date || s.hasClock); !form || !s.valid() {
		if form && !s.otherwise() || !form && impossible(f, c.Role) {
			r.now.why = NoSuchTime
		}
		return false
	}
	if c.torn && (c.zoned && !s.hasZone || c.seconds && !s.hasSeconds) {
		return false
	}
	n := &r.now
	if c.Role != Clock {
		n.day, n.hasDate = s.midnight(), true
	}
	if c.Role != Date {
		n.clock, n.nano, n.leap, n.hasClock = s.clock(), s.nano, s.sec == 60, true
	}
	if s.hasZone {
		n.zone, n.hasZone = s.zone, true
	}
	switch {
	case c.Role == Date && !s.hasClock:
		r.day.set(f, n.day)
	case c.Role == Time && len(f) >= 19 && (f[10] == 'T' || f[10] == ' '):
		if _, ok := clock8(f[11:]); ok {
			r.day.set(f[:10], n.day)
		}
	}
	return true
}

// epochCell reads a count since 1970.
func (r *Reader) epochCell(c *Column, f []byte) bool {
	v, ok := parseNumber(f, r.layout.mark())
	if !ok || !(v >= 0 && v < 253402300800*c.Scale) { // the year 10000
		return false
	}
	whole := math.Floor(v / c.Scale)
	rest := v - whole*c.Scale
	n := &r.now
	n.clock, n.nano = int64(whole), int(math.Round(rest/c.Scale*1e9)) // of the day that began in 1970
	n.hasDate, n.hasClock, n.hasZone = true, true, true
	return true
}

// finish makes an instant of the parts; false where a day is wanting. A time of
// day that falls by more than half a day has passed midnight, and one that climbs
// by as much in a file that runs backwards has too.
func (r *Reader) finish() bool {
	n := &r.now
	switch {
	case n.hasDate && n.hasZone:
		r.zoned++
		r.rec.Time, r.rec.Leap = time.Unix(n.day+n.clock-int64(n.zone), int64(n.nano)).UTC(), n.leap
		return true
	case n.sinceStart:
		return r.finishCount()
	}
	if !n.hasDate {
		if r.opt.Date.IsZero() {
			return false
		}
		const halfDay = 43200
		switch {
		case r.clocked && n.clock < r.last-halfDay && r.falls <= r.rises:
			r.date = r.date.AddDate(0, 0, 1)
		case r.clocked && n.clock > r.last+halfDay && r.falls > r.rises:
			r.date = r.date.AddDate(0, 0, -1)
		}
		r.last, r.clocked = n.clock, true
		n.day = r.date.Unix()
	}
	civil := n.day + n.clock
	switch {
	case n.hasZone:
		r.zoned++
		civil -= int64(n.zone)
	case r.opt.Zone != nil:
		r.bare++
		civil -= r.zone.offset(civil, r.opt.Zone)
	default:
		r.bare++
		civil -= int64(r.layout.headingZone)
	}
	r.rec.Time, r.rec.Leap = time.Unix(civil, int64(n.nano)).UTC(), n.leap
	return true
}

// zoneCache remembers the zone's offset in the last minute. Offsets have changed
// on whole minutes since before there were loggers.
type zoneCache struct {
	minute, seconds int64
	set             bool
}

// offset is how far a zone is east of UTC, in seconds, at its own civil time.
// Where that occurs twice, or never, it is as time.Date says.
func (c *zoneCache) offset(civil int64, zone *time.Location) int64 {
	minute := civil / 60
	if civil < 0 {
		minute-- // any two different minutes may differ, two halves of one not
	}
	if !c.set || c.minute != minute {
		t := time.Unix(civil, 0).UTC()
		y, m, d := t.Date()
		local := time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), 0, zone)
		*c = zoneCache{minute: minute, seconds: civil - local.Unix(), set: true}
	}
	return c.seconds
}
