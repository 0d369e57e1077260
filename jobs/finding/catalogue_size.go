package finding

// Codes of the size job.
const (
	NothingDrawn       Code = "nothing_drawn"        // no line that could be measured
	SizeUnitMended     Code = "size_unit_mended"     // a unit was taken for another
	SizeRescaled       Code = "size_rescaled"        // a factor without a name, declared or given
	SizeUnnamedFactor  Code = "size_unnamed_factor"  // the frame fits by its shape, the factor has no name
	SizeAmbiguous      Code = "size_ambiguous"       // several sizes explain the frame
	SizeNoEvidence     Code = "size_no_evidence"     // no frame, no stated unit
	SizeOtherUnit      Code = "size_other_unit"      // plates are drawn to measure in another unit than the file's
	SizeDimensions     Code = "size_dimensions"      // the dimensions say another size than the file
	SizeOffStock       Code = "size_off_stock"       // the likeliest size is not plausible or not on the stock
	DrawingTooLarge    Code = "drawing_too_large"    // wider or higher than anything that is cut
	SizeUnitDisagrees  Code = "size_unit_disagrees"  // the file's stated unit against the frame
	SizeGivenDisagrees Code = "size_given_disagrees" // what the caller gave against the frame
	SizeGivenApart     Code = "size_given_apart"     // the frame that the caller gave against what else it gave
	SizeGivenWithLine  Code = "size_given_with_line" // the length that the caller gave counts the thickness of the line
	SizeByHeaderAlone  Code = "size_by_header_alone" // nothing proves the file's stated unit
	FrameNotFound      Code = "frame_not_found"      // one was declared, none is drawn
	FrameInexact       Code = "frame_inexact"        // near a size by a named cause, not within 0.05 mm
	FrameStretched     Code = "frame_stretched"      // the axes disagree
	FrameOffShape      Code = "frame_off_shape"      // the axes disagree, and no circle tells why
	FrameUnstretched   Code = "frame_unstretched"    // the axes were set right one by one
	FrameInPage        Code = "frame_in_page"        // a size by another unit only, and it does not fill the page
	FrameOtherUnit     Code = "frame_other_unit"     // a paper's size only by another unit than the file's
	FramesSeveral      Code = "frames_several"       // several drawings in one file
	FrameEdited        Code = "frame_edited"         // a side is missing, a corner is off
	FrameTurned        Code = "frame_turned"         // not parallel to the page
	FrameLoose         Code = "frame_loose"          // drawn as loose lines
	FrameDoubled       Code = "frame_doubled"        // drawn more than once
	FrameOffPage       Code = "frame_off_page"       // beside the page
	FrameOverhang      Code = "frame_overhang"       // artwork sticks out of it
	FrameBeside        Code = "frame_beside"         // artwork lies beside it, apart from the rest
	FrameBorder        Code = "frame_border"         // a line of another look lies on it
	FramesOrPieces     Code = "frames_or_pieces"     // rectangles that may be edges of pieces
	InnerScale         Code = "inner_scale"          // parts are placed at the ratio of two units
	FrameTakenOut      Code = "frame_taken_out"      // it is not cut
)

var sizeEntries = map[Code]entry{
	NothingDrawn: {Block,
		"Nothing is drawn that can be cut. Draw lines or outlines and send the file again.",
		"No path with a length was read. Check layers that are off or frozen."},
	SizeUnitMended: {Mended,
		"Your drawing came in the wrong size ({cause}). It is taken {taken}: your work is {work}. Check one length, and set the right unit when you export.",
		"Factor {factor} on the file's reading in {unit}: {cause}. Evidence: {evidence}."},
	SizeRescaled: {Mended,
		"Your drawing came in the wrong size. It is taken {taken}: your work is {work}. Check one length, and export at 100 %, without fitting to the page.",
		"Factor {factor} on the file's reading in {unit}, no known cause; it rests on {evidence}."},
	SizeUnnamedFactor: {Ask,
		"The rectangle round your drawing has the shape of a paper but no paper's size. Say how wide your drawing truly is, or export it again at 100 %.",
		"The frame measures {sides} as drawn. Its shape fits a named size, its factor has no known cause."},
	SizeAmbiguous: {Ask,
		"The frame can be read as more than one paper size. Say how wide your drawing truly is, or set the unit when you export.",
		"The frame measures {sides} as drawn. Several named sizes explain it by a known cause."},
	SizeNoEvidence: {Ask,
		"Nothing in the drawing says how large it is. Say one true length, or draw a frame of your paper size round it.",
		"No frame, no stated unit. As drawn it is {extent}; one known length settles it."},
	SizeOtherUnit: {Ask,
		"The rectangles in your drawing have whole millimetres only if its numbers are not in the unit of the file. Say how large your work is, and set the unit when you export.",
		"As drawn it is {extent}. No large rectangle has round measures as the file reads; all have whole millimetres if its numbers are in another unit."},
	SizeDimensions: {Ask,
		"In your drawing {cause}. Say how large your work is, and draw it at its true size next time.",
		"No dimension says what is drawn: {cause}. Their text was typed, or they count by a scale of their own."},
	SizeOffStock: {Ask,
		"At the size that the file gives, your drawing does not fit the stock or is far too small. Say how wide it truly is, or set the unit when you export.",
		"The best reading is not plausible or not on the stock. As drawn it is {extent}."},
	DrawingTooLarge: {Block,
		"At true size your drawing is {width_m} m wide and {height_m} m high. Delete lines that lie far away from the rest, or set the right unit when you export.",
		"{width_m} × {height_m} m; up to {most_m} m can be planned. A stray line far off, or a wrong unit or scale, looks like this."},
	SizeUnitDisagrees: {Ask,
		"In the unit of your file ({unit}) the rectangle round your drawing is {side_a} × {side_b} mm, which is not the size of its paper. If you draw in another unit, set that unit before you export.",
		"By its header ({source}) the file reads in {unit}; the frame would be {side_a} × {side_b} mm."},
	SizeGivenDisagrees: {Warn,
		"The size you gave is used, but it does not agree with the frame in the drawing. Check the length, unit or scale that you gave.",
		"As given the frame is {side_a} × {side_b} mm; it would be {frame} by {cause}. What was given was used."},
	SizeGivenApart: {Ask,
		"You said that the frame is {declared}, and gave a length, a unit or a scale that makes it another size. Say how large your work is, and look at what you gave.",
		"The frame, {sides} as drawn, is {declared} by one word of the caller and {side_a} × {side_b} mm by the other."},
	SizeGivenWithLine: {Warn,
		"The {what} that you gave, {given} mm, seems to count the thickness of the line, {line} mm. It is cut along the middle of the line. If your work is right in the file, give the {what} as {own} mm.",
		"As the file reads the {what} is {own} mm, and {given} mm were given: more by just the thickness of a line, {line} mm. What was given was used."},
	SizeByHeaderAlone: {Warn,
		"Your drawing is taken to be {extent}, because the file says so. Check it. A frame of your paper size round the drawing would prove it.",
		"No frame. The size rests on the file's own statement alone ({source}): {extent}."},
	FrameNotFound: {Ask,
		"No frame was found in your drawing. Draw one rectangle of the paper size round everything, or say how wide the drawing truly is.",
		"Declared {declared}, but no rectangle of that shape holds the artwork."},
	FrameInexact: {Ask,
		"The rectangle round your drawing is nearly, but not exactly, a paper size. If it is your frame, draw it to exact measures, or say how wide the drawing truly is.",
		"The frame measures {sides} as drawn, which is no named size to within 0.05 mm."},
	FrameInPage: {Ask,
		"The rectangle round your drawing would be a paper size in another unit, but it does not fill the page of the file. Say how wide your drawing truly is, or that the rectangle is part of your work.",
		"The rectangle, {sides} as drawn, would be {frame}: {cause}. It is much smaller than the page, so it may be a piece on it."},
	FrameOtherUnit: {Ask,
		"The rectangle round your drawing has a paper's size only if its numbers are not in the unit of the file. Say how large your work is, and set the unit when you export.",
		"The rectangle, {sides} as drawn, would be {frame}: {cause}. As the file reads it could be a piece."},
	FramesSeveral: {Ask,
		"Your file holds several drawings, each in a frame of its own. Say which one is meant, or all of them.",
		"Frames side by side with work in each: {count}."},
	FrameStretched: {Block,
		"Your drawing was stretched one way, so that circles are no longer round. Export it again with width and height locked together.",
		"The axes of the frame, {sides} as drawn, disagree by {percent} % if it is {frame}. A mend axis by axis is offered."},
	FrameOffShape: {Ask,
		"The rectangle round your drawing does not quite have the shape of {frame}. Say whether only the frame was changed or the whole drawing was stretched. If the rectangle is part of your work, say so.",
		"The rectangle, {sides} as drawn, would need factors {percent} % apart to be {frame}. No circle is large enough to tell a stretch from an edited frame or a piece of that size."},
	FrameUnstretched: {Mended,
		"Your drawing was stretched one way. Export it with width and height locked together.",
		"Factors {factor} and {factor_y} along the sides of the frame, chosen by a person."},
	FrameEdited: {Ask,
		"The rectangle round your drawing is no sound frame: a side is missing, a corner is off, or a side has another length than paper has. Draw it again, or say how wide the drawing truly is. If the rectangle is part of your work, say so.",
		"The frame, {sides} as drawn, is no sound rectangle of a named size. One known length settles it."},
	FrameTurned: {Mended,
		"The frame lies {turn}° askew, so it was measured along its own sides. You need not change anything.",
		"Frame turned by {turn}°, measured along its own sides."},
	FrameLoose: {Mended,
		"The frame is drawn as four loose lines. It was measured all the same; draw it as one rectangle next time.",
		"Frame of loose lines; its corners are where the lines meet."},
	FrameDoubled: {Mended,
		"The frame is drawn more than once. Delete the copies in your drawing.",
		"{copies} further {copies:line|lines} of the same layer and colour {copies:lies|lie} on the frame."},
	FrameOffPage: {Mended,
		"The frame lies beside the page. It was measured all the same; move the drawing onto the page.",
		"The frame lies outside the page box and was used all the same."},
	FrameOverhang: {Warn,
		"{count} {count:line sticks|lines stick} out of the frame. Move {count:it|them} inside, or check that the sheet is large enough.",
		"{count} {count:path reaches|paths reach} beyond the frame. The size is measured on the frame itself, so it is not affected."},
	FrameBeside: {Ask,
		"{count} {count:line lies|lines lie} beside the frame, {away} away from it. Say whether {count:it is|they are} cut, or delete {count:it|them} in your drawing.",
		"{count} {count:path lies|paths lie} wholly {where} the frame, behind a gap of {away}."},
	FrameBorder: {Ask,
		"A line on layer {layer} lies exactly on the frame. Say whether it has to be cut, or move it off the frame.",
		"{count} {count:path|paths} on layer {layer} coincide{count:s|} with the frame but {count:differs|differ} from it in layer or colour."},
	FramesOrPieces: {Ask,
		"{count} {count:rectangle|rectangles} of {size} {count:lies|lie} round work in your drawing. Say whether {count:it is a page frame or an edge|they are page frames or edges} to be cut.",
		"{count} {count:rectangle|rectangles} of {size} {count:holds|hold} work, on no frame layer and of no declared size."},
	InnerScale: {Ask,
		"{count} {count:part|parts} of your drawing {count:is|are} placed larger or smaller than {count:it was|they were} drawn, as when mm and inches are mixed up. Check one length, and draw {count:it|them} again if it is wrong.",
		"{count} {count:path sits|paths sit} in blocks or view boxes scaled by {scale} against the rest."},
	FrameTakenOut: {Mended,
		"The rectangle round your drawing is taken for the frame that only carries its size. If it is an edge of your piece, say that the drawing has no frame.",
		"The rectangle of {side_a} × {side_b} mm is the frame. If it has to be cut, give the frame as none."},
}
