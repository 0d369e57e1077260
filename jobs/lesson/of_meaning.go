package lesson

import (
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

const lookAtLayers = "Look at the layer and the colour of the marked line, and at the list of layers and colours that your workshop uses."

func foldedAt(says, path string) Example {
	return drawn(says, onPage(cutBox()+layer("FOLD", violet, path)))
}

func besideCut(says, body string) Example { return drawn(says, onPage(cutBox()+body)) }

var foldedAcross = foldedAt("A fold across the card.", "M10 20h40")

func turnedOver(inner string) string {
	return `<g transform="translate(180 0) scale(-1 1)">` + inner + `</g>`
}

func withRule(r workshop.Rule) func(*workshop.Data) {
	return func(w *workshop.Data) {
		rules := &w.Conventions[0].Rules
		*rules = append([]workshop.Rule{r}, *rules...)
	}
}

var notesLeftOut = withRule(workshop.Rule{Layer: "NOTES", Means: workshop.MeansNothing})

var meaningLessons = []Lesson{
	{finding.UnknownLine, "A line that may be anything",
		"Layer and colour say what a line is for: to cut, to fold, to draw. This one is on none that the workshop knows, so you are asked.",
		lookAtLayers,
		drawn("A red outline: red means nothing here.", onPage(`<path d="`+box+`" fill="none" stroke="#ff0000" stroke-width="0.1"/>`)), drawn("The outline in the colour for cutting.", onPage(cutBox()))},
	{finding.ColourNear, "Nearly the right colour",
		"The colour is close to one that the workshop uses, as after a change of the colour mode. Close is no proof, so you are asked.",
		"Read the colour of the line as a number and compare it with the workshop's.",
		besideCut("The line is #7a3ec0, and folds are #7a3eb1.", `<path d="M10 20h40" fill="none" stroke="#7a3ec0" stroke-width="0.1"/>`), besideCut("The line is #7a3eb1.", `<path d="M10 20h40" fill="none" stroke="#7a3eb1" stroke-width="0.1"/>`)},
	{finding.FillOutline, "A filled shape without a line",
		"The shape has the colour for cutting, but only as a fill. Its edge is cut.",
		"Look at fill and line of the marked shape.",
		drawn("A box with a fill and no line.", onPage(`<path d="`+box+`" fill="#007c91"/>`)), drawn("A box with a line and no fill.", onPage(cutBox()))},
	{finding.FillOnly, "A fill in a colour without a meaning",
		"The shape is filled, has no line, and its colour means nothing in this workshop.",
		lookAtLayers,
		drawn("A grey box without a line.", onPage(`<path d="`+box+`" fill="#999999"/>`)), drawn("The same on the layer for cutting.", onPage(`<g id="CUT"><path d="`+box+`" fill="#999999"/></g>`))},
	{finding.LockedLayer, "A line on a locked layer",
		"A locked layer often holds guides and pictures to draw by, and at times the work itself.",
		"Look which of your layers are locked.",
		drawn("The line on the right is on a locked layer.", inMM(square+"LINE 8=KEY 420=31889 10=30 20=0 11=50 21=0")), drawn("It is on the layer for cutting.", inMM(square+beside))},
	{finding.LeftOut, "Notes and guides",
		"By the rules of the workshop this layer or colour is for notes, and is not cut.",
		lookAtLayers,
		besideCut("A note beside the work.", layer("NOTES", "#000000", "M60 10h20")).with(notesLeftOut), besideCut("The line is on the layer for the pen.", layer("PEN", "#000000", "M60 10h20"))},
	{finding.NothingToCut, "No line is left",
		"After the rules of the workshop and your answers nothing is left that is cut or drawn.",
		lookAtLayers,
		drawn("The only line is a note.", onPage(layer("NOTES", "#000000", "M60 10h20"))).with(notesLeftOut), drawn("A line that is cut.", onPage(cutBox()))},
	{finding.OperationUnsupported, "Not on this material",
		"The line asks for something that this material cannot take: film is not folded, and card has no backing to cut down to.",
		lookAtLayers,
		of(onFilm(), "A fold on film.", onPage(cutBox()+layer("FOLD", violet, "M10 20h40"))), of(onCard(), "The same on card.", foldedAcross.File)},
	{finding.FoldOnCut, "A fold on a cut",
		"A fold lies exactly where it is cut. Where the card is cut there is nothing to fold.",
		"Click on the marked edge and move it: another line lies under it.",
		foldedAt("The fold lies on the upper edge.", "M10 10h40"), foldedAcross},
	{finding.FoldSides, "Folds that go up or down",
		"Folds that stand up and folds that lie in are scored from different sides, and a name says that these may be of either kind.",
		"Look at the names of the layers of your folds.",
		besideCut("The layer is called VALLEY FOLD.", layer("VALLEY FOLD", violet, "M10 20h40")), foldedAcross},
	{finding.FoldsOverScore, "Folds that close over the score",
		"A knife score opens when the card is bent away from it. Bent over it the card cracks.",
		"Fold a strip of the same card both ways over a score.",
		besideCut("A fold that lies in, scored on the side that lies up.", layer("VALLEY", violet, "M10 20h40")).with(withRule(workshop.Rule{Layer: "VALLEY", Means: workshop.MeansScore, Fold: workshop.Valley})), foldedAcross},
	{finding.MirroredAlready, "Mirrored twice",
		"This film is cut from its back, so it is mirrored for you. The drawing seems to be mirrored already, and would come out wrong.",
		"Can you read the text in your drawing? Then it is right.",
		of(onHeat(), "The triangle on the right is turned over.", onPage(cutBox()+turnedOver(layer("CUT", teal, "M20 20h9v9z")))), of(onHeat(), "Drawn the way it should read.", onPage(cutBox()+layer("CUT", teal, "M60 20h9v9z")))},
	{finding.DrawnMirrored, "Mirrored by mistake",
		"The whole drawing is turned over, so that text would read backwards. That is right only behind glass.",
		"Can you read the text in your drawing? Then it is right.",
		of(onFilm(), "An L, turned over.", onPage(turnedOver(layer("CUT", teal, "M130 10h10v40h20v10h-30z")))), of(onFilm(), "An L as it is read.", onPage(layer("CUT", teal, "M20 10h10v40h20v10h-30z")))},
}
