package main

import (
	"strings"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/eclipse/limb"
)

// A quantity is something that can be claimed of an eclipse at a site.
type quantity struct {
	name string
	unit string // s, deg or 1
	kind figureKind
	// of computes it; ut asks for UT in place of UTC. False where there is no such event.
	of func(c *eclipse.Circumstances, ut bool) (figure, bool)
	// edged computes it with the Moon's real edge; nil where -limb makes no difference.
	edged func(c *limb.Contacts, ut bool) (figure, bool)
	order int // of the tables
}

var quantities = listQuantities()

// events are the instants of an eclipse.
var events = []struct {
	name string
	of   func(*eclipse.Circumstances) *eclipse.Contact
}{
	{"c1", func(c *eclipse.Circumstances) *eclipse.Contact { return &c.C1 }},
	{"c2", func(c *eclipse.Circumstances) *eclipse.Contact { return &c.C2 }},
	{"max", func(c *eclipse.Circumstances) *eclipse.Contact { return &c.Max }},
	{"c3", func(c *eclipse.Circumstances) *eclipse.Contact { return &c.C3 }},
	{"c4", func(c *eclipse.Circumstances) *eclipse.Contact { return &c.C4 }},
}

// edged are those that the Moon's real edge makes.
var edged = map[string]func(*limb.Contacts) *eclipse.Contact{
	"c2": func(c *limb.Contacts) *eclipse.Contact { return &c.LimbC2.Contact },
	"c3": func(c *limb.Contacts) *eclipse.Contact { return &c.LimbC3.Contact },
}

// instantOf is the instant of a contact, and whether there is one.
func instantOf(c *eclipse.Contact, ut bool) (figure, bool) {
	if ut {
		return figure{kind: anInstant, at: c.UT}, c.Exists
	}
	return figure{kind: anInstant, at: c.UTC}, c.Exists
}

var angles = []struct {
	name string
	of   func(*eclipse.Contact) float64
}{
	{"alt_deg", func(c *eclipse.Contact) float64 { return c.Alt }},
	{"az_deg", func(c *eclipse.Contact) float64 { return c.Az }},
	{"p_deg", func(c *eclipse.Contact) float64 { return c.P }},
	{"v_deg", func(c *eclipse.Contact) float64 { return c.V }},
}

var depths = []struct {
	name string
	of   func(*eclipse.Circumstances) float64
}{
	{"magnitude", func(c *eclipse.Circumstances) float64 { return c.Magnitude }},
	{"obscuration", func(c *eclipse.Circumstances) float64 { return c.Obscuration }},
	{"diameter_ratio", func(c *eclipse.Circumstances) float64 { return c.Ratio }},
}

func listQuantities() map[string]*quantity {
	all := map[string]*quantity{}
	add := func(q quantity) {
		q.order = len(all)
		all[q.name] = &q
	}
	for _, e := range events {
		q := quantity{name: e.name, unit: "s", kind: anInstant, of: func(c *eclipse.Circumstances, ut bool) (figure, bool) {
			return instantOf(e.of(c), ut)
		}}
		if of := edged[e.name]; of != nil {
			q.edged = func(c *limb.Contacts, ut bool) (figure, bool) { return instantOf(of(c), ut) }
		}
		add(q)
	}
	for _, d := range depths {
		add(quantity{name: d.name, unit: "1", kind: aNumber, of: func(c *eclipse.Circumstances, _ bool) (figure, bool) {
			return figure{kind: aNumber, v: d.of(c)}, c.Geometry != eclipse.None
		}})
	}
	add(quantity{name: "duration_s", unit: "s", kind: aNumber, of: func(c *eclipse.Circumstances, _ bool) (figure, bool) {
		return figure{kind: aNumber, v: c.Duration}, c.C2.Exists
	}, edged: func(c *limb.Contacts, _ bool) (figure, bool) {
		return figure{kind: aNumber, v: c.LimbDuration}, c.Count > 0
	}})
	for _, a := range angles {
		for _, e := range events {
			add(quantity{name: a.name + "@" + e.name, unit: "deg", kind: aNumber, of: func(c *eclipse.Circumstances, _ bool) (figure, bool) {
				at := e.of(c)
				return figure{kind: aNumber, v: a.of(at)}, at.Exists
			}})
		}
	}
	return all
}

// quantityNames is what an unknown quantity is answered with.
func quantityNames() string {
	var names []string
	for _, e := range events {
		names = append(names, e.name)
	}
	for _, d := range depths {
		names = append(names, d.name)
	}
	names = append(names, "duration_s")
	for _, a := range angles {
		names = append(names, a.name+"@c1")
	}
	return strings.Join(names, " ")
}
