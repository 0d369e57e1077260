package view_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// times is an estimate written by hand.
func times() *estimate.Estimate {
	return &estimate.Estimate{
		CutterMin: estimate.Range{Low: 20.25, Likely: 25.5, High: 33.75}, BenchMin: estimate.Range{Low: 40, Likely: 55, High: 90},
		CutterSlotMin: 30, BenchSlotMin: 60, TotalText: "15.31 credit", ValidDays: 14, PriceList: "term", PriceListVersion: 3,
	}
}

// written are the results of a plan, written by hand, so that its worksheet
// changes with the writing of worksheets alone: two loads of two passes.
func written(film bool) (*view.Results, *plan.Request) {
	outline := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(80, 50)).Path()
	op, request := artwork.ThroughCut, &plan.Request{
		Purpose: weeding.Pieces, Copies: 5,
		Stock:   workshop.Stock{ID: "card", Name: "Card 160 g/m², A4", Family: workshop.LightCard, Form: workshop.Sheet, Hold: workshop.Mat, MatTack: workshop.MediumTack},
		Machine: workshop.Machine{ID: "m", Name: "The small cutter", Blades: []workshop.Blade{{ID: "b45", AngleDeg: 45, OffsetMM: 0.25}}},
	}
	usage := layout.Usage{Sheets: 2}
	if film {
		op, request.Purpose = artwork.KissCut, weeding.Lettering
		request.Stock = workshop.Stock{ID: "film", Name: "Film, 610 mm", Family: workshop.RemovableFilm, Form: workshop.Roll, Hold: workshop.Rollers}
		usage = layout.Usage{RollMM: 1234.5, TapeM: 0.75, TapePieces: 2, TapeTack: workshop.MediumTack}
	}
	m := &weeding.Map{
		Purpose: request.Purpose, Bounds: outline.Bounds(), Mirrored: film, Strokes: []artwork.Stroke{{Path: outline, Operation: op}},
		Regions: []weeding.Region{{Number: 1, Class: weeding.Kept, Depth: 1, Outer: outline, Pick: geometry.Pt(40, 25), PickRadiusMM: 25}},
	}
	if !film {
		m.Risk = "A strip of 1.2 mm is cut all the same: it was tried."
	}
	l := &layout.Layout{Mirrored: film, Usage: usage}
	pp := &passes.Plan{}
	for n := 1; n <= 2; n++ {
		l.Loads = append(l.Loads, layout.Load{Number: n, WidthMM: 210, LengthMM: 297})
		first := workshop.Setting{Operation: artwork.Score, ForceGF: 60.5, SpeedMMS: 200, Passes: 1, TestedBy: "Ada"}
		second := workshop.Setting{Operation: op, ForceGF: 210, SpeedMMS: 120.5, Passes: n, BladeID: "b45", TestedBy: "Ada", TestedOn: "2030-04-05"}
		pp.Loads = append(pp.Loads, passes.Load{Number: n, Passes: []passes.Pass{
			{Number: 1, Operation: artwork.Score, Setting: first, CutMM: 333.3}, {Number: 2, Operation: op, Setting: second, CutMM: 1040},
		}})
	}
	z := &size.Result{Transform: geometry.Identity, WidthMM: 80, HeightMM: 50.25}
	return &view.Results{Size: z, Weeding: m, Layout: l, Passes: pp, Estimate: times()}, request
}

// The worksheet is the one that was looked at: every text of its first page where it
// was, in the type it was in.
func TestWorksheetIsAsItWas(t *testing.T) {
	for name, film := range map[string]bool{"worksheet-card": false, "worksheet-film": true} {
		results, request := written(film)
		about := view.About{Plan: "b2c1", Request: request}
		if film {
			about.Reference, about.Made = "bay 4", made
		}
		var file bytes.Buffer
		if err := results.Worksheet(t.Context(), &file, about); err != nil {
			t.Fatal(err)
		}
		golden.Hold(t, name, textsOf(pageOf(t, file.Bytes())))
	}
}

// textsOf leaves of what a page draws the texts and their type.
func textsOf(page string) string {
	var out strings.Builder
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, "BT ") {
			out.WriteString(line)
		}
	}
	return out.String()
}

var stream = regexp.MustCompile(`(?s)<</Filter /FlateDecode /Length (\d+)>>\nstream\n`)

// pageOf returns what the page's stream draws, its 16-bit letters as plain text.
func pageOf(t *testing.T, file []byte) string {
	t.Helper()
	at := stream.FindSubmatchIndex(file)
	if at == nil {
		t.Fatal("the file has no page")
	}
	z, err := zlib.NewReader(bytes.NewReader(file[at[1]:]))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, b := range text {
		switch {
		case b >= 0x80:
			fmt.Fprintf(&out, `\%02x`, b)
		case b != 0:
			out.WriteByte(b)
		}
	}
	return out.String()
}

// The summary for a shell is the one that was looked at.
func TestTextIsAsItWas(t *testing.T) {
	places := []finding.Place{{Box: geometry.BoxAround(geometry.Pt(1, 2), geometry.Pt(3, 4)), Layer: "CUT", Source: "line 7"}, {Box: geometry.EmptyBox(), Source: "line 9"}}
	film := view.Plan{
		Request: view.Request{Copies: 5, Purpose: "lettering", StockName: "Film, 610 mm", Family: workshop.RemovableFilm, Form: workshop.Roll},
		Size:    &view.Size{WidthMM: 80, HeightMM: 50.25, Why: "The frame is A4."}, Estimate: times(),
		Weeding: &view.Weeding{Kept: 2, Grounds: 1, Counters: 3, ReliefLines: 1, Fragile: 2, Risk: "A strip of 0.4 mm is cut all the same."},
		Layout:  &view.Layout{Loads: 2, Copies: 5, Mirrored: true}, Usage: &layout.Usage{RollMM: 1234.5, ProcessWaste: 0.375, TapeM: 0.75, TapePieces: 2, TapeTack: workshop.MediumTack},
		Passes: []view.Pass{
			{Load: 1, Number: 1, Operation: artwork.Score, ForceGF: 60.5, SpeedMMS: 200, Passes: 1, CutMM: 333.3, Tested: true},
			{Load: 2, Number: 1, Operation: artwork.KissCut, ForceGF: 85, SpeedMMS: 120.5, Passes: 2, CutMM: 1040},
		},
		Findings: []finding.Finding{{Code: "x", Severity: finding.Warn, Number: 1, Hint: "Look here.", Places: places}, {Code: "y", Severity: finding.Mended, Number: 2, Hint: "A gap was closed."}},
	}
	sheet := view.Plan{
		Request: view.Request{Copies: 1, Purpose: "stencil", StockName: "Stencil sheet, A3", Family: workshop.StencilSheet, Form: workshop.Sheet},
		Weeding: &view.Weeding{Kept: 1, Grounds: 1, Counters: 3, Bridges: 2}, Layout: &view.Layout{Loads: 1, Copies: 1}, Usage: &layout.Usage{Sheets: 1, ProcessWaste: 0.0625},
		Findings: []finding.Finding{{Code: "x", Severity: finding.Ask, Number: 1, Hint: "Is this open?"}, {Code: "y", Severity: finding.Block, Number: 2, Hint: "Too large."}},
		Questions: []ask.Question{{
			ID: "size/true_size", Text: "How large is it?", Places: places,
			Answers: []ask.Answer{{ID: "a4", Label: "The frame is A4", WidthMM: 100, HeightMM: 50, Evidence: "It leaves 0.01 mm."}, {ID: "width", Label: "I know the width", NeedsMM: true}, {ID: "pass", Label: "Cut it all the same", NeedsReason: true}},
		}, {ID: "artwork/operation", Text: "What are these?", Answers: []ask.Answer{{ID: "cut", Label: "cut"}}, Parts: []ask.Question{{ID: "artwork/operation:1", Text: "the red lines"}, {ID: "artwork/operation:2", Text: "the blue lines"}}}},
	}
	refused := sheet
	refused.Questions = nil
	nothing := view.Plan{Request: view.Request{Copies: 1, Purpose: "pieces", StockName: "Card", Family: workshop.LightCard, Form: workshop.Sheet}, Layout: &view.Layout{}}
	for _, c := range []struct {
		name   string
		status plan.Status
		plan   *view.Plan
	}{{"text-film", plan.Ready, &film}, {"text-asked", plan.Asking, &sheet}, {"text-refused", plan.Refused, &refused}, {"text-nothing", plan.Refused, &nothing}} {
		golden.Hold(t, c.name, view.Text(c.status, c.plan, view.CurlAnswer("http://127.0.0.1:8080/v1/plans/b2c1/answers", false)))
	}
}
