package view_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// drawnOf leaves of what a page draws the texts with their type and ink, and the boxes
// and lines of the sheet itself with their ink and width: those of pictures begin with a
// line of their own, and come out of tests of theirs.
func drawnOf(page string) string {
	var out strings.Builder
	ink, fill, width := "", "", ""
	for line := range strings.Lines(page) {
		word := strings.TrimSpace(line)
		switch {
		case strings.HasSuffix(word, " G"):
			ink = word
		case strings.HasSuffix(word, " g"):
			fill = word
		case strings.HasSuffix(word, " w"):
			width = word
		case strings.HasPrefix(word, "BT ") && strings.HasSuffix(word, " Tf ET"):
			fmt.Fprintf(&out, "%s\n", strings.Fields(word)[2])
		case strings.HasPrefix(word, "BT "), strings.HasPrefix(word, "q ") && strings.Contains(word, "BT "):
			fmt.Fprintf(&out, "%s  %s\n", fill, word)
		case strings.HasSuffix(word, " re S"), strings.HasSuffix(word, " l S"):
			fmt.Fprintf(&out, "%s, %s  %s\n", ink, width, word)
		}
	}
	return out.String()
}

// rollSheet is film off a roll as its worksheet shows most: a long run of many copies
// with a code, strips of tape, an offcut, minutes by loads, and more answers than there
// is room for.
func rollSheet() (*view.Results, view.About) {
	r, q := written(true)
	l := &r.Layout.Loads[1]
	l.LengthMM = 1500.5
	l.Placements = append(l.Placements, r.Layout.Loads[0].Placements...)
	off := geometry.BoxAround(geometry.Pt(0, 1200), geometry.Pt(600.9, 1500.5))
	r.Layout.Usage.Offcut, r.Layout.Usage.TapeStrips = &off, 3
	r.Layout.Loads = r.Layout.Loads[1:]
	r.Passes.Loads = r.Passes.Loads[1:]
	r.Estimate.Loads = []estimate.LoadTime{
		{Number: 1, Prepare: estimate.Range{Low: 1, Likely: 2, High: 4}, Cut: estimate.Range{Low: 8, Likely: 10, High: 16}, Unload: estimate.Range{Low: 1, Likely: 1, High: 2}, Bench: estimate.Range{Low: 20, Likely: 30, High: 50}},
		{Number: 2},
	}
	r.Weeding.Risk = "A strip of 0.4 mm is cut all the same: it was tried."
	q.Replies = ask.Replies{}
	for i := range 20 {
		q.Replies[fmt.Sprintf("size/true_size:%02d", i)] = ask.Reply{Answer: "the_width", MM: 80.5, Reason: "measured"}
	}
	return r, view.About{Plan: "b2c1-d3", Reference: "bay 4", Link: "https://cutters.example/#b2c1", Made: made, Request: q}
}

// heatSheet is heat film in sheets on a mat with its liner, on a load of a class, whose
// data sheet says half.
func heatSheet() (*view.Results, view.About) {
	r, q := written(true)
	r.Layout.Loads, r.Passes.Loads = r.Layout.Loads[:1], r.Passes.Loads[:1]
	q.Stock.Family, q.Stock.Form, q.Stock.Hold, q.Stock.MatTack, q.Stock.Liner = workshop.HeatFilm, workshop.Sheet, workshop.Mat, workshop.LowTack, true
	q.Stock.Press = &workshop.Press{TemperatureC: 150.5, Pressure: "3 bar"}
	r.Layout.Loads[0].MatID = "M2"
	r.Layout.Loads[0].Sheets = make([]geometry.Box, 3)
	for i := range r.Layout.Loads[0].Sheets {
		r.Layout.Loads[0].Sheets[i] = geometry.BoxAround(geometry.Pt(0, float64(i)*90), geometry.Pt(200, float64(i)*90+80))
	}
	return r, view.About{Plan: "b2c1", Load: 2, Request: q}
}

// passesSheet is a load of more passes than a page has room for, with a tool of each
// kind.
func passesSheet() (*view.Results, view.About) {
	r, q := written(false)
	r.Layout.Loads, r.Passes.Loads = r.Layout.Loads[:1], r.Passes.Loads[:1]
	q.Stock.Form, q.Stock.Hold = workshop.Sheet, workshop.Rollers
	q.Standings = map[string]trial.Standing{
		"old": {State: trial.Tested, Lowered: trial.Age, Last: "2029-01-02"}, "new": {State: trial.Trusted},
	}
	r.Passes.Loads[0].Passes = everyTool()
	return r, view.About{Plan: "b2c1", Reference: "a name that is far too long for the head of a worksheet, so that it is cut off", Request: q}
}

// everyTool is a pass of each tool and of each way in which a machine makes up for it.
func everyTool() []passes.Pass {
	set := func(id string, op artwork.Operation, gf, mms float64, blade string) workshop.Setting {
		return workshop.Setting{ID: id, Operation: op, ForceGF: gf, SpeedMMS: mms, Passes: 1, BladeID: blade}
	}
	square := geometry.BoxAround(geometry.Pt(12, 17), geometry.Pt(17, 22))
	all := []passes.Pass{
		{Operation: artwork.Pen, Setting: set("", artwork.Pen, 20, 150.5, ""), Rule: toolpath.Rule{Rounds: 1, OffsetByMachine: true, OvercutByMachine: true}, CutMM: 60},
		{Operation: artwork.Score, Changed: true, Setting: set("old", artwork.Score, 60.5, 100, ""), Rule: toolpath.Rule{Rounds: 1, OffsetByMachine: true}, CutMM: 120.6},
		{Operation: artwork.Score, Changed: true, Blade: "b45", Setting: set("new", artwork.Score, 66, 100, ""), Rule: toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.25}, Rounds: 1, OffsetByMachine: true}, CutMM: 1},
		{Operation: artwork.Perforate, Blade: "b45", Setting: set("", artwork.Perforate, 130, 80, "b45"), Rule: toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.25, OvercutMM: 0.5}, Rounds: 1, OffsetByMachine: true, OvercutByMachine: true, DashMM: 2.5, TieMM: 0.5}, CutMM: 70},
		{Operation: artwork.ThroughCut, Changed: true, Blade: "odd", Setting: set("", artwork.ThroughCut, 210, 80, "odd"), Rule: toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5, OvercutMM: 0.4, LiftBelowDeg: 25.5}, Rounds: 1}, Mark: &passes.Mark{Box: square}, CutMM: 20},
		{Operation: artwork.ThroughCut, Blade: "odd", ForceSteps: 7, Turns: 3, NoMark: true, Setting: set("", artwork.ThroughCut, 210, 80, "odd"), Rule: toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5, OvercutMM: 0.4, LiftBelowDeg: 25.5}, Rounds: 2}, CutMM: 700},
		{Operation: artwork.ThroughCut, Blade: "odd", Setting: set("", artwork.ThroughCut, 220, 80, "odd"), LeadIn: &toolpath.LeadIn{}, Rule: toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5}, Rounds: 3}, CutMM: 800},
		{Operation: artwork.ThroughCut, Blade: "odd", Setting: set("", artwork.ThroughCut, 230, 80, "odd"), LeadIn: &toolpath.LeadIn{}, Rule: toolpath.Rule{Blade: knife.Blade{OffsetMM: 0.5}, Rounds: 1}, CutMM: 900},
	}
	for i := range all {
		all[i].Number = i + 1
	}
	return all
}

// A worksheet is the one that was looked at, to its boxes and lines and their ink, in
// what it seldom shows.
func TestSheetsOfRareWorkAreAsTheyWere(t *testing.T) {
	for name, sheet := range map[string]func() (*view.Results, view.About){"sheet-roll": rollSheet, "sheet-heat": heatSheet, "sheet-passes": passesSheet} {
		results, about := sheet()
		var file bytes.Buffer
		if err := results.Worksheet(t.Context(), &file, about); err != nil {
			t.Fatal(err)
		}
		golden.Hold(t, name, drawnOf(pageOf(t, file.Bytes())))
	}
}

// The sheet of a test cut is the one that was looked at, to the boxes that are ticked and
// the lines that are written on.
func TestTestCutsSheetsAreAsTheyWere(t *testing.T) {
	film := testCutOf(t, "film-removable-610", artwork.KissCut)
	card := testCutOf(t, "card-220-a4", artwork.Score)
	card.Link, card.Machine.ForceStepGF, card.Setting.Passes = "https://cutters.example/#b2c1", 5, 2
	card.Next.Aim, card.Next.Number = trial.Speed, 3
	card.Next.Force, card.Next.Found = &trial.Window{From: 60, To: 80.5, Below: 50, Above: 90}, &trial.Cell{ForceGF: 70.5, SpeedMMS: 90}
	card.Next.Speed = &trial.Window{From: 90, To: 90, Above: 120}
	for name, cut := range map[string]*view.TestCut{"sheet-testcut-film": film, "sheet-testcut-card": card} {
		var file bytes.Buffer
		if err := cut.Worksheet(t.Context(), &file, "k7m2"); err != nil {
			t.Fatal(err)
		}
		golden.Hold(t, name, drawnOf(pageOf(t, file.Bytes())))
	}
}

// What is set at the machine for a load is told as it was looked at, with a pass of each
// tool; there is no list of a load that is not there, nor before the passes are.
func TestPassListIsAsItWas(t *testing.T) {
	r, _ := passesSheet()
	list, err := r.ListPasses(1)
	if err != nil {
		t.Fatal(err)
	}
	golden.Hold(t, "passlist", list.Text())
	for _, none := range []int{-1, 0, 2} {
		if _, err := r.ListPasses(none); err == nil {
			t.Errorf("there is a list of load %d", none)
		}
	}
	r.Passes = nil
	if _, err := r.ListPasses(1); err == nil {
		t.Error("there is a list before there are passes")
	}
}

// The finished work is told beside a bank card: from one and a half of them on how many
// there are, and below in words.
func TestFinishedWorkBesideACard(t *testing.T) {
	for _, c := range []struct {
		wide, high float64
		want       string
	}{
		{0, 0, ""}, {0, 20, "Only straight lines are then left, 20 mm long at most."},
		{29, 20, "29 × 20 mm, much less wide than a bank card."}, {31, 20, "31 × 20 mm, about half as wide as a bank card."},
		{64, 20, "64 × 20 mm, about half as wide as a bank card."}, {65, 20, "65 × 20 mm, about as wide as a bank card."},
		{128, 20, "128 × 20 mm, about as wide as a bank card."}, {130, 20, "130 × 20 mm, about as wide as 2 bank cards."},
		{214.5, 0, "Only straight lines are then left, 214.5 mm long at most."}, {214.5, 20, "214.5 × 20 mm, about as wide as 3 bank cards."},
	} {
		p := view.Plan{Questions: []ask.Question{{ID: "size/true_size", Text: "How large is it?", Answers: []ask.Answer{{ID: "one", Label: "One", WidthMM: c.wide, HeightMM: c.high}}}}}
		text := strings.Join(strings.Fields(view.Text(plan.Asking, &p, nil)), " ")
		if told := strings.Contains(text, "are then left") || strings.Contains(text, "Your work is then"); told != (c.want != "") || !strings.Contains(text, c.want) {
			t.Errorf("%v × %v mm is told in other words than %q:\n%s", c.wide, c.high, c.want, text)
		}
	}
}

// Nothing is written over the cautions at the foot of a page: where a page is full the
// work goes on over the leaf, under its title.
func TestNothingIsWrittenOverTheCautions(t *testing.T) {
	sheets := []printed{}
	for _, b := range benches() {
		sheets = append(sheets, printOf(t, b.plan(t)))
	}
	for _, sheet := range []func() (*view.Results, view.About){rollSheet, heatSheet, passesSheet} {
		results, about := sheet()
		var file bytes.Buffer
		if err := results.Worksheet(t.Context(), &file, about); err != nil {
			t.Fatal(err)
		}
		sheets = append(sheets, readPrint(t, file.Bytes()))
	}
	for _, s := range sheets {
		for n, page := range s.pages {
			foot := -1
			for i, w := range page.words {
				if w.Text == "Cautions" {
					foot = i
				}
			}
			if foot < 0 {
				t.Errorf("page %d has no cautions:\n%s", n+1, page.raw)
				continue
			}
			for _, w := range page.words {
				middle := (w.Y1 + w.Y2) / 2
				if title := page.words[foot]; middle > title.Y2 && w.Y2-w.Y1 > title.Y2-title.Y1 {
					t.Errorf("page %d: %q is written over the cautions", n+1, w.Text)
				}
			}
		}
	}
	full := sheets[len(sheets)-1].pages
	if len(full) != 2 || strings.Contains(full[0].raw, "Blade capped") || !strings.Contains(full[1].raw, "continued") || !strings.Contains(full[1].raw, "Blade capped") {
		t.Errorf("%d pages, and the first does not go on over the leaf:\n%s", len(full), full[0].raw)
	}
}
