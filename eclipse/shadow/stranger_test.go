package shadow

import (
	"encoding/json"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
)

// A general-purpose geometry library reads every map, finds it valid by the rules of
// the Open Geospatial Consortium (rings closed and simple, parts of an area apart)
// and its rings wound as RFC 7946 asks.
func TestGeoJSONIsValidToOthers(t *testing.T) {
	areas := 0
	for i, s := range every(t) {
		if !mapped(s, i) {
			continue
		}
		text, err := s.GeoJSON()
		require.NoError(t, err)
		var all geom.GeoJSONFeatureCollection
		require.NoError(t, json.Unmarshal(text, &all), s.elements.Date) // validates as it reads
		for _, f := range all {
			role := f.Properties["role"]
			if err := f.Geometry.Validate(); err != nil {
				t.Errorf("%s, %v: %v", s.elements.Date, role, err)
			}
			for _, p := range areasOf(f.Geometry) {
				areas++
				if !p.IsCCW() {
					t.Errorf("%s, %v: an area is wound clockwise", s.elements.Date, role)
				}
			}
		}
		if len(all) == 0 {
			t.Errorf("%s: nothing on the map", s.elements.Date)
		}
	}
	if areas < 20 {
		t.Errorf("only %d areas read", areas)
	}
}

func areasOf(g geom.Geometry) (out []geom.Polygon) {
	if p, ok := g.AsPolygon(); ok {
		return []geom.Polygon{p}
	}
	if m, ok := g.AsMultiPolygon(); ok {
		for i := range m.NumPolygons() {
			out = append(out, m.PolygonN(i))
		}
	}
	return out
}
