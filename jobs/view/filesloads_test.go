package view_test

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// turnedAxes is the shop with machines that leave the knife, which trails by 0.9 mm, to
// the file, count from a corner at the tail along another axis, and understand arcs.
func turnedAxes(shop workshop.Data) workshop.Data {
	shop = offsetIn(shop, 0.9)
	for i := range shop.Machines {
		m := &shop.Machines[i]
		m.Axes, m.PlotterArcs = workshop.Axes{Feed: workshop.MinusX, Origin: workshop.TailRight}, true
	}
	return shop
}

// Files of loads that hold no plain copies cut what was drawn, too: common loads of a
// class, panels of a banner, the films of a layered work, copies and pieces that are cut
// again, and test cuts.
func TestFilesOfOtherLoadsCutWhatWasDrawn(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	shop := turnedAxes(workshop.Neutral())
	drawing := func(film bool) string { return drawnAtRandom(r, film) }
	t.Run("a class", func(t *testing.T) {
		p := sharedIn(t, shop, plan.Choices{Stock: "card-220-a4"}, map[string]string{"A": drawing(false), "B": drawing(false), "C": drawing(false)})
		p.holdFiles(t, ownReaders(), 1)
	})
	t.Run("panels", func(t *testing.T) {
		const wide = `<svg xmlns="http://www.w3.org/2000/svg" width="1040mm" height="900mm" viewBox="0 0 1040 900"><g id="CUT" fill="none" stroke="#000"><path d="M0 0H1040V890A10 10 0 0 1 1030 900H0Z"/><circle cx="500" cy="450" r="90"/></g></svg>`
		p := planOfErrand(t, errand{file: wide, shop: shop, choices: plan.Choices{
			Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}, Replies: ask.Replies{layout.QuestionPanels: {Answer: layout.AnswerPanels}},
		}})
		if p == nil || !p.Panelled() {
			t.Fatal("not the plan that is meant")
		}
		p.holdFiles(t, ownReaders(), 2)
	})
	t.Run("panels of card", func(t *testing.T) {
		const sign = `<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="460mm" viewBox="0 0 420 460"><g id="CUT" fill="none" stroke="#000"><path d="M10 10H400V120L330 450H10Z"/><circle cx="200" cy="200" r="60"/></g></svg>`
		p := planOfErrand(t, errand{file: sign, shop: shop, choices: plan.Choices{
			Stock: "card-220-a4", Size: plan.Size{Unit: "mm", Frame: "none"}, Options: plan.Options{Panels: layout.PanelsAllowed},
		}})
		if p == nil || !p.Panelled() || p.Layout.Panels.List[0].Marks == 0 || !p.Layout.Panels.List[0].Coded {
			t.Fatal("not the plan that is meant")
		}
		p.holdFiles(t, ownReaders(), 2)
		var file bytes.Buffer
		if err := p.Worksheet(t.Context(), &file, view.About{Plan: "sign", Request: p.request}); err != nil {
			t.Fatal(err)
		}
		sheet := strings.Join(strings.Fields(run(t, reference.Tool(t, "pdftotext"), file.Bytes(), "-raw", "-", "-")), " ")
		for _, says := range []string{"where the short slits in the tab begin", "Mark it P4 of 4 on its back"} {
			if !strings.Contains(sheet, says) {
				t.Errorf("the worksheet does not say %q", says)
			}
		}
	})
	t.Run("films", func(t *testing.T) {
		const two = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80"><g id="SEA"><path fill="#0a58a0" d="M4 4H96V76H4Z"/></g><g id="SAIL"><path fill="#c02020" d="M20 20C40 10 60 30 80 20V60A8 8 0 0 1 72 68H20Z"/></g></svg>`
		for film := 1; film <= 2; film++ {
			p := planOfErrand(t, errand{file: two, shop: shop, choices: plan.Choices{Film: film, Films: []plan.FilmChoice{
				{Stock: "film-removable-610", Layer: "SEA"}, {Stock: "film-permanent-610", Layer: "SAIL"},
			}}})
			if p == nil || p.Artwork.Stack == nil {
				t.Fatal("not the plan that is meant")
			}
			p.holdFiles(t, ownReaders(), 3)
		}
	})
	t.Run("cut again", func(t *testing.T) { holdCutAgain(t, shop, drawing(false)) })
	t.Run("test cuts", func(t *testing.T) {
		for stock, op := range map[string]artwork.Operation{"film-removable-610": artwork.KissCut, "card-220-a4": artwork.ThroughCut, "card-160-a4": artwork.Score} {
			cut := testCutOf(t, stock, op)
			p := &planned{Results: &view.Results{Weeding: &weeding.Map{Strokes: cut.Strokes}, Layout: cut.Layout, Passes: cut.Passes}, request: &plan.Request{Machine: cut.Machine}}
			p.holdFiles(t, ownReaders(), 4)
		}
	})
}

func holdCutAgain(t *testing.T, shop workshop.Data, file string) {
	t.Helper()
	p := planOfErrand(t, errand{file: file, shop: shop, choices: plan.Choices{Stock: "card-160-a4", Copies: 3}})
	if p == nil {
		t.Fatal("no plan comes of it")
	}
	again, err := jobs.Recut(t.Context(), shop, *p.request, []jobs.Spoiled{{Copy: 1}, {Copy: 3, Piece: 1}}, p.Weeding, nil, p.request.Stock)
	if err != nil {
		t.Fatal(err)
	}
	list := jobs.NewList()
	done, status, err := local.Run(t.Context(), list.Rows, []byte(file), again)
	if err != nil || status != plan.Ready {
		t.Fatal(status, err)
	}
	results := local.Results(done)
	(&planned{list.Shown(results), again, status, list.Parts(results)}).holdFiles(t, ownReaders(), 5)
}
