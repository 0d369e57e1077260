package api

import (
	"encoding/hex"
	"slices"
	"strings"

	"knifedesk/db"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/read"
)

// showDrawing sums up a drawing: its shapes are counted and not listed.
func showDrawingHead(h db.DrawingHead) DrawingHead {
	state := DrawingStateUnplanned
	if h.Plans > 0 {
		state = DrawingStatePlanned
	}
	return DrawingHead{
		ID: h.ID, Owner: h.Client, Name: h.Name, Bytes: h.Bytes, Sha256: hex.EncodeToString(h.Hash),
		State: state, Plans: h.Plans, CreatedAt: h.Created.UTC(),
	}
}

func showDrawing(stored db.Drawing, d *read.Result) Drawing {
	self := drawingsPath + stored.ID.String()
	out := Drawing{
		ID: stored.ID, Name: stored.Name, Bytes: int(stored.Bytes), Sha256: hex.EncodeToString(stored.Hash),
		CreatedAt: stored.Created, Format: DrawingFormat(d.Format), Unit: showUnit(d.Unit), Kinds: d.Kinds,
		Shapes: len(d.Shapes), Version: d.Version, Page: maybe(d.Page, showBox),
		Findings: showFindings(d.Findings), Questions: showQuestions(d.Questions),
		Layers: showLayers(&d.Drawing), Colours: showColours(&d.Drawing),
		Links: map[string]string{"self": self, "preview": self + "/preview.svg"},
	}
	if b := d.Bounds(); !b.Empty() {
		out.Extents = ptr(showBox(b))
		if d.Unit.Declared {
			out.StatedMM = []float64{b.Width() * d.Unit.MM, b.Height() * d.Unit.MM}
		}
	}
	return out
}

func showUnit(u drawing.Unit) Unit {
	return Unit{Name: u.Name, MM: u.MM, Declared: u.Declared, Source: u.Source, PerNumber: u.PerNumber}
}

func showLayers(d *drawing.Drawing) []LayerUse {
	counts := map[string]int{}
	for i := range d.Shapes {
		counts[d.Shapes[i].Layer]++
	}
	return each(d.Layers, func(l drawing.Layer) LayerUse {
		return LayerUse{
			Name: l.Name, Shapes: counts[l.Name], Colour: showColour(l.Colour), Hidden: l.Off || l.Frozen, Locked: l.Locked,
		}
	})
}

// showColours counts the shapes by the colour that they are seen by, their
// stroke before their fill.
func showColours(d *drawing.Drawing) []ColourUse {
	counts := map[drawing.Colour]int{}
	for i := range d.Shapes {
		switch s := &d.Shapes[i]; {
		case s.Stroke != nil:
			counts[*s.Stroke]++
		case s.Fill != nil:
			counts[*s.Fill]++
		}
	}
	out := []ColourUse{}
	for colour, n := range counts {
		out = append(out, ColourUse{Colour: colour.String(), Shapes: n})
	}
	slices.SortFunc(out, func(x, y ColourUse) int { return strings.Compare(x.Colour, y.Colour) })
	return out
}
