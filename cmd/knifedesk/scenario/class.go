package scenario

import (
	"bytes"
	"fmt"
	"math"

	"knifedesk/geometry"
)

// Tag is one drawing of the class set: thirty students draw a name tag each, and the
// tags share sheets or a roll.
type Tag struct {
	Code string // stands for the student, whose name is nowhere
	File string
	Body []byte
	// Fault says what is wrong with the drawing; empty: nothing is.
	Fault string
}

// The faults of the class set.
const (
	FaultOpen      = "open outline"
	FaultStretched = "stretched frame"
	FaultSheet     = "A3 or A4"
	FaultLiveText  = "live text"
	FaultOffSheet  = "art off the sheet"
)

// boats are invented names, one a tag.
func boats() []string {
	return []string{
		"SALTLARK", "KELPWREN", "QUILLFIN", "TIDEMOTH", "FOAMHARE", "GULLFERN", "MISTSEAL", "REEFHEN", "TARNOWL", "DRIFTFOX",
		"SANDBELL", "SURFJAY", "OARSONG", "CORALBEE", "SKYCRAB", "IVYHULL", "DAWNEEL", "BUOYCAT", "PIERROSE", "NETLILY",
		"FROTHDOE", "MOONRAY", "KEELHOP", "ROPEELF", "BAYPEAR", "TERNLEAF", "CLAMSTAR", "MASTDOVE", "FOGPANSY", "SEAFINCH",
	}
}

// ClassSet returns the tags in the order of their codes. Five carry one fault each.
func ClassSet() ([]Tag, error) {
	faults := map[int]string{3: FaultOpen, 9: FaultStretched, 14: FaultSheet, 20: FaultLiveText, 26: FaultOffSheet}
	var all []Tag
	for i, name := range boats() {
		format := []string{"svg", "dxf"}[i%2]
		t := Tag{Code: fmt.Sprintf("T%02d", i+1), Fault: faults[i]}
		switch t.Fault {
		case FaultStretched, FaultSheet, FaultOffSheet:
			format = "dxf"
		case FaultLiveText:
			format = "svg"
		}
		t.File = fmt.Sprintf("tag-%02d.%s", i+1, format)
		body, err := faulty(name, t.Fault).Bytes(format)
		if err != nil {
			return nil, err
		}
		t.Body = body
		if t.Fault == FaultLiveText {
			t.Body = withText(body, name)
		}
		all = append(all, t)
	}
	return all, nil
}

// MendedTag returns a tag of the class set as its student draws it the second time,
// without its fault.
func MendedTag(number int) (Tag, error) {
	body, err := faulty(boats()[number-1], "").SVG()
	return Tag{Code: fmt.Sprintf("T%02d", number), File: fmt.Sprintf("tag-%02d.svg", number), Body: body}, err
}

// faulty returns a tag with a fault, or a clean one.
func faulty(name, fault string) Sheet {
	switch fault {
	case FaultOpen: // the outline ends a little short of its beginning
		s := ClassTag(name, 210, 297)
		plate := &s.Lines[1].Paths[0]
		plate.Closed = false
		plate.Segments[7].End.X -= 0.6
		return s
	case FaultStretched:
		return ClassTag(name, 210, 297).Stretched(1.02)
	case FaultSheet: // a frame of 96 % of A3, which is no page of the card's either
		return ClassTag(name, 297, 420).Scaled(0.96)
	case FaultLiveText:
		s := ClassTag(name, 210, 297)
		s.Lines = s.Lines[:2]
		return s
	case FaultOffSheet: // a star meant for the tag lies far beside the page
		s := ClassTag(name, 210, 297)
		s.Lines[1].Paths = append(s.Lines[1].Paths, transformed([]geometry.Path{star(6)}, geometry.Translate(640, 150))...)
		return s
	}
	return ClassTag(name, 210, 297)
}

// withText writes a name into an SVG file as text that was not turned into outlines.
func withText(file []byte, name string) []byte {
	text := fmt.Sprintf("<text x=\"68\" y=\"250\" font-size=\"9\" text-anchor=\"middle\">%s</text></svg>", name)
	return bytes.Replace(file, []byte("</svg>"), []byte(text), 1)
}

// star returns a star of five points of a radius about the origin.
func star(r float64) geometry.Path {
	var pts []geometry.Point
	for i := range 10 {
		reach := r
		if i%2 == 1 {
			reach = r / 2
		}
		sin, cos := math.Sincos(float64(i) * math.Pi / 5)
		pts = append(pts, geometry.Pt(reach*cos, reach*sin))
	}
	return geometry.Polygon(pts...)
}
