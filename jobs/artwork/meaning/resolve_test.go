package meaning_test

import (
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// The colours of the demo's convention (demo.md).
var (
	teal   = drawing.RGB(0x00, 0x7C, 0x91) // cut
	violet = drawing.RGB(0x7A, 0x3E, 0xB1) // score
	slate  = drawing.RGB(0x4A, 0x55, 0x68) // pen
)

// shape makes a shape of path data. The colour is that of its line.
func shape(t testing.TB, d, layer string, colour *drawing.Colour) drawing.Shape {
	t.Helper()
	paths, err := geometry.ParsePathData(d)
	if err != nil {
		t.Fatalf("%q: %v", d, err)
	}
	return drawing.Shape{Paths: paths, Layer: layer, Stroke: colour, Source: drawing.Source{Kind: "path"}}
}

func cut(t testing.TB, d string) drawing.Shape { return shape(t, d, "CUT", teal) }

func filled(t testing.TB, d, layer string, colour *drawing.Colour) drawing.Shape {
	s := shape(t, d, layer, nil)
	s.Fill, s.FillRule = colour, drawing.NonZero
	return s
}

func lined(s drawing.Shape, colour *drawing.Colour) drawing.Shape {
	s.Stroke = colour
	return s
}

// request is the demo's convention on the stock with this ID.
func request(t testing.TB, stock string) meaning.Request {
	t.Helper()
	data := workshop.Example()
	s, ok := data.Stock(stock)
	if !ok {
		t.Fatalf("the example data has no stock %q", stock)
	}
	c, ok := data.Convention("orrin")
	if !ok {
		t.Fatal("the example data has no convention orrin")
	}
	return meaning.Request{Convention: c, Stock: s, Purpose: "pieces"}
}

// trueSize is the result for drawings in mm without a frame.
func trueSize() *size.Result { return &size.Result{Transform: geometry.Identity, X: 1, Y: 1} }

func resolve(t testing.TB, req meaning.Request, shapes ...drawing.Shape) *artwork.Artwork {
	t.Helper()
	a, err := meaning.Resolve(t.Context(), &drawing.Drawing{Shapes: shapes}, trueSize(), req)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func codes(a *artwork.Artwork) []finding.Code {
	var all []finding.Code
	for _, f := range a.Findings {
		all = append(all, f.Code)
	}
	return all
}

func find(a *artwork.Artwork, code finding.Code) *finding.Finding {
	for i := range a.Findings {
		if a.Findings[i].Code == code {
			return &a.Findings[i]
		}
	}
	return nil
}

func question(a *artwork.Artwork, id string) *ask.Question {
	all := ask.All(a.Questions)
	for i := range all {
		if all[i].ID == id {
			return &all[i]
		}
	}
	return nil
}

func texts(a *artwork.Artwork) []string {
	var all []string
	for _, s := range a.Strokes {
		all = append(all, string(s.Operation)+" "+s.Path.String())
	}
	return all
}

func TestResolve(t *testing.T) {
	const card, film = "card-220-a4", "film-removable-610"
	tests := []struct {
		name, stock string
		shapes      []drawing.Shape
		strokes     []string
		findings    []finding.Code
	}{
		{"by layer, by colour, moved to the origin", card, []drawing.Shape{
			shape(t, "M10 10H50V40H10Z", "cut", drawing.RGB(0, 0, 0)),
			shape(t, "M10 25H50", "", violet),
			shape(t, "M20 30H40", "", slate),
		}, []string{"through_cut M0 0L40 0L40 30L0 30L0 0Z", "score M0 15L40 15", "pen M10 20L30 20"}, nil},
		{"film is kiss cut", film, []drawing.Shape{cut(t, "M0 0H9V9H0Z")}, []string{"kiss_cut M0 0L9 0L9 9L0 9L0 0Z"}, nil},
		{"loose lines become an outline", card, []drawing.Shape{
			cut(t, "M0 0H9"), cut(t, "M9 9V0"), cut(t, "M9 9H0"), cut(t, "M0 0V9"),
		}, []string{"through_cut M0 0L9 0L9 9L0 9L0 0Z"}, []finding.Code{finding.LooseSegments}},
		{"an outline drawn twice", card, []drawing.Shape{cut(t, "M0 0H9V9H0Z"), cut(t, "M9 9V0H0V9Z")},
			[]string{"through_cut M0 0L9 0L9 9L0 9L0 0Z"}, []finding.Code{finding.DuplicateLines}},
		{"tiles share an edge", card, []drawing.Shape{cut(t, "M0 0H9V9H0Z"), cut(t, "M9 0H18V9H9Z")},
			[]string{"through_cut M0 0L9 0L9 9L0 9L0 0Z", "through_cut M9 0L18 0L18 9L9 9"}, []finding.Code{finding.DuplicateLines}},
		{"a fill closes its outline", film, []drawing.Shape{filled(t, "M0 0H9V9H0M2 2H4V4H2M6 6L8 8M6 6H8H7", "", teal)},
			[]string{"kiss_cut M0 0L9 0L9 9L0 9L0 0Z", "kiss_cut M2 2L4 2L4 4L2 4L2 2Z"}, []finding.Code{finding.UnpaintedGeometry, finding.FillOutline}},
		{"a line of the colour of its fill", film, []drawing.Shape{lined(filled(t, "M0 0H9V9H0", "", teal), teal)},
			[]string{"kiss_cut M0 0L9 0L9 9L0 9L0 0Z"}, nil},
		{"a line of another colour ends where it is drawn", card, []drawing.Shape{lined(filled(t, "M0 0H9V9H0", "", slate), teal)},
			[]string{"through_cut M0 0L9 0L9 9L0 9"}, []finding.Code{finding.OpenOutline}},
		{"a near gap", card, []drawing.Shape{cut(t, "M0 0H9V9H0V0.06")},
			[]string{"through_cut M0 0L9 0L9 9L0 9L0 0Z"}, []finding.Code{finding.NearGap}},
		{"nothing to cut", card, []drawing.Shape{cut(t, "M0 0H0")}, nil, []finding.Code{finding.StrayPoints, finding.NothingToCut}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := resolve(t, request(t, tt.stock), tt.shapes...)
			if got := texts(a); !slices.Equal(got, tt.strokes) {
				t.Errorf("strokes\n%q, want\n%q", got, tt.strokes)
			}
			if got := codes(a); !slices.Equal(got, tt.findings) {
				t.Errorf("findings %q, want %q", got, tt.findings)
			}
		})
	}
}
