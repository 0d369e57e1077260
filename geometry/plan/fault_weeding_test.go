package plan_test

import (
	"fmt"
	"strings"

	"knifedesk/geometry/finding"
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
	noBridges := onStencil
	noBridges.Options.NoBridges = true
	const island = "M20 20h40v40h-40zM30 30h20v20h-20z"
	bridged := fault{name: "stencil island, bridged", with: cutting(island), near: cutting("M20 20h40v40h-40z"), choices: onStencil,
		code: finding.IslandBridged, severity: finding.Mended, count: 1, at: "10 10 30 30", mend: "stencil_bridges"}
	loose := bridged
	loose.name, loose.choices, loose.code, loose.severity = "stencil island", noBridges, finding.StencilIsland, finding.Block
	return []fault{
		warns("kept stroke of 1.2 mm", finding.StrokeCare, "M0 0h40v1.2h-40z", "M0 0h40v1.6h-40z", "0.27 0 39.73 1.2"),
		warns("kept stroke of 0.8 mm", finding.StrokeExpert, "M0 0h40v0.8h-40z", "M0 0h40v1.1h-40z", "0.19 0 39.81 0.8"),
		warns("kept stroke of 0.5 mm", finding.StrokeTooThin, "M0 0h40v0.5h-40z", "M0 0h40v0.75h-40z", "0.12 0 39.88 0.5"),
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
			code: finding.RegionsUnclear, severity: finding.Ask, count: 1, at: "20 10 40 30", asks: "regions"},
		{name: "edge of the stencil or an opening", with: cutting("M0 0h100v80h-100zM10 10h20v20h-20zM50 10h20v20h-20z"), near: cutting("M10 10h20v20h-20zM50 10h20v20h-20z"), choices: onStencil,
			code: finding.StencilEdge, severity: finding.Ask, count: 1, at: "0 0 100 80", asks: "regions:stencil_edge"},
		bridged, loose,
		{name: "nothing encloses", with: cutting("M0 0h60"), near: cutting("M0 0h60v40h-60z"), choices: onCard,
			code: finding.NothingEnclosed, severity: finding.Warn, count: 1},
	}
}

// lettersOf is a word of three letters I of a height in mm.
func lettersOf(height float64) string {
	var word strings.Builder
	for i := range 3 {
		fmt.Fprintf(&word, "M%g 0h4v%gh-4z", 8*float64(i), height)
	}
	return word.String()
}
