package logfile

import (
	"fmt"
	"time"
)

// A Record is one readable line. Numbers that are absent, empty or unreadable
// are NaN.
type Record struct {
	Line   int       // in the file, from 1
	Offset int64     // of the line's first byte
	Time   time.Time // UTC
	// Leap says that the stamp read 23:59:60, which Time holds as the next second.
	Leap bool
	// The columns by their roles, in the file's own units.
	Light, Light2, Temp, Pressure, Humidity, Lat, Lon float64
}

// A Role is what a column holds.
type Role uint8

// The roles. Skip is a column that is not read.
const (
	Skip  Role = iota
	Time       // a full stamp, or seconds, milliseconds or microseconds since 1970
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

var roleNames = [...]string{
	Skip: "skip", Time: "time", Date: "date", Clock: "clock", Lat: "lat", Lon: "lon",
	Light: "light", Light2: "light2", Temp: "temp", Pressure: "pressure", Humidity: "humidity",
}

func (r Role) String() string {
	if int(r) < len(roleNames) {
		return roleNames[r]
	}
	return fmt.Sprintf("role %d", uint8(r))
}

// ParseRole reads a role's name.
func ParseRole(name string) (Role, error) {
	for r, n := range roleNames {
		if n == name {
			return Role(r), nil
		}
	}
	return Skip, fmt.Errorf("%q is no role of a column; roles are %v", name, roleNames)
}

// An Order is that of day, month and year in a stamp.
type Order uint8

// The orders. Auto decides over the sample, or refuses.
const (
	Auto Order = iota
	YMD
	DMY
	MDY
)

var orderNames = [...]string{Auto: "auto", YMD: "ymd", DMY: "dmy", MDY: "mdy"}

func (o Order) String() string {
	if int(o) < len(orderNames) {
		return orderNames[o]
	}
	return fmt.Sprintf("order %d", uint8(o))
}

// ParseOrder reads ymd, dmy, mdy or auto; empty is auto.
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
