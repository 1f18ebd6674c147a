package main

import (
	"context"
	"errors"
	"io"
	"strings"
	"time"

	"example.org/noonfall/eclipse/canon"
	"example.org/noonfall/sun"
)

// A checker walks through a claims file.
type checker struct {
	sheet  *sheet
	reader reader
	judge  judge
}

func newChecker(src *source, opt *settings) (*checker, error) {
	var site *sun.Site
	var day string
	lent := map[string]bool{"lat_deg": opt.somewhere, "lon_deg": opt.somewhere, "date": opt.dated}
	if opt.somewhere {
		site = &opt.Site
	}
	if opt.dated {
		day = opt.Date.Format(time.DateOnly)
	}
	sheet, err := newSheet(src.name, src, lent)
	if err != nil {
		return nil, err
	}
	catalogue, err := canon.Load()
	if err != nil {
		return nil, err
	}
	return &checker{
		sheet:  sheet,
		reader: reader{sheet: sheet, site: site, day: day},
		judge:  judge{catalogue: catalogue, read: src.read, scale: opt.Scale(), limb: opt.Limb, files: map[string]loaded{}},
	}, nil
}

// A finding is the answer to one claim. It is good until the next one.
type finding struct {
	line     int
	id       *string // nil where the file has no such column
	name     string  // of the quantity, as the claim spells it
	claim    claim
	computed figure
	diff     float64 // claimed minus computed, where there is something computed
	edged    bool    // computed with the Moon's real edge
	verdict  verdict
	reason   string // empty where the claim was compared
	keys     []passing
	cells    []string // of the row, for keys
}

// each answers the claims one after the other, in the file's order.
func (c *checker) each(ctx context.Context, yield func(*finding) error) error {
	for {
		if err := ctx.Err(); err != nil {
			return err
		}
		w, err := c.sheet.row()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if err := yield(c.answer(&w)); err != nil {
			return err
		}
	}
}

func (c *checker) answer(w *row) *finding {
	f := &finding{line: w.line, name: c.sheet.cell(w, colQuantity), claim: c.reader.claim(w), cells: w.cells}
	if i := c.sheet.column[colID]; i >= 0 {
		f.id = new(string)
		if i < len(w.cells) {
			*f.id = w.cells[i]
		}
	}
	if w.fault == "" {
		f.keys = c.sheet.passing
	}
	f.computed, f.verdict, f.reason = c.judge.judge(&f.claim)
	f.edged = f.verdict != badClaim && c.judge.edged(f.claim.quantity)
	if f.computed.kind != nothing {
		f.diff = difference(&f.claim, f.computed)
	}
	return f
}

func joined(faults []string) string { return strings.Join(faults, "; ") }
