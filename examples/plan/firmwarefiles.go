package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/noonfall/examples/internal/cli"
)

// about are the comments that both files open with, without their marks.
func (p *plan) about(f *firmware) (lines []string) {
	says := func(format string, args ...any) {
		text := strings.TrimSuffix(cli.Wrap(fmt.Sprintf(format, args...), "", ""), "\n")
		lines = append(lines, strings.Split(text, "\n")...)
	}
	says("Solar eclipse of %s, site %s, %s, %.0f m above the ellipsoid, by %s. Made by examples/plan.",
		p.elements.Date, sided(p.site.Lat, "N", "S"), sided(p.site.Lon, "E", "W"), p.site.Height, whose[p.limb])
	says("Time: milliseconds after the epoch, %s, which is %d s after 1970-01-01 in UTC without leap seconds.", f.epoch.Format(time.RFC3339), f.epoch.Unix())
	says("Obscuration: units of 1/%d of the Sun's area. Light: units of 1/%d of a decade, 1000 log10(lx), on a level sensor under a model clear sky; a real one differs by a third either way, by a factor of two where the Sun is low, and totality leaves 1 to 10 lx.", perWhole, perDecade)
	precise := func(g *grating, where string) {
		says("Every %g s %s, %d rows. Read by a straight line in whole numbers it is within %d units of obscuration and %d of light (a factor of %.3f) of the curve.",
			g.step.Seconds(), where, len(g.light), ceil(g.obscurationErr), ceil(g.lightErr), math.Pow(10, float64(ceil(g.lightErr))/perDecade))
	}
	if f.fine != nil {
		precise(&f.coarse, "outside of the finer table")
		precise(f.fine, fmt.Sprintf("from %s to %s UTC", f.at(f.fine.begin), f.at(f.fine.end())))
	} else {
		precise(&f.coarse, "throughout")
	}
	says("The contacts themselves are known to seconds, see plan.txt.")
	says("For a screen only. No time is a signal to take a filter off or to put it back: clock, place, the Moon's edge and this table are wrong by seconds. Only a filter of ISO 12312-2 is fit for eyes, and it stays on outside of totality.")
	return lines
}

// firmwareWords says what -firmware wrote.
func (p *plan) firmwareWords(w io.Writer) {
	switch f := p.compiled; {
	case !p.firmware:
	case f == nil:
		fmt.Fprint(w, "\nThere is nothing to record, so that no plan.h and plan.csv are written: any that the\nfolder holds are those of another plan.\n")
	default:
		fmt.Fprintf(w, "\nFor the logger's own program: plan.h, which a C compiler takes (%d bytes of tables),\nand plan.csv with the same rows. Their comments have units, steps and errors.\n", f.size())
	}
}

func (f *firmware) at(d time.Duration) string { return f.epoch.Add(d).Format(time.TimeOnly) }

func ceil(v float64) int { return int(math.Ceil(v)) }

// writeHeader writes the table in C99, which C++ accepts too.
func (p *plan) writeHeader(w io.Writer) error {
	f := p.compiled
	var b bytes.Buffer
	b.WriteString("/*\n")
	for _, line := range p.about(f) {
		fmt.Fprintf(&b, " * %s\n", line)
	}
	fmt.Fprintf(&b, " * Size: %d bytes of tables, and no RAM where PLAN_TABLE puts them into flash.\n */\n", f.size())
	b.WriteString(headerOpens)
	fmt.Fprintf(&b, "#define PLAN_EPOCH UINT32_C(%d)\n", f.epoch.Unix())
	f.coarse.writeC(&b, "COARSE", "coarse")
	if f.fine != nil {
		b.WriteString("#define PLAN_FINE 1\n")
		f.fine.writeC(&b, "FINE", "fine")
	}
	fmt.Fprintf(&b, "#define PLAN_CONTACTS %d\nstatic const int32_t plan_contact_ms[PLAN_CONTACTS] = {", len(f.contacts))
	for i, c := range f.contacts {
		fmt.Fprintf(&b, "%s%d", separator(i), c.UTC.Sub(f.epoch).Milliseconds())
	}
	b.WriteString("};\nstatic const char plan_contact_name[PLAN_CONTACTS][4] = {")
	for i, c := range f.contacts {
		fmt.Fprintf(&b, "%s%q", separator(i), c.name)
	}
	b.WriteString("};\n")
	b.WriteString(headerReads)
	_, err := w.Write(b.Bytes())
	return err
}

func separator(i int) string {
	if i == 0 {
		return ""
	}
	return ", "
}

func (g *grating) writeC(b *bytes.Buffer, macro, name string) {
	fmt.Fprintf(b, "#define PLAN_%s_MS INT32_C(%d)\n#define PLAN_%[1]s_STEP_MS INT32_C(%[3]d)\n#define PLAN_%[1]s_ROWS INT32_C(%[4]d)\n",
		macro, g.begin.Milliseconds(), g.step.Milliseconds(), len(g.light))
	for _, row := range []struct {
		of     string
		values []int16
	}{{"obscuration", g.obscuration}, {"light", g.light}} {
		fmt.Fprintf(b, "static const int16_t plan_%s_%s[] PLAN_TABLE = {", name, row.of)
		for i, v := range row.values {
			if i%16 == 0 {
				b.WriteString("\n\t")
			}
			fmt.Fprintf(b, "%d,", v)
		}
		b.WriteString("\n};\n")
	}
}

const headerOpens = `#ifndef PLAN_H
#define PLAN_H

#include <stdint.h>

/* Where constants must be put into flash by name and read from there by a function,
 * define both before this file is included. */
#ifndef PLAN_TABLE
#define PLAN_TABLE
#endif
#ifndef PLAN_READ
#define PLAN_READ(p) (*(p))
#endif

/* What the functions return outside of the table. */
#define PLAN_NONE INT32_C(-32768)

`

const headerReads = `
/* Milliseconds after the epoch of a clock that counts seconds after 1970 in UTC. It stops
 * at three weeks either way. */
static inline int32_t plan_ms(uint32_t unix_s, uint16_t ms) {
	const uint32_t most = UINT32_C(1814400);
	if (unix_s < PLAN_EPOCH) {
		uint32_t before = PLAN_EPOCH - unix_s;
		return (int32_t)(before < most ? before : most) * -1000 + ms;
	}
	unix_s -= PLAN_EPOCH;
	return (int32_t)(unix_s < most ? unix_s : most) * 1000 + ms;
}

static inline int32_t plan_line(const int16_t *row, int32_t rows, int32_t step, int32_t ms) {
	int32_t i = ms / step, rest = ms % step, a, b;
	if (ms < 0 || i >= rows || (i == rows - 1 && rest > 0)) return PLAN_NONE;
	a = (int16_t)PLAN_READ(row + i);
	if (rest == 0) return a;
	b = (int16_t)PLAN_READ(row + i + 1);
	return a + (b - a) * rest / step;
}

#ifdef PLAN_FINE
#define PLAN_PICK(of) \
	int32_t in = ms - PLAN_FINE_MS; \
	if (in >= 0 && in < (PLAN_FINE_ROWS - 1) * PLAN_FINE_STEP_MS) \
		return plan_line(plan_fine_##of, PLAN_FINE_ROWS, PLAN_FINE_STEP_MS, in); \
	return plan_line(plan_coarse_##of, PLAN_COARSE_ROWS, PLAN_COARSE_STEP_MS, ms)
#else
#define PLAN_PICK(of) return plan_line(plan_coarse_##of, PLAN_COARSE_ROWS, PLAN_COARSE_STEP_MS, ms)
#endif

/* Covered part of the Sun's area, 1/10000, or PLAN_NONE. */
static inline int32_t plan_obscuration(int32_t ms) { PLAN_PICK(obscuration); }

/* Expected light, 1000 log10(lx), or PLAN_NONE. */
static inline int32_t plan_light(int32_t ms) { PLAN_PICK(light); }

/* The next contact: its place in plan_contact_name and plan_contact_ms; -1 after the last. */
static inline int plan_next(int32_t ms) {
	int i;
	for (i = 0; i < PLAN_CONTACTS; i++)
		if (plan_contact_ms[i] >= ms) return i;
	return -1;
}

/* Whole seconds until the next contact; -1 after the last. */
static inline int32_t plan_seconds(int32_t ms) {
	int i = plan_next(ms);
	return i < 0 ? -1 : (plan_contact_ms[i] - ms) / 1000;
}

#endif
`

// writeTable writes the same for programs that read a card: the coarse rows, with the
// fine ones in their places.
func (p *plan) writeTable(w io.Writer) error {
	f := p.compiled
	var b bytes.Buffer
	for _, line := range p.about(f) {
		fmt.Fprintf(&b, "# %s\n", line)
	}
	c := csv.NewWriter(&b)
	rows := [][]string{{"ms", "obscuration_1e4", "light_mdecade", "next", "next_s"}}
	add := func(g *grating, i int) {
		at := g.begin + time.Duration(i)*g.step
		row := []string{strconv.FormatInt(at.Milliseconds(), 10), strconv.Itoa(int(g.obscuration[i])), strconv.Itoa(int(g.light[i])), "", ""}
		if m, seconds, ok := f.next(at); ok {
			row[3], row[4] = m.name, strconv.Itoa(seconds)
		}
		rows = append(rows, row)
	}
	f.each(add)
	if err := c.WriteAll(rows); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}
