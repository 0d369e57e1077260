package local_test

import (
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// meaningFaults are about what lines are for.
func meaningFaults() []fault {
	const (
		box  = "M10 10h40v30h-40z"
		teal = "#007c91"
	)
	cut := onLayer("CUT", teal, box)
	fold := func(data string) string { return cut + onLayer("FOLD", "#7a3eb1", data) }
	asks := func(name string, code finding.Code, id, with, near string, choices plan.Choices, at string) fault {
		return fault{name: name, with: page(with), near: page(near), choices: choices,
			code: code, severity: finding.Ask, count: 1, at: at, asks: id}
	}
	filled := func(colour string) string { return `<path d="` + box + `" fill="` + colour + `"/>` }
	ungrouped := func(colour string) string {
		return `<path d="` + box + `" fill="none" stroke="` + colour + `" stroke-width="0.1"/>`
	}
	mirror := func(inner string) string { return `<g transform="translate(180 0) scale(-1 1)">` + inner + `</g>` }
	notes := func(w *workshop.Data) {
		rules := &w.Conventions[0].Rules
		*rules = append(*rules, workshop.Rule{Layer: "NOTES", Means: workshop.MeansNothing})
	}
	sides := func(w *workshop.Data) {
		rules := &w.Conventions[0].Rules
		*rules = append([]workshop.Rule{{Layer: "VALLEY", Means: workshop.MeansScore, Fold: workshop.Valley}}, *rules...)
	}
	return []fault{
		{name: "fill without a line", with: page(filled(teal)), near: page(ungrouped(teal)), choices: onCard,
			code: finding.FillOutline, severity: finding.Warn, count: 1, at: "0 0 40 30"},
		asks("fill without a line, in an unknown colour", finding.FillOnly, "artwork/fill:#999999", filled("#999999"), `<g id="CUT">`+filled("#999999")+`</g>`, onCard, "10 140 50 170"),
		asks("colour near a known one", finding.ColourNear, "artwork/line:#7a3ec0", cut+ungrouped("#7a3ec0"), cut+`<path d="M15 20h30" fill="none" stroke="#7b3eb1"/>`, onCard, "0 0 40 30"),
		asks("unknown colour", finding.UnknownLine, "artwork/line:#ff0000", ungrouped("#ff0000"), ungrouped(teal), onCard, "10 140 50 170"),
		asks("unknown layer", finding.UnknownLine, "artwork/layer:Sketch", cut+onLayer("Sketch", "#000000", "M60 10h20"), cut+onLayer("PEN", "#000000", "M60 10h20"), onCard, "50 30 70 30"),
		asks("fold on film", finding.OperationUnsupported, "artwork/operation:score", fold("M10 20h40"), cut, onFilm, "0 20 40 20"),
		asks("fold on a cut", finding.FoldOnCut, "artwork/shared_edges", fold("M10 10h40"), fold("M10 20h40"), onCard, "0 30 40 30"),
		{name: "folds that may go either way", with: page(cut + onLayer("VALLEY FOLD", "#7a3eb1", "M10 20h40")), near: page(fold("M10 20h40")), choices: onCard,
			code: finding.FoldSides, severity: finding.Ask, count: 1, at: "0 20 40 20", asks: "artwork/fold:VALLEY FOLD"},
		{name: "folds over their score", with: page(cut + onLayer("VALLEY", "#7a3eb1", "M10 20h40")), near: page(fold("M10 20h40")), choices: onCard, edit: sides,
			code: finding.FoldsOverScore, severity: finding.Warn, count: 1, at: "0 20 40 20"},
		asks("mirrored once more", finding.MirroredAlready, "artwork/mirror", cut+mirror(onLayer("CUT", teal, "M20 20h9v9z")), cut+onLayer("CUT", teal, "M20 20h9v9z"), onHeat, ""),
		asks("mirrored by mistake", finding.DrawnMirrored, "artwork/mirror", mirror(cut), cut, onFilm, ""),
		{name: "line that is left out", with: page(cut + onLayer("NOTES", "#000000", "M60 10h20")), near: page(cut), choices: onCard, edit: notes,
			code: finding.LeftOut, severity: finding.Warn, count: 1, at: "50 30 70 30"},
		{name: "no line is left", with: page(onLayer("NOTES", "#000000", "M60 10h20")), near: page(cut), choices: onCard, edit: notes,
			code: finding.NothingToCut, severity: finding.Block, count: 1},
	}
}
