package lesson

import (
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
)

// frameA4 is what an example in a frame of A4 is cut from: the frame is declared.
func frameA4() plan.Choices {
	c := onCard()
	c.Size.Frame = "A4"
	return c
}

// measure is how any size is seen.
const measure = "Measure something that you know, such as the longest side of your work, and look which unit your program shows."

const pointsPerMM = 72 / 25.4

// wide returns choices of which the width of the work is given.
func wide(mm float64) plan.Choices {
	c := onFilm()
	c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: mm}
	return c
}

// thick is a plate of 60 × 40 mm in a line of 0.5 mm.
const thick = `<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.5"><path d="M10 10h60v40h-60z"/></g>`

var inA4 = drawn("The frame measures 210 × 297 mm, as A4 does.", inMM(framed(210, 297, 1)))

var inMMOnly = of(onFilm(), "The file says that its numbers are mm.", inMM(rect("CUT", 0, 0, 137, 62, 1)))

var sizeLessons = []Lesson{
	{finding.SizeUnitMended, "Sent in one unit, read in another",
		"The numbers in the file were written in one unit and are read in another, so the work would come out almost three times too large, or far too small. The frame gave it away: only in the right unit is it a sheet of paper.",
		measure,
		drawn("Saved in points and read as mm: A4 seems to be 595 × 842 mm. The dashed card is a bank card.", inMM(framed(210, 297, pointsPerMM))), inA4},
	{finding.SizeRescaled, "Made smaller on the way",
		"The drawing has another size than you drew, and no mix-up of units explains it. That happens when an export fits the page. You had said which paper the frame is, so the size was put right by it.",
		measure,
		of(frameA4(), "Everything came at 37.77 % of its size.", inMM(framed(210, 297, 0.3777))), of(frameA4(), "The frame is A4.", inMM(framed(210, 297, 1)))},
	{finding.SizeUnnamedFactor, "The shape of a paper, but no paper's size",
		"The rectangle round your drawing has the shape of A3, but is a little smaller, as when a printer's margins were kept free. Nothing proves by how much it shrank, so you are asked.",
		measure,
		of(onFilm(), "The frame measures 285.1 × 403.2 mm: A3 at 96 %.", inMM(framed(297, 420, 0.96))), of(onFilm(), "The frame measures 297 × 420 mm: A3.", inMM(framed(297, 420, 1)))},
	{finding.SizeAmbiguous, "More than one size is possible",
		"The same rectangle can be one paper in one unit and another paper in another, and the file names no unit.",
		measure,
		of(onFilm(), "594 × 841 without a unit: A1 in mm, or A4 in points.", dxf(0, framed(594, 841, 1))), of(onFilm(), "The same, and the file says mm.", inMM(framed(594, 841, 1)))},
	{finding.SizeNoEvidence, "Nothing says how large it is",
		"There is no frame, and the file names no unit: 137 can be millimetres, points or inches.",
		measure,
		of(onFilm(), "A plate of 137 by 62 of nobody knows what.", dxf(0, rect("CUT", 0, 0, 137, 62, 1))), inMMOnly},
	{finding.SizeOtherUnit, "Round numbers only in another unit",
		"The file says mm, and the plate would be 170.08 × 113.39 mm. In points it is 60 × 40 mm exactly, as somebody would draw it. So you are asked.",
		measure,
		of(onFilm(), "A plate of 60 × 40 mm, written in points, and the file says mm.", inMM(rect("CUT", 0, 0, 60, 40, pointsPerMM))), of(onFilm(), "The same, and the numbers are mm.", inMM(rect("CUT", 0, 0, 60, 40, 1)))},
	{finding.SizeDimensions, "The dimensions say another size",
		"The work is drawn to a scale, or somebody typed over what a dimension measures. The machine cuts what is drawn, so the work would come out in a size that nobody wants.",
		"Let your program measure a length that has a dimension, and compare.",
		of(onFilm(), "The plate is drawn 60 mm wide, and its dimension says 120.", inMM(rect("CUT", 0, 0, 60, 40, 1)+" DIMENSION 8=NOTES 70=1 13=0 23=0 14=60 24=0 1=120")),
		of(onFilm(), "The dimension says what is drawn.", inMM(rect("CUT", 0, 0, 60, 40, 1)+" DIMENSION 8=NOTES 70=1 13=0 23=0 14=60 24=0 1=60"))},
	{finding.SizeOffStock, "Not a size that fits",
		"At the size that the file gives the work is larger than the stock, or far too small to be cut. A wrong unit looks like that.",
		measure,
		of(onFilm(), "137 inches are three and a half metres.", dxf(1, rect("CUT", 0, 0, 137, 62, 1))), inMMOnly},
	{finding.DrawingTooLarge, "Larger than anything that is cut",
		"The drawing is kilometres wide at its true size: a stray line lies far off, or the unit is wrong.",
		"Zoom out until everything fits the screen. If your work becomes a dot, something lies far away.",
		of(inUnit(onFilm(), "mm"), "A strip reaches more than a kilometre to the right.", inMM(rect("CUT", 0, 0, 137, 62, 1)+rect("CUT", 0, 90, 1100000, 10, 1))),
		of(inUnit(onFilm(), "mm"), "The strip is 100 mm long.", inMM(rect("CUT", 0, 0, 137, 62, 1)+rect("CUT", 0, 90, 100, 10, 1)))},
	{finding.SizeUnitDisagrees, "The file says one unit, the frame another",
		"By the unit of the file the rectangle is no paper. In another unit it is one exactly, and that is taken or asked.",
		measure,
		drawn("The file says inches: the frame would be five metres wide.", dxf(1, framed(210, 297, 1))), inA4},
	{finding.SizeGivenDisagrees, "What you gave does not fit the frame",
		"You gave a length, a unit or a scale, and with it the frame is no paper's size. What you gave was used all the same, since you know best.",
		"Measure the frame of your drawing, and look at what you gave.",
		of(inUnit(onFilm(), "mm"), "A frame in points, and mm were given.", inMM(framed(210, 297, pointsPerMM))), of(inUnit(onFilm(), "mm"), "The frame is A4 in mm.", inMM(framed(210, 297, 1)))},
	{finding.SizeGivenApart, "Two things that you gave do not agree",
		"You gave the size of the frame, and a length, a unit or a scale besides. By the one your work has another size than by the other, and only you know which is right.",
		"Measure the frame of your drawing. Give its size or a length, and leave the other out.",
		of(frameGiven(inUnit(onFilm(), "mm"), "A3"), "The frame is A4 in mm, and A3 was given.", inMM(framed(210, 297, 1))), of(frameGiven(inUnit(onFilm(), "mm"), "A4"), "A4 was given.", inMM(framed(210, 297, 1)))},
	{finding.SizeGivenWithLine, "The thickness of the line was counted",
		"Programs that show how wide a shape is often count the thickness of its line, half of it on each side. The knife follows the middle of the line. With that width your work comes out a little too large.",
		"Make the line as thin as your program allows, and look at the width again.",
		of(wide(60.5), "The plate is 60 mm wide, its line 0.5 mm thick, and 60.5 mm were given.", onPage(thick)), of(wide(60), "Its width was given as 60 mm.", onPage(thick))},
	{finding.SizeByHeaderAlone, "Only the file says how large it is",
		"The unit in the file is believed, and nothing proves it. Programs often write a unit that nobody drew in.",
		measure,
		inMMOnly, of(onFilm(), "A frame of paper size proves it.", inMM(framed(210, 297, 1)))},
	{finding.InnerScale, "A part in another unit",
		"A copied part is exactly ten, or 25.4, times as large as it was drawn, as happens where centimetres or inches and millimetres meet.",
		"Measure a side of the marked part, and one of the rest.",
		of(onFilm(), "The square of 20 mm was placed ten times as large.", inMM(square+"INSERT 8=CUT 2=PART 10=40 20=0 41=10 42=10")), of(onFilm(), "The copy is as large as the square.", inMM(square+"INSERT 8=CUT 2=PART 10=40 20=0"))},
	{finding.NothingDrawn, "Nothing with a length",
		"What was drawn has no length that could be measured: only single points are left.",
		"Select everything, and look how large it is.",
		card("One point.", "M10 10L10 10"), card("A line of 20 mm.", "M10 10H30")},
	{finding.LengthKept, "Your length, though lines are left out",
		"You gave a width, and it was measured over lines that are not cut. So that what is cut has the width that you gave, all of it was made larger.",
		"Look which lines reach farthest out, and whether they are to be cut.",
		lengthOf("The red line is wider than the work, and is left out.", `<path d="M10 60h120v1h-1"/>`), lengthOf("The red line is narrower than the work.", `<path d="M20 60h20v1h-1"/>`)},
}

// lengthOf is a box whose width is given as 90 mm, with a red line that is left out.
func lengthOf(says, line string) Example {
	c := answered(onCard(), "artwork/line:#ff0000", "nothing")
	c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: 90}
	return of(c, says, onPage(cutBox()+`<g fill="none" stroke="#ff0000">`+line+`</g>`))
}
