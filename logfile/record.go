package logfile

import (
	"fmt"
	"time"
)

// A Record is one readable line. Numbers that are absent, empty or unreadable
// are NaN. It holds no reference to the reader and may be copied and kept. Compare
// times with Equal, and mind that NaN makes no two Records equal under ==.
type Record struct {
	Line   int       // in the file, from 1
	Offset int64     // of the line's first byte, from the start of the file
	Time   time.Time // UTC
	// Leap says that the stamp read :60, which Time holds as the next second.
	Leap bool
	// Restarted says that a count since the logger's start began again here, and
	// HeaderAgain that a header stands between the record before and this one, as loggers
	// write it when they start. Neither is said of the first record.
	Restarted, HeaderAgain bool
	// The columns by their roles, in the file's own units; Lat and Lon degrees.
	Light, Light2, Temp, Pressure, Humidity, Lat, Lon float64
}

// A Role is what a column holds.
type Role uint8

// The roles. Skip is a column that is not read.
const (
	Skip  Role = iota
	Time       // a full stamp, or a count since 1970 or since the logger's start
	Date       // a calendar day
	Clock      // a time of day
	Lat
	Lon
	Light
	Light2
	Temp
	Pressure
	Humidity
	roleCount
)

var roleNames = [roleCount]string{
	Skip: "skip", Time: "time", Date: "date", Clock: "clock", Lat: "lat", Lon: "lon",
	Light: "light", Light2: "light2", Temp: "temp", Pressure: "pressure", Humidity: "humidity",
}

// String is the role as ParseRole reads it.
func (r Role) String() string {
	if r < roleCount {
		return roleNames[r]
	}
	return fmt.Sprintf("role %d", uint8(r))
}

// isStamp says that a role is part of the time.
func (r Role) isStamp() bool { return r == Time || r == Date || r == Clock }

// ParseRole reads a role's name as String writes it. The error lists the names.
func ParseRole(name string) (Role, error) {
	for r, n := range roleNames {
		if n == name {
			return Role(r), nil
		}
	}
	return Skip, fmt.Errorf("%q is no role of a column; roles are %v", name, roleNames)
}

// An Order is that of day, month and year in a stamp. Dates led by a year of four
// digits are read as such under any.
type Order uint8

// The orders. Auto decides over the sample, or refuses.
const (
	Auto Order = iota
	YMD
	DMY
	MDY
)

var orderNames = [...]string{Auto: "auto", YMD: "ymd", DMY: "dmy", MDY: "mdy"}

// String is the order as ParseOrder reads it.
func (o Order) String() string {
	if int(o) < len(orderNames) {
		return orderNames[o]
	}
	return fmt.Sprintf("order %d", uint8(o))
}

func (o Order) words() string {
	switch o {
	case YMD:
		return "year, month, day"
	case DMY:
		return "day, month, year"
	}
	return "month, day, year"
}

// ParseOrder reads ymd, dmy, mdy or auto; empty is auto. The error lists the names.
func ParseOrder(name string) (Order, error) {
	if name == "" {
		return Auto, nil
	}
	for o, n := range orderNames {
		if n == name {
			return Order(o), nil
		}
	}
	return Auto, fmt.Errorf("%q is no order of a date; ymd, dmy and mdy are", name)
}
