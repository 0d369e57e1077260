package svg_test

import (
	"testing"

	"knifedesk/geometry/drawing/svg"
)

// Source: CSS Transforms 2, sections 5 and 6: translate, then rotate, then
// scale, then transform; each corner is worked out by hand. The page is 100 mm
// high in units of a millimetre, y down.
func TestSingleTransforms(t *testing.T) {
	for style, want := range map[string][2]float64{
		"":                                   {3, 1},
		"translate:10px 20px":                {13, 21},
		"translate:10px":                     {13, 1},
		"translate:10% 50%":                  {13, 51},
		"rotate:90deg":                       {-1, 3},
		"rotate:z .25turn":                   {-1, 3},
		"scale:2 3":                          {6, 3},
		"scale:200%":                         {6, 2},
		"scale:2;rotate:90deg":               {-2, 6},
		"scale:2;translate:10px 0":           {16, 2},
		"scale:2;transform:translate(1px,0)": {8, 2},
		"transform:scale(2);rotate:90deg;translate:5px 5px": {3, 11},
		"transform-origin:1px 1px;scale:2":                  {5, 1},
		"scale:none;rotate:none;translate:none":             {3, 1},
	} {
		d := read(t, `<svg width="100" height="100"><path style="`+style+`" stroke="red" d="M3 1h0h5"/></svg>`, svg.Options{})
		p := d.Shapes[0].Paths[0].Start
		if got := [2]float64{p.X, 100 - p.Y}; abs(got[0]-want[0]) > 1e-9 || abs(got[1]-want[1]) > 1e-9 {
			t.Errorf("%q: the path begins at %v, want %v", style, got, want)
		}
		if len(d.Notes) > 0 {
			t.Errorf("%q: %v", style, d.Notes)
		}
	}
	d := read(t, `<svg width="100" height="100"><path rotate="90" scale="2" stroke="red" d="M3 1h5"/></svg>`, svg.Options{})
	if p := d.Shapes[0].Paths[0].Start; p.X != 3 {
		t.Error("attributes of these names are no properties")
	}
}

func abs(v float64) float64 { return max(v, -v) }

// A turn of y that all shapes share says only that the file counts y upwards.
func TestMirrored(t *testing.T) {
	const flip = `transform="matrix(1 0 0 -1 0 100)"`
	for _, tt := range []struct {
		name, body string
		want       []bool
	}{
		{"nothing turned", cut + cut, []bool{false, false}},
		{"one turn round all", `<g ` + flip + `>` + cut + `<g transform="rotate(30)">` + cut + `</g></g>`, []bool{false, false}},
		{"each turned by itself", `<g ` + flip + `>` + cut + `</g><g ` + flip + `>` + cut + `</g>`, []bool{false, false}},
		{"one of two", `<g ` + flip + `>` + cut + `</g>` + cut, []bool{true, false}},
		{"turned over inside the turn", `<g ` + flip + `>` + cut + `<g transform="scale(-1 1)">` + cut + `</g></g>`, []bool{true, false}},
		{"all turned sideways", `<g transform="scale(-1 1)">` + cut + `</g>`, []bool{true}},
		{"with a turn in one list", `<g transform="translate(9 50) scale(1,-1) rotate(30)">` + cut + `</g>`, []bool{false}},
		{"with a turn before it", `<g transform="rotate(-90 5 5) matrix(1 0 0 -1 0 100)">` + cut + `</g>`, []bool{false}},
		{"sideways with a turn in one list", `<g transform="scale(-1,1) rotate(30)">` + cut + `</g>`, []bool{true}},
		{"over by both", `<g transform="scale(1 -1) scale(-1 1) scale(-1 1)">` + cut + `</g>`, []bool{true}},
		{"one matrix of flip and turn, which may be either", `<g transform="matrix(0 1 1 0 0 0)">` + cut + `</g>`, []bool{true}},
		{"by a style", `<g style="transform:translateY(100px) scaleY(-1) rotate(30deg)">` + cut + `</g>`, []bool{false}},
		{"by single properties", `<g style="scale:1 -1;rotate:30deg">` + cut + `</g>`, []bool{false}},
		{"by single properties, sideways", `<g style="scale:-1 1;rotate:30deg">` + cut + `</g>`, []bool{true}},
	} {
		d := read(t, in(tt.body), svg.Options{})
		for i, s := range d.Shapes {
			if s.Mirrored != tt.want[i] {
				t.Errorf("%s: shape %d mirrored: %v", tt.name, i, s.Mirrored)
			}
		}
	}
}

// What turns, shifts or flips the outermost svg changes no length, and is followed; about
// the middle of the page where it names no origin. Of a scale there programs make
// different things, so it is asked about.
// Source: SVG 2, section 6.6 (the origin of the outermost svg), and CSS Transforms 1.
func TestTheWholeFileTurned(t *testing.T) {
	for _, tt := range []struct {
		root     string
		x, y     float64 // of the first end, y down
		mirrored bool
		noted    bool
	}{
		{``, 3, 1, false, false},
		{`transform="translate(10 20)"`, 13, 21, false, false},
		{`transform="rotate(180)"`, 97, 99, false, false},
		{`transform="rotate(90)" transform-origin="0 0"`, -1, 3, false, false},
		{`style="transform:rotate(90deg);transform-origin:0 0"`, -1, 3, false, false},
		{`style="rotate:180deg"`, 97, 99, false, false},
		{`transform="scale(1 -1)"`, 3, 99, false, false},
		{`transform="scale(-1 1)"`, 97, 1, true, false},
		{`transform="scale(2)"`, 3, 1, false, true},
		{`transform="scale(1 1.001)"`, 3, 1, false, true},
		{`transform="scale(1.001 1)"`, 3, 1, false, true},
		{`transform="skewX(10)"`, 3, 1, false, true},
		{`transform="turn(3)"`, 3, 1, false, true},
	} {
		d := read(t, `<svg width="100" height="100" `+tt.root+`><path stroke="red" d="M3 1h5"/></svg>`, svg.Options{})
		s := d.Shapes[0]
		p := s.Paths[0].Start
		if abs(p.X-tt.x) > 1e-9 || abs(100-p.Y-tt.y) > 1e-9 || s.Mirrored != tt.mirrored || len(d.Notes) > 0 != tt.noted {
			t.Errorf("%s: begins at %g %g, mirrored %v, %v", tt.root, p.X, 100-p.Y, s.Mirrored, d.Notes)
		}
	}
}
