package lesson

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/jobs/finding"
)

// zoom is how ends that do not meet are seen.
const zoom = "Zoom in at the marked place until a millimetre is as wide as your hand."

const rectangle = "M0 0h40v30h-40z"

var closed = card("One closed outline.", rectangle)

var trueCircle = card("A true circle.", "M60 40A20 20 0 0 1 20 40A20 20 0 0 1 60 40Z")

var lineLessons = []Lesson{
	{finding.StrayPoints, "A stray point",
		"A click too many leaves a line without length. There is nothing to cut, so it is left out.",
		"It is hardly seen. Select everything: a small mark appears where nothing is drawn.",
		card("A point beside the outline.", rectangle, "M50 0L50 0"), closed},
	{finding.DuplicateLines, "Lines that lie on each other",
		"The same edge is there twice. Cut twice it tears, so it is cut once.",
		"Click on the line and move it a little: another one lies under it.",
		card("The outline lies on itself, a hundredth of a millimetre off.", rectangle, "M0.01 0h40v30h-40z"), closed},
	{finding.LooseSegments, "An outline in separate pieces",
		"The lines touch, but are not one path. They are cut in one go all the same.",
		"Click on the outline: only one side of it is selected.",
		card("Two lines that touch in a corner.", rectangle, "M60 0h20", "M80 0v20"), card("The corner is one path.", rectangle, "M60 0h20v20")},
	{finding.NearGap, "Ends that nearly meet",
		"A gap of less than a tenth of a millimetre was closed: nobody sees it, but the piece would hang on it.",
		zoom + " Do the two ends touch?",
		card("The last side ends 0.09 mm below the corner.", "M0 0h40v30h-40v-29.91"), closed},
	{finding.Gap, "Lines that stop short of each other",
		"The ends lie so far apart that they may be meant to: closed, the piece comes out; left open, it stays in the sheet. That is why you are asked.",
		zoom + " Do the two ends touch?",
		card("The last side ends 0.8 mm below the corner.", "M0 0h40v30h-40v-29.2"), closed},
	{finding.OpenOutline, "An outline that is not closed",
		"The outline goes nearly round and does not close, so what is inside stays in the sheet.",
		"Fill the shape with a colour: the side without a line is open.",
		card("The last side stops 28 mm short.", "M0 0h40v30h-40v-2"), closed},
	{finding.OpenLine, "A cut that ends in the open",
		"The line ends somewhere in the sheet. That is right for a slit or a tab, and wrong for an outline.",
		"Follow the line with your eye: where does it end?",
		card("A slit in the plate.", rectangle, "M10 15h20"), card("The line goes from edge to edge.", rectangle, "M0 15h40")},
	{finding.Spur, "A tail past a corner",
		"A line runs a little too far past the one on which it should end, and the tail is cut as well.",
		zoom + " Does one line run past the other?",
		card("The line ends 0.6 mm outside.", rectangle, "M0 15h40.6"), card("The line ends on the outline.", rectangle, "M0 15h40")},
	{finding.TinySegments, "Steps too tiny to cut",
		"The line has steps of less than the knife can follow. They were smoothed out.",
		zoom + " Two points of the line lie almost on each other.",
		card("The upper side has a step of 0.03 mm.", "M0 0h20h0.03h19.97v30h-40z"), closed},
	{finding.FacetedCurves, "Curves drawn as many short lines",
		"The curve is made of straight pieces so short that nobody sees them. It is cut as a curve, which is faster and smoother.",
		"Click on the curve: it has a point every millimetre.",
		card("A circle of 100 short lines.", chords(100)), trueCircle},
	{finding.Faceted, "Curves with corners",
		"The curve is made of straight pieces so long that they show as corners.",
		"Zoom in on the curve: do you see corners?",
		card("A circle of 24 lines.", around(24, 20)), trueCircle},
	{finding.SlowCurves, "Curves that cost time",
		"The pieces are too short to show and too long to be drawn as one curve. The knife brakes at each of them.",
		"Click on the curve: it has a point every few millimetres.",
		card("A circle of 40 lines.", chords(40)), card("A true circle.", "M30 20A10 10 0 0 1 10 20A10 10 0 0 1 30 20Z")},
	{finding.DoubledLine, "An outline of two lines",
		"Two lines run side by side at the same distance, as when a thick line was turned into its two edges. Cut like that a thin ring comes off.",
		"Zoom in on the line: are there two?",
		film("Two outlines 0.7 mm apart.", rectangle, "M0.7 0.7h38.6v28.6h-38.6z"), film("One outline.", rectangle)},
	{finding.OutlinesCross, "Outlines that run over each other",
		"Where two shapes overlap, the knife cuts both edges, and the overlap becomes a piece of its own. Joined into one outline they stay together.",
		"Switch to the view that shows outlines only: lines run through each other.",
		film("Two boxes that overlap.", rectangle, "M30 10h40v30h-40z"), film("The two boxes joined into one outline.", "M0 0h40v10h30v30h-40v-10h-30z")},
	{finding.TooDense, "Far too many lines",
		"The drawing asks for more work than can be planned, mostly where hatching or copies lie on each other.",
		"Look at the outlines only: at the marked place it is black.",
		card("A hatching that crosses itself 200,000 times.", hatching(450, 0.3)), card("A wide grid.", hatching(9, 15))},
	{finding.WideLine, "A line drawn as wide as a band",
		"However wide a line is drawn, it is cut once, along its middle. If the band is what you want, draw its two edges.",
		"Look at the width of the marked line, or switch to the view that shows outlines only.",
		drawn("A line 3 mm wide.", onPage(`<path d="`+box+`" fill="none" stroke="#007c91" stroke-width="3"/>`)), drawn("A thin line.", onPage(`<path d="`+box+`" fill="none" stroke="#007c91" stroke-width="0.2"/>`))},
	{finding.FillAndStroke, "A filled shape with a wide line",
		"A filled shape looks larger by half the width of its line. Which edge is meant, the drawn one or the visible one, has to be said.",
		"Look at the width of the line of the marked shape.",
		of(onFilm(), "A filled box with a line 2 mm wide.", onPage(`<path d="`+box+`" fill="#007c91" stroke="#007c91" stroke-width="2"/>`)), of(onFilm(), "A filled box without a line.", onPage(`<path d="`+box+`" fill="#007c91"/>`))},
}

// chords is a circle of radius 10 as so many chords.
func chords(n int) string { return around(n, 10) }

func around(n int, r float64) string {
	var b strings.Builder
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		fmt.Fprintf(&b, "%c%.6f %.6f", "ML"[min(i, 1)], 2*r+r*cos, 2*r+r*sin)
	}
	return b.String() + "Z"
}

// hatching is n lines each way, a step apart.
func hatching(n int, step float64) string {
	var b strings.Builder
	long := float64(n) * step
	for i := range n {
		at := float64(i) * step
		fmt.Fprintf(&b, "M0 %.1fh%.1fM%.1f 0v%.1f", at, long, at, long)
	}
	return b.String()
}
