package look

import "example.org/noonfall/eclipse/shadow"

// A PathLine is one line of a shadow's path over the ground.
type PathLine struct {
	Name   string                             // for the key; empty where the line before it has said it
	Place  func(*shadow.Section) shadow.Place // where it lies in a section of the path
	Stroke Stroke                             // how it is drawn
}

// PathLines are the central line and the two limits, as every map here draws them.
func PathLines() []PathLine {
	return []PathLine{
		{"central line", func(s *shadow.Section) shadow.Place { return s.Center }, Bold(Orange)},
		{"its limits", func(s *shadow.Section) shadow.Place { return s.North }, Dashed(Orange)},
		{"", func(s *shadow.Section) shadow.Place { return s.South }, Dashed(Orange)},
	}
}
