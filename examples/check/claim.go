package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/noonfall/sun"
)

// A claim is a row that has been read.
type claim struct {
	question
	site      sun.Site
	quantity  *quantity
	value     figure
	tolerance float64
	ut        bool     // the scale is UT
	faults    []string // what cannot be read; the fields above are good without any only
}

// A question is what, beside the site, decides the answer: the eclipse, and the
// numbers that it is to be computed with.
type question struct {
	day      string // YYYY-MM-DD
	elements string // a file; empty for the catalogue
	deltaT   float64
	deltaTOf bool    // the claim states it
	k1, k2   float64 // zero for the elements' own
}

// The columns, by their place in known.
const (
	colDate = iota
	colLat
	colLon
	colQuantity
	colValue
	colID
	colHeight
	colDeltaT
	colScale
	colTolerance
	colK1
	colK2
	colElements
)

// reader turns rows into claims.
type reader struct {
	sheet *sheet
	site  *sun.Site // stands in where a row has none; nil for nothing
	day   string    // likewise, or empty
}

func (r *reader) claim(w *row) claim {
	var c claim
	if w.fault != "" {
		c.faults = append(c.faults, w.fault)
		c.quantity = quantities[strings.ToLower(r.sheet.cell(w, colQuantity))]
		return c
	}
	c.quantity = quantities[strings.ToLower(r.sheet.cell(w, colQuantity))]
	if c.quantity == nil {
		c.fault("quantity: %q is unknown, want one of %s", r.sheet.cell(w, colQuantity), quantityNames())
	} else {
		r.value(w, &c)
	}
	r.place(w, &c)
	r.question(w, &c)
	switch scale := strings.ToUpper(r.sheet.cell(w, colScale)); scale {
	case "", "UTC":
	case "UT":
		c.ut = true
	default:
		c.fault("scale: %q is unknown, want UTC, or UT for TT - Delta T", scale)
	}
	return c
}

func (c *claim) fault(format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf(format, args...))
}

// value reads what is claimed and how near to it agrees.
func (r *reader) value(w *row, c *claim) {
	var err error
	s := r.sheet.cell(w, colValue)
	v := figure{kind: c.quantity.kind}
	if v.kind == anInstant {
		v.at, c.tolerance, err = instant(s)
	} else {
		v.v, c.tolerance, err = number(s)
	}
	if err != nil {
		c.fault("value: %v", err)
	} else {
		c.value = v
	}
	if s := r.sheet.cell(w, colTolerance); s != "" {
		if c.tolerance, _, err = number(s); err != nil {
			c.fault("tolerance: %v", err)
		} else if c.tolerance < 0 {
			c.fault("tolerance: %s is negative", s)
		}
	}
}

// place reads the site.
func (r *reader) place(w *row, c *claim) {
	lat, lon, height := r.sheet.cell(w, colLat), r.sheet.cell(w, colLon), r.sheet.cell(w, colHeight)
	before := len(c.faults)
	if lat == "" && lon == "" && r.site != nil {
		c.site = *r.site
	} else {
		c.site.Lat = c.number("lat_deg", lat)
		c.site.Lon = c.number("lon_deg", lon)
	}
	if height != "" {
		c.site.Height = c.number("height_m", height)
	}
	if len(c.faults) > before {
		return
	}
	if err := c.site.Validate(); err != nil {
		c.fault("%v", err)
	}
}

// largestDeltaT, s, is that of the flag -deltat: a day, far beyond recorded history.
const largestDeltaT = 86400

// question reads the eclipse and what it is to be computed with.
func (r *reader) question(w *row, c *claim) {
	c.day = r.sheet.cell(w, colDate)
	if c.day == "" {
		c.day = r.day
	}
	if _, err := time.Parse(time.DateOnly, c.day); err != nil {
		c.fault("date: %q is no day of the calendar like 2027-08-02", c.day)
	}
	if s := r.sheet.cell(w, colDeltaT); s != "" {
		c.deltaT, c.deltaTOf = c.number("delta_t_s", s), true
		if !(math.Abs(c.deltaT) <= largestDeltaT) {
			c.fault("delta_t_s: %s is beyond %d s", s, largestDeltaT)
		}
	}
	for _, k := range []struct {
		column int
		into   *float64
	}{{colK1, &c.k1}, {colK2, &c.k2}} {
		s := r.sheet.cell(w, k.column)
		if s == "" {
			continue
		}
		if *k.into = c.number(known[k.column], s); !(*k.into > 0.26 && *k.into < 0.28) { // as eclipse.Elements wants it
			c.fault("%s: want the Moon's radius in Earth radii, about 0.2725", known[k.column])
		}
	}
	c.elements = r.sheet.cell(w, colElements)
}

func (c *claim) number(name, s string) float64 {
	v, _, err := number(s)
	if err != nil {
		c.fault("%s: %v", name, err)
	}
	return v
}
