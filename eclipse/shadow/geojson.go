package shadow

import (
	"encoding/json"
	"slices"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
)

// A feature is a GeoJSON feature (RFC 7946, section 3.2).
type feature struct {
	Type       string     `json:"type"`
	Bbox       []float64  `json:"bbox"`
	Geometry   geometry   `json:"geometry"`
	Properties properties `json:"properties"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// properties are what a map's legend needs.
type properties struct {
	Role string `json:"role"` // what the feature is; see Shadow.GeoJSON
	Date string `json:"date"`
	Kind string `json:"kind,omitempty"` // annular or total, of a piece of the path
	TT   string `json:"tt,omitempty"`   // of a point, RFC 3339 without zone
	UTC  string `json:"utc,omitempty"`  // of a point, RFC 3339
	DT   any    `json:"delta_t_s,omitempty"`
}

type collection struct {
	Type     string    `json:"type"`
	Bbox     []float64 `json:"bbox,omitempty"`
	Features []feature `json:"features"`
}

// GeoJSON returns the path as a feature collection by RFC 7946: WGS84 longitude
// and latitude in degrees to 1e-6, rings closed, wound anticlockwise and simple,
// everything cut at longitude 180, a path over a pole reaching the map's edge there.
// Lines are drawn so densely that straight steps on a map are within 0.1 km of the
// ground's. A bounding box that spans longitude 180 has its west greater than its
// east, as the standard wants. The property "role" of a feature is one of
//
//	path                        Polygon or MultiPolygon, one for each "kind"
//	central line                LineString or MultiLineString, as all limits
//	northern limit              of umbra or antumbra
//	southern limit
//	penumbra, northern limit
//	penumbra, southern limit
//	greatest eclipse            Point, with "tt" and "utc"
//	P1 ... P4, U1 ... U4        the same
//
// and what does not exist is left out. The path is the ground from which the
// central phase is seen with the Sun's centre above the horizon, no refraction. The error
// is that of encoding/json.
func (s *Shadow) GeoJSON() ([]byte, error) {
	c := collection{Type: "FeatureCollection", Features: []feature{}}
	var all [][]position
	add := func(role string, kind eclipse.Kind, polygons bool, parts [][]position) {
		if len(parts) == 0 {
			return
		}
		all = append(all, parts...)
		p := properties{Role: role, Date: s.elements.Date}
		if kind != eclipse.None {
			p.Kind = kind.String()
		}
		c.Features = append(c.Features, feature{"Feature", bounds(parts), shape(parts, polygons), p})
	}
	for _, p := range s.patches() {
		add("path", p.kind, true, splitRing(smooth(p.outline, true)))
	}
	for _, l := range s.lines() {
		add(l.role, eclipse.None, false, splitLine(smooth(l.sites, false)))
	}
	for _, e := range s.events() {
		at := rounded(position{e.at.Site.Lon, e.at.Site.Lat})
		all = append(all, []position{at})
		c.Features = append(c.Features, feature{
			"Feature", bounds([][]position{{at}}), geometry{"Point", at},
			properties{Role: e.role, Date: s.elements.Date, UTC: e.at.UTC.Format(layout + "Z"), TT: timescale.UT1(e.at.TT).Time().Format(layout),
				DT: s.prep.Options().Scale.DeltaT(s.elements.T0).Seconds},
		})
	}
	c.Bbox = bounds(all)
	return json.Marshal(c)
}

const layout = "2006-01-02T15:04:05.000"

// shape closes rings and picks the simplest geometry.
func shape(parts [][]position, polygons bool) geometry {
	if !polygons {
		for _, l := range parts {
			for i := range l {
				l[i] = rounded(l[i])
			}
		}
		if len(parts) == 1 {
			return geometry{"LineString", parts[0]}
		}
		return geometry{"MultiLineString", parts}
	}
	var out [][][]position
	for _, r := range parts {
		out = append(out, [][]position{append(slices.Clip(r), r[0])})
	}
	if len(out) == 1 {
		return geometry{"Polygon", out[0]}
	}
	return geometry{"MultiPolygon", out}
}

type line struct {
	role  string
	sites []sun.Site
}

// lines are those of the path and of the penumbra.
func (s *Shadow) lines() (out []line) {
	g := &s.global
	limit := func(role string, c cone, sd side, e Ends) {
		if e.Exists() {
			out = append(out, line{role, s.trace(e, func(m *moment) point { return m.border(c, sd, (*moment).edge).point })})
		}
	}
	if e := g.Line; e.Exists() {
		out = append(out, line{"central line", s.trace(e, func(m *moment) point { return m.lift(m.x, m.y) })})
	}
	limit("northern limit", umbra, north, g.North)
	limit("southern limit", umbra, south, g.South)
	limit("penumbra, northern limit", penumbra, north, g.PenumbraNorth)
	limit("penumbra, southern limit", penumbra, south, g.PenumbraSouth)
	return out
}

// trace follows a line from end to end.
func (s *Shadow) trace(e Ends, where func(*moment) point) []sun.Site {
	own := stay{true, s.hours(e.Begin.TT), s.hours(e.End.TT)}
	out := []sun.Site{e.Begin.Site}
	ts := s.instants(own, own, own.from, own.to)
	for _, t := range ts[1 : len(ts)-1] {
		m := s.at(t)
		out = append(out, m.place(where(&m)))
	}
	return append(out, e.End.Site)
}

type marked struct {
	role string
	at   Event
}

// events are the points of the collection.
func (s *Shadow) events() (out []marked) {
	g := &s.global
	top := Event{Exists: true, TT: g.Greatest.TT, UTC: g.Greatest.UTC, UT: g.Greatest.UT, Site: g.Greatest.Site}
	for _, e := range []marked{
		{"greatest eclipse", top},
		{"P1", g.P1}, {"P2", g.P2}, {"P3", g.P3}, {"P4", g.P4}, {"U1", g.U1}, {"U2", g.U2}, {"U3", g.U3}, {"U4", g.U4},
	} {
		if e.at.Exists {
			out = append(out, e)
		}
	}
	return out
}

// bounds is the bounding box by RFC 7946, section 5: west, south, east, north. In
// longitude it is the complement of the widest gap on the circle.
func bounds(parts [][]position) []float64 {
	low, high := 90.0, -90.0
	var spans [][2]float64
	for _, part := range parts {
		for i, p := range part {
			low, high = min(low, p[1]), max(high, p[1])
			q := part[max(0, i-1)]
			spans = append(spans, [2]float64{min(p[0], q[0]), max(p[0], q[0])})
		}
	}
	slices.SortFunc(spans, func(a, b [2]float64) int {
		if a[0] < b[0] {
			return -1
		}
		return 1
	})
	// The gap over longitude 180 first, then those between.
	reach := spans[0][1]
	west, east, widest := spans[0][0], 0.0, -1.0
	for _, sp := range spans[1:] {
		if gap := sp[0] - reach; gap > widest && gap > 0 {
			west, east, widest = sp[0], reach, gap
		}
		reach = max(reach, sp[1])
	}
	if over := spans[0][0] + 360 - reach; over >= widest {
		west, east = spans[0][0], reach
	}
	r := rounded(position{west, low})
	t := rounded(position{east, high})
	return []float64{r[0], r[1], t[0], t[1]}
}
