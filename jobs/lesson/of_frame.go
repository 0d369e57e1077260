package lesson

import "knifedesk/jobs/finding"

const (
	hole      = "CIRCLE 8=CUT 10=120 20=150 40=10 "
	paperSize = "The frame is the rectangle round everything. Select it and read its width and height: A4 is 210 × 297 mm."
)

var windowed = rect("CUT", 30, 40, 137, 62, 1) + rect("CUT", 60, 60, 20, 20, 1)

var inFrame = drawn("The frame is one rectangle of 210 × 297 mm.", inMM(framed(210, 297, 1)))

var inFrameOnRoll = of(onFilm(), inFrame.Says, inFrame.File)

func withFrame(says, lines string) Example { return drawn(says, inMM(windowed+lines)) }

var frameLessons = []Lesson{
	{finding.FrameTakenOut, "The frame is not cut",
		"The rectangle round your drawing is taken for a frame: it only carries the size, and is not cut. If it is an edge of your piece, say that the drawing has no frame.",
		"Look at the dashed rectangle in the picture of the size.",
		of(onFilm(), "The outer rectangle is the frame.", inMM(framed(210, 297, 1))), of(onFilm(), "There is no frame.", inMM(windowed))},
	{finding.FrameNotFound, "The frame is missing",
		"A frame was announced, but no rectangle of that size lies round the drawing.",
		paperSize,
		of(frameA4(), "No rectangle lies round the work.", inMM(windowed)), of(frameA4(), inFrame.Says, inFrame.File)},
	{finding.FrameInexact, "Nearly a paper's size",
		"The rectangle is a hair off a paper's size, as when a program rounds to whole points. Nearly is no proof, so you are asked.",
		paperSize,
		of(onFilm(), "595 × 842: A4 in points, rounded.", inMM(windowed+rect("PAGE", 0, 0, 595, 842, 1))), inFrameOnRoll},
	{finding.FrameInPage, "A paper in another unit, on a larger page",
		"The rectangle would be A4 if its numbers were centimetres, but the page of the file is much larger. It may be a frame, or a piece on the page.",
		paperSize,
		of(onFilm(), "A rectangle of 21 × 29.7 mm on a page of 180.", onPage(layer("CUT", teal, "M0 0h21v29.7h-21zM2 2h9v9h-9z"))), of(onFilm(), "A piece of 40 × 30 mm.", onPage(layer("CUT", teal, "M0 0h40v30h-40zM2 2h9v9h-9z")))},
	{finding.FrameOtherUnit, "A paper in another unit than the file's",
		"The rectangle is A4 only if its numbers are centimetres, and the file says mm. As the file reads it could be a piece.",
		paperSize,
		drawn("A frame of 21 × 29.7 in a file that says mm.", inMM(framed(210, 297, 0.1))), inFrame},
	{finding.FramesSeveral, "Several drawings in one file",
		"Two frames lie side by side, each with work in it. One drawing is planned at a time.",
		"Zoom out: more than one page is drawn in the file.",
		of(onFilm(), "Two pages with a drawing each.", inMM(framed(210, 297, 1)+rect("PAGE", 300, 0, 297, 420, 1)+rect("CUT", 310, 10, 20, 20, 1))), inFrameOnRoll},
	{finding.FrameStretched, "Stretched one way",
		"Width and height were changed by different amounts, so circles are no longer round.",
		"Draw a circle over a round part of your work: does it fit?",
		of(frameA4(), "Everything is 2 % wider, and the hole is an oval.", inMM(rect("CUT", 30.6, 40, 139.74, 62, 1)+"ELLIPSE 8=CUT 10=122.4 20=150 11=10.2 21=0 40=0.98039215686 41=0 42=6.283185307 "+rect("PAGE", 0, 0, 214.2, 297, 1))),
		of(frameA4(), "The frame is A4 and the hole is round.", inMM(windowed+hole+rect("PAGE", 0, 0, 210, 297, 1)))},
	{finding.FrameOffShape, "Not quite the shape of a paper",
		"The rectangle is 2 % too wide for A4. Nothing round is drawn that could tell whether only the frame was changed, or everything was stretched.",
		paperSize,
		withFrame("The frame measures 214.2 × 297 mm.", rect("PAGE", 0, 0, 214.2, 297, 1)), inFrame},
	{finding.FrameUnstretched, "Set right one way",
		"The drawing was stretched one way, and you chose to have width and height put right by the frame, each by itself.",
		"Look whether circles in your drawing are round, and export with width and height locked together.",
		of(answered(onCard(), "size/true_size", "A4.per_axis"), "Everything is 2 % too wide.", inMM(rect("CUT", 30.6, 40, 139.74, 62, 1)+rect("PAGE", 0, 0, 214.2, 297, 1))), inFrame},
	{finding.FrameEdited, "A frame that was changed",
		"A side of the frame is missing or was moved, so it is no sound rectangle any more.",
		paperSize,
		withFrame("The left side is missing.", "LWPOLYLINE 8=PAGE 90=4 70=0 10=0 20=0 10=210 20=0 10=210 20=297 10=0 20=297"), inFrame},
	{finding.FrameTurned, "A frame that lies askew",
		"The frame is turned. It was measured along its own sides, so the size is right.",
		"Look whether the page is turned in your drawing.",
		withFrame("The frame is turned by 10°.", "LWPOLYLINE 8=PAGE 90=4 70=1 10=0 20=0 10=206.8096 20=36.4661 10=155.236 20=328.954 10=-51.5735 20=292.4879"), inFrame},
	{finding.FrameLoose, "A frame of four loose lines",
		"The frame is drawn as four lines that do not know of each other. It was measured all the same.",
		"Click on the frame: only one side is selected.",
		withFrame("Four lines.", "LINE 8=PAGE 10=0 20=0 11=210 21=0 LINE 8=PAGE 10=210 20=0 11=210 21=297 LINE 8=PAGE 10=210 20=297 11=0 21=297 LINE 8=PAGE 10=0 20=297 11=0 21=0"), inFrame},
	{finding.FrameDoubled, "The frame, drawn twice",
		"Two frames lie on each other. One is enough.",
		"Click on the frame and move it: another one lies under it.",
		withFrame("Two rectangles on each other.", rect("PAGE", 0, 0, 210, 297, 1)+rect("PAGE", 0, 0, 210, 297, 1)), inFrame},
	{finding.FrameOffPage, "The drawing lies beside the page",
		"The frame lies beside the page of the file. It was measured all the same.",
		"Zoom out until you see the page and the drawing.",
		drawn("The work and its frame lie right of the page.", onPage(layer("CUT", teal, "M230 40h137v62h-137z")+layer("PAGE", "#000", "M200 0h210v297h-210z"))), drawn("They begin where the page begins.", onPage(layer("CUT", teal, "M30 40h137v62h-137z")+layer("PAGE", "#000", "M0 0h210v297h-210z")))},
	{finding.FrameOverhang, "Work that sticks out of the frame",
		"A line reaches beyond the frame. If the frame is your sheet, that part is missing from the cut.",
		"Follow the frame with your eye: what crosses it?",
		drawn("The plate is one millimetre over the edge.", inMM(rect("CUT", 100, 40, 111, 62, 1)+rect("PAGE", 0, 0, 210, 297, 1))), drawn("The plate lies within the frame.", inMM(rect("CUT", 90, 40, 111, 62, 1)+rect("PAGE", 0, 0, 210, 297, 1)))},
	{finding.FrameBeside, "Something lies beside the frame",
		"A part of the drawing lies outside of the frame, apart from the rest: often something that was put aside and forgotten.",
		"Zoom out until you see all of the drawing, and delete what lies beside the frame.",
		drawn("A small square was left beside the frame.", inMM(rect("CUT", 90, 40, 111, 62, 1)+rect("CUT", 230, 40, 20, 20, 1)+rect("PAGE", 0, 0, 210, 297, 1))), drawn("All of the work lies within the frame.", inMM(rect("CUT", 90, 40, 111, 62, 1)+rect("PAGE", 0, 0, 210, 297, 1)))},
	{finding.FrameBorder, "A line that lies on the frame",
		"A line of another layer lies exactly on the frame. It may be the edge of your piece, or a slip.",
		"Click on the frame and move it: a line of another layer lies under it.",
		withFrame("A line to cut lies on the frame.", rect("CUT", 0, 0, 210, 297, 1)+rect("PAGE", 0, 0, 210, 297, 1)), inFrame},
	{finding.FramesOrPieces, "A frame, or an edge",
		"A rectangle of paper size lies round the work and looks like the rest of it. It may be a frame, which is not cut, or the edge of your piece.",
		"Put frames on a layer of their own, as your workshop names it.",
		of(onFilm(), "The rectangle of A4 is on the layer for cutting.", inMM(windowed+rect("CUT", 0, 0, 210, 297, 1))), inFrameOnRoll},
}
