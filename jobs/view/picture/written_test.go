package picture_test

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// rect is a closed rectangle by its lower left corner and its sides.
func rect(x, y, w, h float64) geometry.Path {
	return geometry.BoxAround(geometry.Pt(x, y), geometry.Pt(x+w, y+h)).Path()
}

// foldedCard is a card with a fold and something to look at.
func foldedCard() *artwork.Artwork {
	square, fold := rect(0, 0, 40, 20), geometry.Polyline(geometry.Pt(20, 0), geometry.Pt(20, 20))
	a := &artwork.Artwork{Bounds: square.Bounds(), Strokes: []artwork.Stroke{
		{Path: fold, Operation: artwork.Score}, {Path: square, Operation: artwork.ThroughCut},
	}}
	a.Findings = []finding.Finding{{
		Code: "x", Severity: finding.Warn, Count: 1, Hint: "The fold is a little long.",
		Places: []finding.Place{{Box: fold.Bounds()}},
	}}
	return a
}

// askedCard is the same with a question about each of its lines.
func askedCard() *artwork.Artwork {
	a := foldedCard()
	a.Questions = []ask.Question{{ID: "artwork/operation", Text: "What are these?", Answers: []ask.Answer{{ID: "cut", Label: "cut"}}, Parts: []ask.Question{
		{Text: "the fold", Places: []finding.Place{{Box: a.Strokes[0].Path.Bounds()}, {Box: geometry.EmptyBox(), Source: "line 7"}}}, {Text: "the edge", Places: []finding.Place{{Box: rect(30, 10, 5, 5).Bounds()}, {Box: rect(5, 10, 5, 5).Bounds()}, {Box: rect(5, 2, 5, 5).Bounds()}}},
	}}}
	return a
}

// region is a region whose pick point is the middle of its box.
func region(n int, c weeding.Class, outer geometry.Path, holes ...geometry.Path) weeding.Region {
	b := outer.Bounds()
	for i := range holes {
		holes[i] = holes[i].Reversed()
	}
	return weeding.Region{Number: n, Class: c, Outer: outer, Holes: holes, Pick: b.Centre(), PickRadiusMM: min(b.Width(), b.Height()) / 2}
}

// step is a step at the pick point of a region.
func step(order int, r *weeding.Region, deg, seconds float64, hint string) weeding.Step {
	return weeding.Step{Order: order, Region: r.Number, Pick: r.Pick, PeelDeg: deg, Seconds: seconds, Hint: hint}
}

// labelMap is a label of film with all classes and added lines, steps with and
// without room, a fragile dot, findings, and a question in two parts. It is cut
// mirrored.
func labelMap() *weeding.Map {
	plate, letter, hole, dot, ground := rect(5, 5, 110, 60), rect(20, 20, 30, 30), rect(30, 30, 10, 10), rect(100, 30, 1.5, 1.5), rect(60, 15, 35, 40)
	kiss := func(p geometry.Path) artwork.Stroke { return artwork.Stroke{Path: p, Operation: artwork.KissCut} }
	added := func(a artwork.Added, p geometry.Path) artwork.Stroke {
		return artwork.Stroke{Path: p, Operation: artwork.KissCut, Added: a, Shape: -1}
	}
	m := &weeding.Map{
		Purpose: weeding.Lettering, Mirrored: true, Bounds: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(120, 70)), Effort: weeding.Effort{CopyS: 130},
		Strokes: []artwork.Stroke{
			kiss(plate), kiss(letter), kiss(hole), kiss(dot), kiss(ground), added(artwork.Border, rect(0, 0, 120, 70)),
			added(artwork.Relief, geometry.Polyline(geometry.Pt(50, 35), geometry.Pt(60, 35))), added(artwork.Seam, geometry.Polyline(geometry.Pt(78, 15), geometry.Pt(78, 55))),
		},
		Regions: []weeding.Region{
			region(1, weeding.Surround, rect(0, 0, 120, 70), plate), region(2, weeding.Kept, plate, letter, dot, ground),
			region(3, weeding.Ground, letter, hole), region(4, weeding.Kept, hole), region(5, weeding.Counter, dot), region(6, weeding.Counter, ground),
		},
		Findings: []finding.Finding{
			{Code: "x", Severity: finding.Warn, Count: 2, Number: 3, Hint: "Two thin places.", Places: []finding.Place{{Box: rect(18, 18, 4, 4).Bounds()}, {Box: rect(48, 48, 4, 4).Bounds()}}},
			{Code: "y", Severity: finding.Mended, Count: 1, Number: 4, Hint: "One gap was closed."},
		},
		Questions: []ask.Question{{
			ID: "weeding/kept", Text: "Which of these stay?", Answers: []ask.Answer{{ID: "all", Label: "all of them", Evidence: "They are filled."}, {ID: "none", Label: "none"}},
			Parts: []ask.Question{{Text: "the letter", Places: []finding.Place{{Box: letter.Bounds()}}}, {Text: "the dot", Places: []finding.Place{{Box: dot.Bounds()}}}},
		}},
	}
	m.Regions[3].Fragile = true
	m.Regions[0].Pick = geometry.Pt(2.5, 60)
	m.Steps = []weeding.Step{
		step(1, &m.Regions[0], 270, 12, "Start at a corner."), step(2, &m.Regions[5], 30, 20, ""),
		step(3, &m.Regions[4], 0, 2, "Use the point."), step(4, &m.Regions[2], 120, 40, ""),
	}
	return m
}

// stencilMap is a stencil whose island hangs on two bridges.
func stencilMap() *weeding.Map {
	opening, island, small := rect(10, 10, 60, 40), rect(30, 20, 20, 20), rect(80, 25, 3, 3)
	m := &weeding.Map{
		Purpose: weeding.Stencil, Bounds: geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(100, 60)),
		Bridges: []geometry.Path{rect(38, 40, 3, 10), rect(38, 10, 3, 10)},
		Regions: []weeding.Region{
			region(1, weeding.Kept, rect(0, 0, 100, 60), opening, small), region(2, weeding.Ground, opening, island), region(3, weeding.Counter, small), region(4, weeding.Kept, island),
		},
	}
	for _, p := range []geometry.Path{opening, island, small} {
		m.Strokes = append(m.Strokes, artwork.Stroke{Path: p, Operation: artwork.ThroughCut})
	}
	m.Regions[1].Pick, m.Regions[1].PickRadiusMM = geometry.Pt(20, 30), 10
	m.Steps = []weeding.Step{step(1, &m.Regions[1], 0, 30, "Push it out from behind."), step(2, &m.Regions[2], 0, 5, "")}
	return m
}

// denseMap is a plate with nx × ny small holes of three sizes; many of them
// leave their numbers no room.
func denseMap(nx, ny int) *weeding.Map {
	const apart = 5.0
	var holes []geometry.Path
	for i := range nx * ny {
		side := 0.8 + 0.7*float64(i*7%3)
		holes = append(holes, rect(apart*(float64(i%nx)+0.3), apart*(float64(i/nx)+0.25), side, side))
	}
	return holedMap(rect(0, 0, apart*float64(nx), apart*float64(ny)), holes)
}

// clusterMap is a plate with a crowd of small holes in one corner, a few in the
// one across from it, and none elsewhere.
func clusterMap(side, apart float64) *weeding.Map {
	var holes []geometry.Path
	for i := range 49 {
		holes = append(holes, rect(3+apart*float64(i%7), 4+apart*float64(i/7), side, side))
	}
	for i := range 3 {
		holes = append(holes, rect(100+4*float64(i), 60, 1.5, 1.5))
	}
	return holedMap(rect(0, 0, 120, 70), holes)
}

// holedMap is a plate with holes, each a step. The plate is blank, so that the
// file stays small.
func holedMap(plate geometry.Path, holes []geometry.Path) *weeding.Map {
	m := &weeding.Map{Purpose: weeding.Pieces, Bounds: plate.Bounds(), Strokes: []artwork.Stroke{{Path: plate, Operation: artwork.ThroughCut}}}
	for i, hole := range holes {
		m.Strokes = append(m.Strokes, artwork.Stroke{Path: hole, Operation: artwork.ThroughCut})
		r := region(i+2, weeding.Counter, hole)
		r.Depth = 2
		m.Regions = append(m.Regions, r)
		m.Steps = append(m.Steps, step(i+1, &r, 90, 2, ""))
	}
	r := region(1, weeding.Surround, plate, slices.Clone(holes)...)
	r.Depth = 1
	m.Regions = append(m.Regions, r)
	return m
}

// laid puts a copy of a piece on a load.
func laid(copy int, m *weeding.Map, at geometry.Affine) layout.Placement {
	b := geometry.BoxAround(at.Apply(m.Bounds.Min), at.Apply(m.Bounds.Max))
	return layout.Placement{Copy: copy, Transform: at, Bounds: b}
}

// twoSheets are five copies on two sheets, with what is left of the second, and
// the passes of both.
func twoSheets(m *weeding.Map) (*layout.Layout, *passes.Plan) {
	offcut := rect(0, 180, 297, 240).Bounds()
	l := &layout.Layout{Mirrored: true, Usage: layout.Usage{Sheets: 2, Offcut: &offcut}, Loads: []layout.Load{
		{Number: 1, WidthMM: 297, LengthMM: 420, MatID: "mat-1"}, {Number: 2, WidthMM: 297, LengthMM: 420, MatID: "mat-2"},
	}}
	for i := range 3 {
		l.Loads[0].Placements = append(l.Loads[0].Placements, laid(i+1, m, geometry.Translate(10, 10+80*float64(i))))
	}
	turned := geometry.Rotate(math.Pi / 2).Then(geometry.Translate(230, 20))
	l.Loads[1].Placements = []layout.Placement{laid(4, m, geometry.Translate(10, 10)), laid(5, m, turned)}
	l.Questions = []ask.Question{{Text: "Which way does the grain run?", Answers: []ask.Answer{{ID: "along", Label: "along the sheet"}}}}
	return l, runsOf(l, m)
}

// rollOf are n copies one after the other along a roll.
func rollOf(n int, m *weeding.Map) *layout.Layout {
	ld := layout.Load{Number: 1, WidthMM: 150, LengthMM: 80 * float64(n)}
	for i := range n {
		ld.Placements = append(ld.Placements, laid(i+1, m, geometry.Translate(10, 5+80*float64(i))))
	}
	return &layout.Layout{Loads: []layout.Load{ld}, Usage: layout.Usage{RollMM: ld.LengthMM}}
}

// runsOf runs all strokes of each copy in two passes: the first of the strokes
// with the pen, the others with the knife.
func runsOf(l *layout.Layout, m *weeding.Map) *passes.Plan {
	plan := &passes.Plan{}
	for _, ld := range l.Loads {
		pen := passes.Pass{Number: 1, Operation: artwork.Pen, Setting: workshop.Setting{ForceGF: 40, SpeedMMS: 200}, CutMM: 340 * float64(len(ld.Placements)), MotionS: 12}
		cut := passes.Pass{Number: 2, Operation: artwork.KissCut, Setting: workshop.Setting{ForceGF: 85.5, SpeedMMS: 150, Passes: 2}, CutMM: 9000 * float64(len(ld.Placements)), MotionS: 170}
		for _, pl := range ld.Placements {
			for i, st := range m.Strokes {
				run := passes.Run{Copy: pl.Copy, Stroke: i, At: pl.Transform.Apply(st.Path.Start)}
				if i == 0 {
					pen.Runs = append(pen.Runs, run)
				} else {
					cut.Runs = append(cut.Runs, run)
				}
			}
		}
		plan.Loads = append(plan.Loads, passes.Load{Number: ld.Number, Passes: []passes.Pass{pen, cut}})
	}
	return plan
}

// tiny are copies on a sheet that is too large for their numbers, one of them
// large enough.
func tiny(m *weeding.Map) *layout.Layout {
	ld := layout.Load{Number: 1, WidthMM: 3000, LengthMM: 1500}
	for i, k := range []float64{0.3, 0.5, 0.9, 1, 1.2, 2} {
		ld.Placements = append(ld.Placements, laid(i+1, m, geometry.Scale(k, k).Then(geometry.Translate(400*float64(i), 100))))
	}
	return &layout.Layout{Loads: []layout.Load{ld}, Usage: layout.Usage{Sheets: 1}}
}

// noted is a card with more findings than a page lists, one at more places than
// are marked.
func noted() *artwork.Artwork {
	a := foldedCard()
	a.Findings = nil
	for i := range 42 {
		f := finding.Finding{Code: "x", Severity: finding.Warn, Count: 1, Hint: "Look here."}
		if i == 0 {
			f.Count = 9
			for k := range 7 {
				f.Places = append(f.Places, finding.Place{Box: rect(3+5*float64(k), 4, 1, 1).Bounds()})
			}
		}
		a.Findings = append(a.Findings, f)
	}
	return a
}
