package shadow

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.org/noonfall/eclipse"
	"example.org/noonfall/sun"
	"example.org/noonfall/sun/timescale"
	"example.org/noonfall/testdata/references"
)

// tabled is a row of a published path table beside our section of that instant.
type tabled struct {
	references.Row
	Section
	supplement float64 // width by the almanacs' formula, km
}

// pathTable reads the rows of one eclipse and computes them with the elements.
func pathTable(t *testing.T, e *eclipse.Elements, date string) (out []tabled) {
	t.Helper()
	var s *Shadow
	for _, r := range references.Table(t, "paths.csv") {
		if r["eclipse"] != date || r["row"] != "path" {
			continue
		}
		deltaT := r.Number(t, "delta_t_s")
		if s == nil {
			s = cast(t, e, deltaT)
		}
		ut, err := time.Parse("2006-01-02 15:04", date+" "+r["ut"])
		require.NoError(t, err)
		j2000 := time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)
		tt := timescale.TT(ut.Sub(j2000).Seconds() + deltaT)
		m := s.at(s.hours(tt))
		out = append(out, tabled{r, s.Section(tt), m.supplementWidth()})
	}
	require.NotEmpty(t, out)
	return out
}

// supplementWidth is the formula of the Explanatory Supplement (1992), chapter 8,
// from memory: as width, but with the place's geocentric radius for the ground's normal.
func (m *moment) supplementWidth() float64 {
	p := m.lift(m.x, m.y)
	w := m.ground(p)
	u, v := m.dx-w.ξ, m.dy-w.η
	return 2 * radiusKm * math.Abs(m.l2-p.ζ*m.f2) / math.Hypot(p.ζ, (p.ξ*u+p.η*v)/math.Hypot(u, v))
}

// off is how far a place is from the printed one, km. Where the table has a dash
// there must be none.
func (r tabled) off(t *testing.T, column string, p Place) float64 {
	t.Helper()
	at := fmt.Sprint(r.Row["eclipse"], " ", r.Row["ut"], " ", column)
	if printed := r.Row[column+"_lat_deg"] != ""; printed != p.Exists {
		t.Errorf("%s: exists %v, printed %v (%s)", at, p.Exists, printed, r.Row["source"])
		return 0
	} else if !printed {
		return 0
	}
	return distance(p.Site, sun.Site{Lat: r.Number(t, column+"_lat_deg"), Lon: r.Number(t, column+"_lon_deg_east")})
}

// others compares everything but the places.
func (r tabled) others(t *testing.T) {
	t.Helper()
	for _, v := range []struct {
		column string
		got    float64
		tol    float64 // half the last digit printed, and a little
	}{
		{"central_duration_s", r.Duration, 0.1},
		{"diameter_ratio", r.Ratio, 0.00055},
		{"sun_alt_deg", r.Alt, 0.55},
		{"sun_az_deg", r.Az, 0.55},
		{"path_width_km", r.supplement, 0.55},
		{"path_width_km", r.Width, 0.51 + 0.006*r.Width}, // the normal's own direction, not the radius'
	} {
		want := r.Number(t, v.column)
		if !(math.Abs(v.got-want) <= v.tol) {
			t.Errorf("%s %s: %s %.4f, want %g ± %g (%s)", r.Row["eclipse"], r.Row["ut"], v.column, v.got, want, v.tol, r.Row["source"])
		}
	}
}

// places compares the three places. Near the horizon a metre across the axis is a
// metre over the sine of the Sun's height on the ground: there 50 m across are
// allowed, for the elements are printed to 6 m in x and y alone, and the minute
// of a row to none. It returns the worst with the Sun above 10 degrees, km.
func (r tabled) places(t *testing.T, s *Shadow) (center, limit float64) {
	t.Helper()
	for _, p := range []struct {
		column string
		place  Place
		tol    float64 // km
		worst  *float64
	}{{"center", r.Center, 0.3, &center}, {"north", r.North, 0.5, &limit}, {"south", r.South, 0.5, &limit}} {
		d := r.off(t, p.column, p.place)
		if !p.place.Exists {
			continue
		}
		o, err := s.prep.Observer(p.place.Site)
		require.NoError(t, err)
		alt := o.Aspect(r.TT).Alt
		if tol := math.Max(p.tol, 0.05/math.Sin(alt*deg)); !(d <= tol) {
			t.Errorf("%s %s: %.2f km off with the Sun at %.1f degrees, tolerance %.2f (%s)", r.Row["ut"], p.column, d, alt, tol, r.Row["source"])
		}
		if alt > 10 {
			*p.worst = math.Max(*p.worst, d)
		}
	}
	return center, limit
}

// The table of 21 August 2017 with the elements and Delta T that it was made with.
// Printed to 0.1 arcmin, 0.13 km at the corner of a cell.
func TestPathOf2017(t *testing.T) {
	e := published(t, "canon5m", "2017-08-21")
	comparePath(t, e, "2017-08-21", 68.4)
}

func comparePath(t *testing.T, e *eclipse.Elements, date string, deltaT float64) {
	t.Helper()
	var center, limit float64
	s := cast(t, e, deltaT)
	for _, r := range pathTable(t, e, date) {
		r.others(t)
		c, l := r.places(t, s)
		center, limit = math.Max(center, c), math.Max(limit, l)
	}
	t.Logf("%s: worst central point %.2f km, limit %.2f km with the Sun above 10 degrees", date, center, limit)
}

// The table of 12 August 2026 was made with other elements than the canon's (its
// greatest eclipse is 0.9 s earlier), which stand half a kilometre beside it all
// along: it is the axis that differs. Two numbers, a shift of the axis in x and y,
// fitted to the central line, must bring 144 printed coordinates of line and limits
// into the tolerances.
func TestPathOf2026(t *testing.T) {
	e := published(t, "canon5m", "2026-08-12")
	e.X, e.Y = shiftedAxis(t, e)
	comparePath(t, e, "2026-08-12", 71.4)
}

// shiftedAxis fits a shift of the axis to the table's central line: the printed
// places, carried back to the fundamental plane, stand beside x and y.
func shiftedAxis(t *testing.T, e *eclipse.Elements) (x, y eclipse.Poly) {
	t.Helper()
	var dx, dy, n float64
	for _, r := range pathTable(t, e, "2026-08-12") {
		s := cast(t, e, r.Number(t, "delta_t_s"))
		m := s.at(s.hours(r.TT))
		site := sun.Site{Lat: r.Number(t, "center_lat_deg"), Lon: r.Number(t, "center_lon_deg_east")}
		pole, out := site.Geocentric()
		sin, cos := math.Sincos(m.μ + site.Lon*deg)
		dx += out*sin - m.x
		dy += pole*m.cosd - out*cos*m.sind - m.y
		n++
	}
	t.Logf("axis shifted by %.6f, %.6f Earth radii", dx/n, dy/n)
	x, y = append(x, e.X...), append(y, e.Y...)
	x[0] += dx / n
	y[0] += dy / n
	return x, y
}
