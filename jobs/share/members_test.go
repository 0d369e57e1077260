package share_test

import (
	"fmt"
	"math"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// fatal is what a test and a property share.
type fatal interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// set is drawings on a stock, before they share loads.
type set struct {
	req  share.Request
	maps []*weeding.Map
}

// onStock begins a set on a stock of the example workshop.
func onStock(t fatal, id string, purpose weeding.Purpose) *set {
	t.Helper()
	d := workshop.Example()
	stock, ok := d.Stock(id)
	if !ok {
		t.Fatalf("no stock %s", id)
	}
	machine, _ := d.Machine("wide-610")
	s := &set{}
	s.req.Layout = layout.Request{
		Stock: stock, Machine: machine, Copies: 1, Stencil: purpose == weeding.Stencil,
		Chart: weeding.Request{
			Purpose: purpose, Stock: workshop.Stock{Family: stock.Family, Liner: stock.Liner, Limits: stock.Limits},
			Border: stock.Liner, Relief: stock.Liner, Bridges: purpose == weeding.Stencil, Mirrored: stock.CutMirrored(nil),
		},
	}
	return s
}

// add adds a drawing of strokes.
func (s *set) add(t fatal, copies int, strokes ...artwork.Stroke) {
	t.Helper()
	box := geometry.EmptyBox()
	for i := range strokes {
		strokes[i].Shape = i
		box = box.Union(strokes[i].Path.Bounds())
	}
	m, err := weeding.Chart(testContext(), &artwork.Artwork{Strokes: strokes, Bounds: box}, s.req.Layout.Chart)
	if err != nil {
		t.Fatal(err)
	}
	m.Findings, m.Questions = nil, nil
	s.maps = append(s.maps, m)
	s.req.Members = append(s.req.Members, share.Member{Code: fmt.Sprintf("M%03d", len(s.maps)), Copies: copies})
}

// cuts are closed lines that are cut as the stock is.
func (s *set) cuts(paths ...geometry.Path) []artwork.Stroke {
	op := artwork.ThroughCut
	if s.req.Layout.Stock.Liner {
		op = artwork.KissCut
	}
	var all []artwork.Stroke
	for _, p := range paths {
		all = append(all, artwork.Stroke{Path: p, Operation: op})
	}
	return all
}

func (s *set) lay(t fatal) *share.Share {
	t.Helper()
	laid, err := share.Lay(testContext(), s.req, s.maps)
	if err != nil {
		t.Fatal(err)
	}
	return laid
}

// plate is a rectangle with a hole.
func plate(w, h float64) []geometry.Path {
	return []geometry.Path{
		geometry.Box{Max: geometry.Pt(w, h)}.Path(),
		geometry.Circle(geometry.Pt(math.Min(w, h)/3, h/2), math.Min(w, h)/8),
	}
}

// word is real lettering, so high.
func word(text string, high float64) []geometry.Path { return scenario.Letters(text, 0, 0, high) }

// step is an outline with a step in it, whose box is not full.
func steppedPath(w, h float64) geometry.Path {
	return geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(w, 0), geometry.Pt(w, h/3), geometry.Pt(w/3, h/3), geometry.Pt(w/3, h), geometry.Pt(0, h))
}
