package view_test

import (
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// A piece of 80 × 50 mm that has a line for every operation and is like itself
// in no turn or mirror: an outline with an arc and a curve, a hole, two folds
// and an open perforation.
const worked = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70" fill="none" stroke="#000">
<g id="CUT"><path d="M10 10H80A10 10 0 0 1 90 20V60H40C30 60 30 50 10 50Z"/><circle cx="25" cy="25" r="6"/></g>
<g id="FOLD"><path d="M40 15V45M60 15V45"/></g><g id="PERFORATE"><path d="M65 35H75L80 45"/></g>
<g id="PEN"><path d="M45 20H55V30Z"/></g></svg>`

// The same as film takes it.
const onFilm = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70" fill="none" stroke="#000">
<g id="CUT"><path d="M10 10H80A10 10 0 0 1 90 20V60H40C30 60 30 50 10 50Z"/><circle cx="25" cy="25" r="6"/></g></svg>`

// bench is a plan whose files are read back.
type bench struct {
	name     string
	file     string
	shop     func() workshop.Data
	choices  plan.Choices
	loads    int
	mirrored bool
	passes   []artwork.Operation // of each load, in the order of the trade: what cuts loose comes last
}

// benches are card on a mat, film from a roll, and heat film in sheets.
func benches() []bench {
	all := []artwork.Operation{artwork.Pen, artwork.Score, artwork.Perforate, artwork.ThroughCut}
	kiss := []artwork.Operation{artwork.KissCut}
	mirror := true
	return []bench{
		{"card", worked, neutral, plan.Choices{Stock: "card-160-a4", Copies: 14}, 2, false, all},
		{"card, mirrored", worked, neutral, plan.Choices{Stock: "card-220-a4", Copies: 14, Mirror: &mirror}, 2, true, all},
		{"film roll", onFilm, neutral, plan.Choices{Stock: "film-removable-610", Copies: 9}, 1, false, kiss},
		{"heat film in sheets", onFilm, heatSheets, plan.Choices{Stock: "film-heat-500", Copies: 12}, 2, true, kiss},
	}
}

// neutral is what a workshop starts from, with machines that make up for the knife
// by themselves: the files hold the bare line.
func neutral() workshop.Data { return compensating(workshop.Neutral(), workshop.CompensatesAll) }

func compensating(shop workshop.Data, by workshop.Compensation) workshop.Data {
	for i := range shop.Machines {
		shop.Machines[i].Compensates = by
	}
	return shop
}

// heatSheets is the workshop with its heat film in sheets on a mat.
func heatSheets() workshop.Data {
	shop := neutral()
	for i := range shop.Stocks {
		if s := &shop.Stocks[i]; s.ID == "film-heat-500" {
			s.Form, s.Hold, s.MatTack = workshop.Sheet, workshop.Mat, workshop.MediumTack
			s.WidthMM, s.UsableWidthMM, s.LengthMM, s.MarginMM = 210, 190, 297, 10
		}
	}
	return shop
}

func (b *bench) plan(t *testing.T) *planned {
	t.Helper()
	p := planIn(t, b.shop(), b.file, b.choices)
	if p.Passes == nil || len(p.Passes.Loads) != b.loads || p.Layout.Mirrored != b.mirrored {
		t.Fatalf("%s is not the plan that is meant:\n%s", b.name, p.text())
	}
	return p
}
