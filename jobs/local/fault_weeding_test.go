package local_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// weedingFaults are about what is kept and what is removed.
func weedingFaults() []fault {
	warns := func(name string, code finding.Code, with, near string, at string) fault {
		return fault{name: name, with: cutting(with), near: cutting(near), choices: onFilm,
			code: code, severity: finding.Warn, count: 1, at: at}
	}
	letters := func(code finding.Code, with, near float64) fault {
		return fault{name: fmt.Sprintf("letters of %g mm", with), with: cutting(lettersOf(with)), near: cutting(lettersOf(near)), choices: onFilm,
			code: code, severity: finding.Warn, count: 3, at: fmt.Sprintf("0 0 4 %g", with)}
	}
	// plateWith is a plate of 60 × 40 mm with more in it.
	plateWith := func(more string) string { return "M0 0h60v40h-60z" + more }
	turned := onFilm
	turned.Turned = []int{9}
	turnedRight := onFilm
	turnedRight.Turned = []int{2}
	isOpening := answered(onStencil, "weeding/stencil_edge", "opening")
	noBridges := isOpening
	noBridges.Options.NoBridges = true
	const island = "M20 20h40v40h-40zM30 30h20v20h-20z"
	bridged := fault{name: "stencil island, bridged", with: cutting(island), near: cutting("M20 20h40v40h-40z"), choices: isOpening,
		code: finding.IslandBridged, severity: finding.Mended, count: 1, at: "10 10 30 30", mend: "stencil_bridges"}
	// A slot of 100 × 0.9 mm is too narrow to be cut across half a millimetre off its sides.
	slot := warns("removed piece longer than a hand", finding.PieceLong, "M0 0h120v20h-120zM10 10h100v0.9h-100z", "M0 0h120v20h-120zM10 10h40v0.9h-40z", "10 9.1 110 10")
	slot.edit = onStock("film-removable-610", func(l *workshop.Limits) { l.HandMM = 50 })
	fine := func(name string, choices plan.Choices, severity finding.Severity, with, near, at string) fault {
		asks := "weeding/below_limit"
		if severity == finding.Ask {
			asks = "weeding/risk"
		}
		return fault{name: name, with: cutting(with), near: cutting(near), choices: choices,
			code: finding.StrokeTooThin, severity: severity, count: 1, at: at, asks: asks}
	}
	low := fault{name: "letters too low", with: cutting(anglesOf(5)), near: cutting(anglesOf(6.1)), choices: onFilm,
		code: finding.LetterTooLow, severity: finding.Block, count: 3, at: "0 0 4 5", asks: "weeding/below_limit"}
	loose := bridged
	loose.name, loose.choices, loose.code, loose.severity = "stencil island", noBridges, finding.StencilIsland, finding.Block
	return []fault{
		warns("kept stroke of 1.2 mm", finding.StrokeCare, "M0 0h40v1.2h-40z", "M0 0h40v1.6h-40z", "0.27 0 39.73 1.2"),
		warns("kept stroke of 0.8 mm", finding.StrokeExpert, "M0 0h40v0.8h-40z", "M0 0h40v1.1h-40z", "0.19 0 39.81 0.8"),
		fine("strip of film of 0.5 mm", onFilm, finding.Block, "M0 0h40v0.5h-40z", "M0 0h40v0.75h-40z", "0 0 40 0.5"),
		fine("film narrow over 4 mm", onFilm, finding.Block, waist(4, 0.5), waist(4, 0.75), "19.73 9.75 24.27 10.25"),
		fine("film narrow over 2 mm", onFilm, finding.Ask, waist(2, 0.5), waist(2, 0.75), "19.73 9.75 22.27 10.25"),
		fine("strip of card of 0.5 mm", onCard, finding.Block, "M0 0h40v0.5h-40z", "M0 0h40v2.1h-40z", "0 0 40 0.5"),
		fine("strip of light card", onLightCard, finding.Block, "M0 0h40v1.4h-40z", "M0 0h40v1.6h-40z", "0 0 40 1.4"),
		fine("strip of heat film", onHeat, finding.Block, "M0 0h40v0.9h-40z", "M0 0h40v1.1h-40z", "0 0 40 0.9"),
		{name: "hole in card for the heavy blade", with: cutting(plateWith("M20 20h4v4h-4z")), near: cutting(plateWith("M20 20h5v5h-5z")), choices: onCard,
			code: finding.CounterSmall, severity: finding.Warn, count: 1, at: "20 16 24 20"},
		{name: "hole in card for the fine blade", with: cutting(plateWith("M20 20h2.9v2.9h-2.9z")), near: cutting(plateWith("M20 20h3.1v3.1h-3.1z")), choices: onLightCard,
			code: finding.CounterSmall, severity: finding.Warn, count: 1, at: "20 17.1 22.9 20"},
		{name: "slot in card", with: cutting(plateWith("M20 20h2v5h-2z")), near: cutting(plateWith("M20 20h2v9h-2z")), choices: onCard,
			code: finding.CounterSmall, severity: finding.Warn, count: 1, at: "20 15 22 20"},
		low,
		warns("narrow neck of removed film", finding.NeckTears, plateWith("M5 5h20v30h-20zM25 19h10v1.5h-10zM35 5h20v30h-20z"), plateWith("M5 5h20v30h-20zM35 5h20v30h-20z"), "25.19 19.5 34.81 21"),
		warns("counter too small", finding.CounterSmall, plateWith("M20 20h1.8v1.8h-1.8z"), plateWith("M20 20h2.2v2.2h-2.2z"), "20 18.2 21.8 20"),
		warns("sharp corner", finding.KeptAngleSharp, "M0 0h60l-60 20z", "M0 0h40l-40 20z", "60 20 60 20"),
		warns("small piece", finding.PieceFragile, "M0 0h60v40h-60zM10 10h30v20h-30zM20 15h3v3h-3z", "M0 0h60v40h-60zM10 10h30v20h-30zM20 15h4v4h-4z", "20 22 23 25"),
		letters(finding.LetterCare, 10, 13),
		letters(finding.LetterExpert, 7, 9),
		letters(finding.LetterTooLow, 5, 7),
		{name: "no such region", with: cutting(plateWith("M20 10h20v20h-20z")), near: cutting(plateWith("M20 10h20v20h-20z")), choices: turned, nearChoice: &turnedRight,
			code: finding.RegionUnknown, severity: finding.Warn, count: 1},
		{name: "fill and outlines differ", with: page(`<path d="M0 0h60v40h-60zM20 10h20v20h-20z" fill="#007c91" fill-rule="nonzero"/>`),
			near: page(`<path d="M0 0h60v40h-60zM20 10h20v20h-20z" fill="#007c91" fill-rule="evenodd"/>`), choices: onFilm,
			code: finding.RegionsUnclear, severity: finding.Ask, count: 1, at: "20 10 40 30", asks: "weeding/regions"},
		{name: "edge of the stencil or an opening", with: cutting("M0 0h100v80h-100zM10 10h20v20h-20zM50 10h20v20h-20z"), near: cutting("M10 10h20v20h-20zM50 10h20v20h-20z"), choices: onStencil,
			code: finding.StencilEdge, severity: finding.Ask, count: 1, at: "0 0 100 80", asks: "weeding/stencil_edge"},
		{name: "little sheet round the openings of a stencil", with: cutting("M0 0h100v80h-100zM5 20h30v30h-30z"), near: cutting("M0 0h100v80h-100zM11 20h30v30h-30z"), choices: answered(onStencil, "weeding/stencil_edge", "edge"),
			code: finding.StencilMargin, severity: finding.Warn, count: 1, at: "0 0 100 80"},
		{name: "part in a hole of another", with: cutting(plateWith("M10 10h30v20h-30zM20 15h10v10h-10z")), near: cutting(plateWith("M10 10h30v20h-30z")), choices: onCard,
			code: finding.PieceInHole, severity: finding.Ask, count: 1, at: "20 15 30 25", asks: "weeding/pieces_in_holes"},
		bridged, loose, slot,
		warns("label with an edge of its own", finding.SurroundStays, plateWith("M5 5h50v30h-50zM20 10h20v20h-20z"), "M0 0h20v40h-20zM40 0h20v40h-20z", "0 0 60 40"),
		warns("slit across what stays", finding.KeptSlit, plateWith("M20 10h20v20h-20zM0 20h20"), plateWith("M5 5h50v30h-50zM20 10h20v20h-20zM5 20h15"), "0 20 20 20"),
		warns("tail past an outline", finding.Nick, "M0 0h40v30h-40zM0 15h40.6", "M0 0h40v30h-40zM0 15h40", "40 15 40.6 15"),
		{name: "nothing encloses", with: cutting("M0 0h60"), near: cutting("M0 0h60v40h-60z"), choices: onCard,
			code: finding.NothingEnclosed, severity: finding.Warn, count: 1},
	}
}

// onStock edits the limits of one stock of the workshop.
func onStock(id string, edit func(*workshop.Limits)) func(*workshop.Data) {
	return func(d *workshop.Data) {
		for i := range d.Stocks {
			if d.Stocks[i].ID == id {
				edit(&d.Stocks[i].Limits)
			}
		}
	}
}

// The limits are those of the stock, as the workshop set them: a drawing that
// passes by the example data is found once the limit is raised to just above
// what it has, with a place and with the new limit in the hints, and passes
// with the limit just below.
func TestWeedingLimitsAreTheStocks(t *testing.T) {
	const plate = "M0 0h60v40h-60z"
	for _, c := range []struct {
		code        finding.Code
		drawing     string
		pass, found float64
		limit       func(*workshop.Limits) *float64
	}{
		{finding.StrokeCare, "M0 0h40v2h-40z", 1.9, 2.1, func(l *workshop.Limits) *float64 { return &l.StrokeEasyMM }},
		{finding.StrokeExpert, "M0 0h40v1.2h-40z", 1.1, 1.3, func(l *workshop.Limits) *float64 { return &l.StrokeCareMM }},
		{finding.StrokeTooThin, "M0 0h40v0.9h-40z", 0.89, 0.91, func(l *workshop.Limits) *float64 { return &l.StrokeExpertMM }},
		{finding.NeckTears, plate + "M5 5h20v30h-20zM25 18h10v3h-10zM35 5h20v30h-20z", 2.9, 3.1, func(l *workshop.Limits) *float64 { return &l.NeckMM }},
		{finding.CounterSmall, plate + "M20 10h4v4h-4z", 3.9, 4.1, func(l *workshop.Limits) *float64 { return &l.CounterMM }},
		{finding.CounterSmall, plate + "M20 10h4v4h-4z", 15.9, 16.1, func(l *workshop.Limits) *float64 { return &l.CounterMM2 }},
		{finding.KeptAngleSharp, "M0 0h40v-40z", 44.9, 45.1, func(l *workshop.Limits) *float64 { return &l.KeptAngleDeg }},
		{finding.PieceFragile, "M0 0h5v5h-5z", 24.9, 25.1, func(l *workshop.Limits) *float64 { return &l.FragileMM2 }},
		{finding.LetterCare, lettersOf(20), 19.9, 20.1, func(l *workshop.Limits) *float64 { return &l.LetterEasyMM }},
		{finding.LetterExpert, lettersOf(10), 9.9, 10.1, func(l *workshop.Limits) *float64 { return &l.LetterCareMM }},
		{finding.LetterTooLow, lettersOf(7), 6.9, 7.1, func(l *workshop.Limits) *float64 { return &l.LetterExpertMM }},
	} {
		for limit, want := range map[float64]bool{c.pass: false, c.found: true} {
			d := desk{workshop.Example(), onFilm}
			onStock(onFilm.Stock, func(l *workshop.Limits) { *c.limit(l) = limit })(&d.data)
			f := d.run(t, cutting(c.drawing)).find(c.code)
			if (f != nil) != want {
				t.Errorf("%s with the limit at %g: found %v, want %v", c.code, limit, f != nil, want)
				continue
			}
			if f == nil {
				continue
			}
			if said := fmt.Sprint(limit); len(f.Places) == 0 || !strings.Contains(f.Hint+f.TechnicianHint, said) {
				t.Errorf("%s: at %v: %s / %s, want the limit of %s", c.code, boxes(f.Places), f.Hint, f.TechnicianHint, said)
			}
		}
	}
}

// waist is two plates of 20 mm joined by a bar, of a length and a width in mm.
func waist(length, width float64) string {
	return fmt.Sprintf("M0 0h20v%[2]gh%[1]gv-%[2]gh20v20h-20v-%[2]gh-%[1]gv%[2]gh-20z", length, 10-width/2)
}

// anglesOf is a word of three letters L of a height in mm.
func anglesOf(height float64) string {
	var word strings.Builder
	for i := range 3 {
		fmt.Fprintf(&word, "M%g 0h1.6v%gh2.4v1.6h-4z", 8*float64(i), height-1.6)
	}
	return word.String()
}

// lettersOf is a word of three letters I of a height in mm.
func lettersOf(height float64) string {
	var word strings.Builder
	for i := range 3 {
		fmt.Fprintf(&word, "M%g 0h4v%gh-4z", 8*float64(i), height)
	}
	return word.String()
}
