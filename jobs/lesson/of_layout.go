package lesson

import (
	"fmt"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Where nothing is seen in the drawing, this is said.
const (
	notYours  = "Nothing is wrong with your drawing: what differs is the workshop."
	readSize  = "Read the width and height of your whole drawing."
	askedSide = "Look at the folds of your piece and at the grain, the way the fibres of the card run."
)

var cardInMM = inUnit(onCard(), "mm")

func plateOf(on plan.Choices, says string, w, h float64) Example {
	return of(on, says, inMM(rect("CUT", 0, 0, w, h, 1)))
}

// inPanels are choices that say whether the work may be made of panels.
func inPanels(may layout.Allowance) plan.Choices {
	c := cardInMM
	c.Options.Panels = may
	return c
}

// unturned are choices that switch off the mirroring of film that needs it.
func unturned() plan.Choices {
	asDrawn := false
	c := onHeat()
	c.Mirror = &asDrawn
	return c
}

// oneBorder are choices that want one weed border round all copies.
func oneBorder() plan.Choices {
	c := onFilm()
	c.Purpose, c.Copies, c.Options.OneBorder = weeding.Lettering, 24, true
	return c
}

var plainPlate = card("A plate of 40 × 30 mm.", box)

func foldedPlate(says string, w, h, fold float64) Example {
	body := layer("CUT", teal, fmt.Sprintf("M0 10h%gv%gh-%gz", w, h, w)) + layer("FOLD", violet, fmt.Sprintf("M%g 10v%g", fold, h))
	return drawn(says, onPage(`<g transform="translate(-40 0)">`+body+`</g>`))
}

var layoutLessons = []Lesson{
	{finding.OffTheStock, "Larger than the stock",
		"The piece fits in neither turn. Check the size first: a wrong unit looks like this, and so does a stray line far off.",
		readSize, plateOf(inPanels(layout.PanelsRefused), "A plate of 170 × 320 mm, on a sheet of A4.", 170, 320), plateOf(inPanels(layout.PanelsRefused), "A plate of 170 × 280 mm.", 170, 280)},
	{finding.NeedsPanels, "Too large for one piece",
		"The work fits only if it is made of panels that are joined. That shows, so you are asked.",
		readSize, plateOf(cardInMM, "A plate of 170 × 320 mm, on a sheet of A4.", 170, 320), plateOf(cardInMM, "A plate of 170 × 280 mm.", 170, 280)},
	{finding.MadeInPanels, "Made of panels",
		"The work is larger than the stock and is made of panels. Each of them is cut by itself, and they are joined afterwards.",
		"Look at the picture of the layout: it shows where the panels meet.",
		plateOf(inPanels(layout.PanelsAllowed), "A plate of 170 × 320 mm, in two panels.", 170, 320), plateOf(inPanels(layout.PanelsAllowed), "A plate of 170 × 280 mm.", 170, 280)},
	{finding.NearEdge, "Near the edge of the sheet",
		"The piece leaves less room to the edges than is usual, so a sheet that lies a little askew would spoil it.",
		readSize, card("A plate of 201 × 287 mm, on a sheet of 210 × 297 mm.", "M0 0h201v287h-201z"), card("A plate of 190 × 280 mm.", "M0 0h190v280h-190z")},
	{finding.FitsAcrossGrain, "It fits only across the grain",
		"Card folds well along its fibres and cracks across them. Turned so that it fits, the folds would lie across.",
		askedSide, foldedPlate("220 mm wide: it fits the sheet only when it is turned.", 220, 150, 90), foldedPlate("150 mm wide: it fits as it lies.", 150, 200, 90)},
	{finding.ScoreAcrossGrain, "Folds across the grain",
		"Card folds well along its fibres. Across them a fold may crack.",
		askedSide, drawn("One fold along, one across.", onPage(cutBox()+layer("FOLD", violet, "M10 20h30M20 10v30"))), drawn("All folds the same way.", onPage(cutBox()+layer("FOLD", violet, "M10 20h40")))},
	{finding.RollTooShort, "Not enough left on the roll",
		"So many copies need more film than there is.",
		"Look how many copies you asked for.",
		of(plan.Choices{Stock: onFilm().Stock, Copies: 5000}, "5,000 copies.", cutting(box)), of(onFilm(), "One copy.", cutting(box))},
	{finding.MachineNarrower, "The machine is narrower than the stock",
		"The cutter reaches only a part of the width of this stock. The layout keeps to that part.",
		notYours, of(plan.Choices{Stock: onFilm().Stock, Machine: "narrow-305"}, "On the narrow cutter.", cutting(box)), of(onFilm(), "On the wide one.", cutting(box))},
	{finding.NoCommonBorder, "No weed border round all copies",
		"You asked for one cut round all copies, so that what is not wanted peels off in one go. It is left out where it does not help, as for shapes that have a frame of their own.",
		"Look at the picture of the layout: it shows what is peeled off together.",
		of(oneBorder(), "Two squares within a frame of their own.", cutting("M5 5h60v30h-60zM10 10h20v20h-20zM40 10h20v20h-20z")),
		of(oneBorder(), "The same two squares without the frame.", cutting("M10 10h20v20h-20zM40 10h20v20h-20z"))},
	{finding.MirrorAgainstRule, "Mirroring was switched off",
		"This film is cut from its back and has to be mirrored, and you switched that off. It comes out the wrong way round, unless it is drawn mirrored.",
		"Does the text in your drawing read backwards? It has to, if nothing mirrors it.",
		of(unturned(), "Cut as drawn.", cutting("M20 10h10v40h20v10h-30z")), of(onHeat(), "Mirrored by the plan.", cutting("M20 10h10v40h20v10h-30z"))},
	{finding.NoMat, "The machine has no mat",
		"Sheets are stuck on a mat so that nothing moves, and the cutter that was chosen has none.",
		notYours, said(plainPlate, "On a cutter without a mat.").with(machines(func(m *workshop.Machine) { m.Mats = nil })), said(plainPlate, "On one with a mat.")},
	{finding.MatTackMissing, "No mat that sticks as it should",
		"Card wants a mat that holds it well and lets it go again, and only another one is there.",
		notYours, said(plainPlate, "On a mat that sticks otherwise.").with(machines(func(m *workshop.Machine) { m.Mats = m.Mats[:1] })), said(plainPlate, "On the right mat.")},
	{finding.SheetOverMat, "The sheet is larger than the mat",
		"Only what lies on the mat can be cut.",
		notYours, said(plainPlate, "A sheet of half a metre, on a shorter mat.").with(stocks(func(s *workshop.Stock) { s.LengthMM = 500 })), said(plainPlate, "A sheet that lies on its mat.")},
}

// said is an example with another sentence.
func said(e Example, says string) Example {
	e.Says = says
	return e
}

// machines and stocks change all of a college.
func machines(change func(*workshop.Machine)) func(*workshop.Data) {
	return func(w *workshop.Data) {
		for i := range w.Machines {
			change(&w.Machines[i])
		}
	}
}

func stocks(change func(*workshop.Stock)) func(*workshop.Data) {
	return func(w *workshop.Data) {
		for i := range w.Stocks {
			change(&w.Stocks[i])
		}
	}
}
