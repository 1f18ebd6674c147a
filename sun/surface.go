package sun

import "math"

// A Surface is the face of a flat sensor. The zero value lies flat and looks at
// the zenith, over ground that reflects nothing. Safe to copy and to share.
type Surface struct {
	Tilt    float64 // from the horizontal, degrees, [0, 180]; 90 stands upright
	Azimuth float64 // that it faces, from north through east, degrees, [-180, 360]
	// Albedo is the part of the light that the ground throws back, [0, 1]: 0.2 for
	// grass or earth, up to 0.9 for fresh snow (common practice, no source).
	Albedo float64
}

// Validate returns a *RangeError for the first field that is out of range, NaN included.
func (s Surface) Validate() error {
	if e := outside("Surface.Tilt", s.Tilt, 0, 180); e != nil {
		return e
	}
	if e := outside("Surface.Azimuth", s.Azimuth, -180, 360); e != nil {
		return e
	}
	if e := outside("Surface.Albedo", s.Albedo, 0, 1); e != nil {
		return e
	}
	return nil
}

// Incidence is the angle between the surface's normal and a direction, degrees,
// [0, 180]; above 90 the light comes from behind. As the eye sees it, if the
// refraction has been added to the altitude.
func (s Surface) Incidence(h Horizontal) float64 {
	sinT, cosT := math.Sincos(s.Tilt * deg)
	sinh, cosh := math.Sincos(h.Alt * deg)
	sinΔ, cosΔ := math.Sincos((h.Az - s.Azimuth) * deg)
	// Direction in the frame of the surface: normal, up its slope, and across.
	normal := sinh*cosT + cosh*sinT*cosΔ
	slope := sinh*sinT - cosh*cosT*cosΔ
	across := cosh * sinΔ
	return math.Atan2(math.Hypot(slope, across), normal) / deg
}

// On is the clear sky's light on a surface, lx, with the Sun where [Observer.Position]
// has it: the beam by the cosine of its incidence, the part of the sky that the
// surface sees, and of the ground lit by both. Sky and ground are taken to be
// evenly bright (B. Y. H. Liu & R. C. Jordan, Solar Energy 4 (1960) 1, from
// memory), which is exact for a flat sensor; a real clear sky is brighter about
// the Sun, so that a steep sensor gets up to a third more sky light facing it, and
// less facing away (common practice, no source). On the flat it is the Global of
// [Sky.Illuminance].
func (s Sky) On(face Surface, sun Horizontal) float64 {
	l := s.Illuminance(sun.Alt, sun.Distance)
	// What the horizon leaves of a setting disc is above it, wherever the centre is.
	sun.Alt = math.Max(0, sun.Alt+StandardAir().Refraction(sun.Alt))
	cosT := math.Cos(face.Tilt * deg)
	beam := l.Direct * math.Max(0, math.Cos(face.Incidence(sun)*deg))
	return beam + l.Sky*(1+cosT)/2 + face.Albedo*l.Global*(1-cosT)/2
}
