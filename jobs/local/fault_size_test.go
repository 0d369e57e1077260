package local_test

import (
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
)

// plate is a plate of 137 × 62 mm with a window.
const plate = box137 + "M60 60H80V80H60Z"

// onPage is plate in a frame of its sheet, all numbers times sx and sy, in a
// file that says mm.
func onPage(frame string, sx, sy float64) string {
	return drawn(dxf.Millimetres, sx, sy, layer{"CUT", plate}, layer{"PAGE", frame})
}

// sizeFaults are about the true size as a whole.
func sizeFaults() []fault {
	mended := func(name string, factor float64) fault {
		return fault{name: name, with: onPage(a4, factor, factor), near: onPage(a4, 1, 1), choices: onCard,
			code: finding.SizeUnitMended, severity: finding.Mended, count: 1, mend: "size.unit"}
	}
	inPoints, inMillimetres := onFilm, onFilm
	inPoints.Size.Unit, inMillimetres.Size.Unit = "pt", "mm"
	declared := plan.Choices{Stock: "card-220-a4", Size: plan.Size{Frame: "A4"}}
	otherUnit := func(name string, factor float64, at string) fault {
		return fault{name: name, with: onPage(a4, factor, factor), near: onPage(a4, 1, 1), choices: onCard,
			code: finding.FrameOtherUnit, severity: finding.Ask, count: 1, at: at, asks: "size/true_size"}
	}
	return []fault{
		mended("points read as mm", 72/25.4),
		mended("pixels read as mm", 96/25.4),
		mended("pixels at 72 an inch for 96", 72.0/96),
		mended("pixels at 96 an inch for 72", 96.0/72),
		mended("mm read as inches", 25.4),
		otherUnit("a page by its numbers in inches, in a file that says mm", 1/25.4, "0 0 8.27 11.69"),
		otherUnit("a page by its numbers in centimetres, in a file that says mm", 0.1, "0 0 21 29.7"),
		{name: "size lost for no reason, frame declared", with: onPage(a4, 0.3777, 0.3777), near: onPage(a4, 1, 1), choices: declared,
			code: finding.SizeRescaled, severity: finding.Mended, count: 1, mend: "size.unit"},
		{name: "size lost for no reason, nothing declared", with: onPage(a3x096, 1, 1), near: onPage(a3, 1, 1), choices: onFilm,
			code: finding.SizeUnnamedFactor, severity: finding.Ask, count: 1, at: "0 0 285.12 403.2", asks: "size/true_size"},
		{name: "unit of the file against the frame, settled by it",
			with:    drawn(dxf.Inches, 1, 1, layer{"CUT", plate}, layer{"PAGE", a4}),
			near:    drawn(dxf.Inches, 1/25.4, 1/25.4, layer{"CUT", plate}, layer{"PAGE", a4}),
			choices: onCard, code: finding.SizeUnitDisagrees, severity: finding.Mended, count: 1},
		{name: "unit of the file against the frame, open", with: onPage(a3x096, 1, 1), near: onPage(a3, 1, 1), choices: onFilm,
			code: finding.SizeUnitDisagrees, severity: finding.Ask, count: 1, asks: "size/true_size"},
		{name: "no frame and no unit", with: drawn(dxf.Unitless, 1, 1, layer{"CUT", plate}), near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}),
			choices: onFilm, code: finding.SizeNoEvidence, severity: finding.Ask, count: 1, asks: "size/true_size"},
		{name: "the file's unit alone", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}), near: onPage(a4, 1, 1),
			choices: onFilm, code: finding.SizeByHeaderAlone, severity: finding.Warn, count: 1},
		{name: "dimensions that say another size", with: entities(square + "DIMENSION 8=CUT 70=0 13=0 23=0 14=20 24=0 1=40"), near: entities(square + "DIMENSION 8=CUT 70=0 13=0 23=0 14=20 24=0 1=20"),
			choices: onFilm, code: finding.SizeDimensions, severity: finding.Ask, count: 1, asks: "size/true_size"},
		{name: "not on the stock", with: drawn(dxf.Inches, 1, 1, layer{"CUT", plate}), near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}),
			choices: onFilm, code: finding.SizeOffStock, severity: finding.Ask, count: 1, asks: "size/true_size"},
		{name: "what was given against the frame", with: onPage(a4, 72/25.4, 72/25.4), near: onPage(a4, 72/25.4, 72/25.4),
			choices: inMillimetres, nearChoice: &inPoints, code: finding.SizeGivenDisagrees, severity: finding.Warn, count: 1, at: "0 0 595.28 841.89"},
		{name: "a width that counts the thickness of the line", with: thickLine, near: thickLine, choices: wide(60.5), nearChoice: new(wide(60)),
			code: finding.SizeGivenWithLine, severity: finding.Warn, count: 1},
		{name: "wider than anything that is cut", with: entities(square + "LWPOLYLINE 8=CUT 90=3 70=1 10=0 20=30 10=1100000 20=30 10=1100000 20=40"), near: entities(square + "LWPOLYLINE 8=CUT 90=3 70=1 10=0 20=30 10=400 20=30 10=400 20=40"),
			choices: inMillimetres, code: finding.DrawingTooLarge, severity: finding.Block, count: 1, at: "0 0 1100000 40"},
		{name: "nothing drawn with a length", with: cutting("M10 10L10 10"), near: cutting("M10 10H30"),
			choices: onCard, code: finding.NothingDrawn, severity: finding.Block, count: 1},
	}
}

// frameFaults are about the frame.
func frameFaults() []fault {
	const (
		lacksSide   = "M0 0H210V297H0"
		a1          = "M0 0H594V841H0Z"
		skewed      = "M0 0H210L214 297H0Z"
		twoA5       = "M0 0H148V210H0ZM20 20H80V60H20ZM200 0H348V210H200ZM220 20H280V60H220Z"
		widened     = "M0 0H230V297H0Z"
		wholePoints = "M0 0H595V842H0Z"
		circle      = "M120 80A10 10 0 0 1 100 80A10 10 0 0 1 120 80Z"
		loose       = "M0 0H210M210 0V297M210 297H0M0 297V0"
		turned      = "M0 0L206.8096 36.4661 155.236 328.954 -51.5735 292.4879Z" // by 10°
	)
	declared := plan.Choices{Stock: "card-220-a4", Size: plan.Size{Frame: "A4"}}
	asks := func(name, frame string, code finding.Code, choices plan.Choices, at string) fault {
		return fault{name: name, with: onPage(frame, 1, 1), near: onPage(a4, 1, 1), choices: choices,
			code: code, severity: finding.Ask, count: 1, at: at, asks: "size/true_size"}
	}
	mended := func(name, frame string, code finding.Code, at string) fault {
		return fault{name: name, with: onPage(frame, 1, 1), near: onPage(a4, 1, 1), choices: onCard,
			code: code, severity: finding.Mended, count: 1, at: at}
	}
	return []fault{
		asks("side of the frame missing", lacksSide, finding.FrameEdited, onCard, "0 0 210 297"),
		asks("corner of the frame off 90°", skewed, finding.FrameEdited, onCard, "0 0 214 297"),
		{name: "side of the frame changed while circles stay round", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + circle}, layer{"PAGE", widened}),
			near:    drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + circle}, layer{"PAGE", a4}),
			choices: onFilm, code: finding.FrameEdited, severity: finding.Ask, count: 1, at: "0 0 230 297", asks: "size/true_size"},
		asks("frame rounded to whole points", wholePoints, finding.FrameInexact, onFilm, "0 0 595 842"),
		{name: "A4 in points, or A1", with: drawn(dxf.Unitless, 1, 1, layer{"CUT", plate}, layer{"PAGE", a1}),
			near:    drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}, layer{"PAGE", a1}),
			choices: onFilm, code: finding.SizeAmbiguous, severity: finding.Ask, count: 1, at: "0 0 594 841", asks: "size/true_size"},
		{name: "declared frame missing", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}), near: onPage(a4, 1, 1),
			choices: declared, code: finding.FrameNotFound, severity: finding.Ask, count: 1, asks: "size/true_size"},
		mended("frame turned", turned, finding.FrameTurned, "-51.57 0 206.81 328.95"),
		mended("frame drawn twice", a4+a4, finding.FrameDoubled, "0 0 210 297"),
		mended("frame of four loose lines", loose, finding.FrameLoose, "0 0 210 297"),
		{name: "frame beside the page", with: page(onLayer("CUT", "#007c91", "M230 40h137v62h-137z") + onLayer("PAGE", "#000", "M200 0h210v297h-210z")),
			near:    page(onLayer("CUT", "#007c91", "M30 40h137v62h-137z") + onLayer("PAGE", "#000", "M0 0h210v297h-210z")),
			choices: onCard, code: finding.FrameOffPage, severity: finding.Mended, count: 1, at: "200 -117 410 180"},
		asks("side of the frame changed or all stretched, no circle tells", "M0 0H214.2V297H0Z", finding.FrameOffShape, onCard, "0 0 214.2 297"),
		{name: "a page by another unit only, smaller than the page", with: page(onLayer("CUT", "#007c91", "M0 0h21v29.7h-21zM2 2h9v9h-9z")), near: page(onLayer("CUT", "#007c91", "M0 0h40v30h-40zM2 2h9v9h-9z")),
			choices: onFilm, code: finding.FrameInPage, severity: finding.Ask, count: 1, at: "0 150.3 21 180", asks: "size/true_size"},
		{name: "stretched one way", with: drawn(dxf.Millimetres, 1.02, 1, layer{"CUT", plate + circle}, layer{"PAGE", a4}),
			near: drawn(dxf.Millimetres, 1.02, 1.02, layer{"CUT", plate + circle}, layer{"PAGE", a4}), choices: declared,
			code: finding.FrameStretched, severity: finding.Block, count: 1, at: "0 0 214.2 297", asks: "size/true_size"},
		{name: "art overhangs the frame", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", "M100 40H211V102H100Z"}, layer{"PAGE", a4}),
			near:    page(`<g id="CUT" fill="none" stroke="#007c91" stroke-width="8"><path d="M30 40H179V102H30Z"/></g>` + onLayer("PAGE", "#000", "M-30 0h210v297h-210z")),
			choices: onCard, code: finding.FrameOverhang, severity: finding.Warn, count: 1, at: "100 40 211 102"},
		{name: "something lies beside the frame", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + "M240 50H250V60H240Z"}, layer{"PAGE", a4}),
			near:    drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + "M208 50H218V60H208Z"}, layer{"PAGE", a4}),
			choices: onFilm, code: finding.FrameBeside, severity: finding.Ask, count: 1, at: "240 50 250 60", asks: "size/beside_frame"},
		{name: "a border lies on the frame", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + a4}, layer{"PAGE", a4}),
			near:    drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + "M10.1 10.1H199.9V286.9H10.1Z"}, layer{"PAGE", a4}),
			choices: answered(onCard, "weeding/pieces_in_holes", "pieces"), code: finding.FrameBorder, severity: finding.Ask, count: 1, at: "0 0 210 297", asks: "size/frame_border"},
		{name: "frame taken out", with: onPage(a4, 1, 1), near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}), choices: onFilm,
			code: finding.FrameTakenOut, severity: finding.Mended, count: 1, at: "0 0 210 297", mend: "size.frame"},
		{name: "a frame or an edge", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", twoA5}), near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", box137}),
			choices: onFilm, code: finding.FramesOrPieces, severity: finding.Ask, count: 2, at: "0 0 148 210", asks: "size/frame_or_piece"},
		{name: "a frame on a roll drawn like the work", with: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate + a4}), near: drawn(dxf.Millimetres, 1, 1, layer{"CUT", plate}, layer{"PAGE", a4}),
			choices: onFilm, code: finding.FramesOrPieces, severity: finding.Ask, count: 1, at: "0 0 210 297", asks: "size/frame_or_piece"},
		{name: "several drawings in one file", with: onPage(a4+"M300 0H597V420H300Z M310 10H330V30H310Z", 1, 1), near: onPage(a4, 1, 1),
			choices: onFilm, code: finding.FramesSeveral, severity: finding.Ask, count: 2, at: "0 0 210 297", asks: "size/which_page"},
		{name: "scale of a block", with: entities(square + "INSERT 8=CUT 2=PART 10=40 20=0 41=1.5 42=1.5"),
			near: entities(square + "INSERT 8=CUT 2=PART 10=40 20=0 41=-1 42=1"), choices: onFilm,
			code: finding.NestedScale, severity: finding.Warn, count: 1, at: "40 0 40 0"},
		{name: "scale of a block is the ratio of two units", with: entities(square + "INSERT 8=CUT 2=PART 10=40 20=0 41=10 42=10"),
			near: entities(square + "INSERT 8=CUT 2=PART 10=40 20=0 41=1.5 42=1.5"), choices: onFilm,
			code: finding.InnerScale, severity: finding.Ask, count: 1, at: "40 0 240 200", asks: "size/nested_scale"},
		{name: "scale of an inner page is the ratio of two units",
			with:    sheet(`<path d="M0 0h20v20z"/><svg x="40" y="40" width="96" height="96" viewBox="0 0 25.4 25.4"><path d="M0 0h9v9z"/></svg>`),
			near:    sheet(`<path d="M0 0h20v20z"/><svg x="40" y="40" width="96" height="96" viewBox="0 0 96 96"><path d="M0 0h9v9z"/></svg>`),
			choices: onFilm, code: finding.InnerScale, severity: finding.Ask, count: 1, at: "40 106 74 140", asks: "size/nested_scale"},
	}
}

// thickLine is a plate of 60 × 40 mm, its line 0.5 mm thick.
const thickLine = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` +
	`<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.5"><path d="M10 10h60v40h-60z"/></g></svg>`

// wide returns choices of which the width of the work is given.
func wide(mm float64) plan.Choices {
	c := onFilm
	c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: mm}
	return c
}
