package finding

// Codes of the artwork job.
const (
	StrayPoints    Code = "stray_points"    // lines without length
	DuplicateLines Code = "duplicate_lines" // cut twice, wholly or in part
	LooseSegments  Code = "loose_segments"  // a contour drawn as separate lines
	NearGap        Code = "near_gap"        // ends that nearly meet, joined
	TinySegments   Code = "tiny_segments"   // too short to cut
	FacetedCurves  Code = "faceted_curves"  // short chords of curves, drawn as arcs

	LengthKept           Code = "given_length_kept"     // what is made has the length that was given
	LeftOut              Code = "left_out"              // by the convention not for the machine
	LockedLayer          Code = "locked_layer"          // on a layer that whoever drew has locked
	FillOutline          Code = "fill_outline"          // filled, no line: its outline is taken
	FillOnly             Code = "fill_only"             // filled, no line, colour unknown
	ColourNear           Code = "colour_near"           // close to a colour of the convention
	UnknownLine          Code = "unknown_line"          // the convention does not know it
	OperationUnsupported Code = "operation_unsupported" // not on this material
	FoldOnCut            Code = "fold_on_cut"           // a fold line lies on a cut line
	FoldSides            Code = "fold_sides"            // folds that may go up or down
	FoldsOverScore       Code = "folds_over_score"      // folds that close over the side that is scored
	FillAndStroke        Code = "fill_and_stroke"       // filled, with a line so wide that its edge shows
	WideLine             Code = "wide_line"             // not filled, and so wide that it looks like a band
	DoubledLine          Code = "doubled_line"          // a contour at a constant distance round another
	MirroredAlready      Code = "mirrored_already"      // on stock that will be mirrored
	DrawnMirrored        Code = "drawn_mirrored"        // on stock that will not
	Faceted              Code = "faceted"               // a curve drawn as straight pieces
	SlowCurves           Code = "slow_curves"           // likewise, too fine to show

	Gap          Code = "gap"            // ends that may be meant to meet
	Spur         Code = "spur"           // a tail past a crossing
	OpenLine     Code = "open_line"      // a cut that ends freely
	OpenOutline  Code = "open_outline"   // a cut that nearly goes round
	NothingToCut Code = "nothing_to_cut" // no stroke is left
	TooDense     Code = "too_dense"      // the lines ask for more work than is allowed
)

var artworkEntries = map[Code]entry{
	StrayPoints: {Mended,
		"Your drawing has {count} stray {count:point|points}. Delete {count:it|them}: there is nothing to cut where there is no length.",
		"{count} {count:point or line|points or lines} of length 0."},
	DuplicateLines: {Mended,
		"{count} {count:line lies on top of another line|lines lie on top of other lines}. Delete the {count:copy|copies}: an edge that is cut twice tears.",
		"{count} {count:line runs|lines run} within {within_mm} mm of another, {double_mm} mm in all, and {count:is|are} cut once."},
	LooseSegments: {Mended,
		"Some outlines are drawn as separate lines that touch in {count} {count:place|places}. They are cut in one go all the same; join the lines in your drawing, so that they stay together when you move them.",
		"{count} {count:pair|pairs} of ends touch and can be run without lifting the knife."},
	NearGap: {Mended,
		"Lines stop just short of each other in {count} {count:place|places}, by at most {widest_mm} mm. Turn on snapping to end points when you draw, so that the ends meet.",
		"{count} {count:gap|gaps} of up to {join_mm} mm, the widest {widest_mm} mm."},
	TinySegments: {Mended,
		"{count} {count:step in your lines is|steps in your lines are} too tiny to cut and {count:was|were} smoothed out. Simplify the lines before you export them.",
		"{count} {count:vertex stands|vertices stand} next to segments under {tiny_mm} mm."},
	FacetedCurves: {Mended,
		"{count} {count:curve was|curves were} drawn as short straight pieces and {count:is|are} cut as {count:a curve|curves}. Nothing moves by more than {within_mm} mm.",
		"{count} {count:run|runs} of chords within {within_mm} mm of arcs {count:is|are} drawn as arcs."},

	LengthKept: {Mended,
		"You gave the {of} of your work as {given_mm} mm, but lines that are not cut were measured too: what is cut would have been {was_mm} mm. All of it was {change}, so that what is cut has the {of} that you gave.",
		"The {of} of what is made, after rules and answers, was {was_mm} mm; given were {given_mm} mm. The artwork is {change} against the size."},
	LeftOut: {Warn,
		"{count} {count:line is a note or guide|lines are notes or guides} by the workshop's rules and will not be cut. If you want {count:it|them} cut, use the layer or colour for cutting.",
		"{count} {count:line|lines} left out by the convention."},
	LockedLayer: {Ask,
		"{count} {count:line is|lines are} on a locked layer ({names}). Unlock the layer if it is to be cut; hide or delete it if not.",
		"{count} {count:line|lines} on locked layers ({names}): a locked layer shows, but is kept from being worked on."},
	FillOutline: {Warn,
		"{count} {count:shape is filled and has|shapes are filled and have} no line, so the edge of the fill is cut. To say so yourself, give {count:it|them} a line and no fill.",
		"{count} filled {count:outline without a line, taken as a cut line|outlines without a line, taken as cut lines}."},
	FillOnly: {Ask,
		"{count} {count:shape is|shapes are} filled with a colour that the workshop does not use, and {count:has|have} no line. Give {count:it a line|them lines} in the colour for cutting.",
		"{count} {what}: the convention of {convention} has no rule for {count:it|them}."},
	ColourNear: {Ask,
		"{count} {what} {count:has|have} nearly the workshop's colour {nearest} ({means}), but not quite. Set the colour to exactly {nearest}.",
		"{count} {what}: {difference} (CIEDE2000) away from {nearest} ({means})."},
	UnknownLine: {Ask,
		"We do not know what {count} {what} {count:is|are} for. Put {count:it|them} on a layer or in a colour that the workshop uses.",
		"{count} {what}: the convention of {convention} has no rule for {count:it|them}."},
	OperationUnsupported: {Ask,
		"{count} {count:line is|lines are} there to {operation}, which cannot be done on {stock}. Delete {count:it, or change it to a cut line|them, or change them to cut lines}.",
		"{count} {count:line|lines} to {operation}: not an operation for {stock}."},
	FoldOnCut: {Ask,
		"{count} fold {count:line lies on a cut line|lines lie on cut lines}. Delete the one that you do not want: where the card is cut there is nothing to fold.",
		"{length_mm} mm of score or perforation lie on cuts."},
	FoldSides: {Ask,
		"Some folds may go the other way than the rest, and the drawing does not say which. Draw folds that stand up and folds that lie in on two layers, as your workshop names them, or answer the question.",
		"{count} {count:score has|scores have} no side by the convention of {convention}, while others, or names of layers, tell mountain and valley folds apart."},
	FoldsOverScore: {Warn,
		"{count} {count:fold closes|folds close} over the side that the knife scores, and the card would crack there: {advice}.",
		"{over_mm} mm of {kind} folds are scored on {side}, which lies up, and {others}. A knife score has to lie on the outside of its fold (common practice, no source): {advice}."},
	FillAndStroke: {Ask,
		"{count} filled {count:shape has|shapes have} a line up to {most_mm} mm wide, so {count:it looks|they look} larger than drawn. Give {count:it|them} the thinnest line that there is, or none.",
		"{count} filled {count:outline has|outlines have} a line up to {most_mm} mm wide: its middle and its visible edge lie half of that apart."},
	WideLine: {Warn,
		"{count} {count:line is|lines are} drawn up to {most_mm} mm wide, but a line is cut once, along its middle. If you want the band that you see, turn {count:the line into an outline|the lines into outlines}; if not, make {count:it|them} thin.",
		"{count} cut {count:line|lines} without a fill, the widest drawn {most_mm} mm wide; the knife runs along the middle."},
	DoubledLine: {Ask,
		"{count} {count:outline is|outlines are} drawn as two lines side by side. If that was meant as one line, draw it as one thin line.",
		"{count} {count:pair of outlines keeps|pairs of outlines keep} a constant distance of at most {most_mm} mm: a line turned into its two edges, or a thin ring."},
	MirroredAlready: {Ask,
		"{stock} is mirrored for you before it is cut, and your drawing seems to be mirrored already. Draw it the way it should read.",
		"{turned} of {lines} {lines:line|lines} {turned:is|are} turned over by the drawing itself, and {stock} is mirrored by its rule."},
	DrawnMirrored: {Ask,
		"Your whole drawing is mirrored, so text would read backwards. Mirror it back, unless it is to be seen through glass.",
		"{turned} of {lines} {lines:line|lines} {turned:is|are} turned over by the drawing itself; {stock} is not mirrored."},
	Faceted: {Warn,
		"{count} {count:curve is|curves are} made of straight pieces, which will show as corners. Draw {count:it as a real curve|them as real curves}, or export with finer steps.",
		"{count} {count:line has|lines have} runs of equal straight pieces, up to {most_mm} mm off the arc through them."},
	SlowCurves: {Warn,
		"{count} {count:curve is|curves are} made of short straight pieces, and the knife slows down at the end of each. Export curves as curves, or set the steps of the export to 0.005 mm, and the work takes less time.",
		"{count} {count:line has|lines have} runs of equal straight pieces up to {most_mm} mm off the arc through them: too far to be drawn as arcs within 0.005 mm, too near to show."},
	Gap: {Ask,
		"Lines stop short of each other in {count} {count:place|places}, by up to {most_mm} mm. Draw them so that their ends meet.",
		"{count} {count:gap|gaps} of up to {most_mm} mm between ends: joined by straight lines, or left open, as is answered."},
	Spur: {Warn,
		"{count} {count:line runs|lines run} up to {most_mm} mm past the line where {count:it|they} should end. Trim {count:it|them}: the tail is cut as well.",
		"{count} {count:tail runs|tails run} up to {most_mm} mm past a crossing, and {count:is|are} cut as drawn."},
	OpenLine: {Warn,
		"{count} cut {count:line ends|lines end} in the open. That is right for a slit; if {count:it|one} should be an outline, close the path.",
		"{count} open cut {count:line, its ends|lines, their ends} up to {most_mm} mm apart: slits or tabs, or outlines that do not close."},
	OpenOutline: {Warn,
		"{count} {count:outline is|outlines are} not closed: the ends are up to {most_mm} mm apart. Close the {count:path|paths}, or what is inside will not come away.",
		"{count} open {count:outline|outlines}, the ends up to {most_mm} mm apart, where what lies inside should come away."},
	NothingToCut: {Block,
		"No line is left to cut or draw. Check that your lines are visible and in the colours or on the layers that the workshop uses.",
		"Nothing is left to run after the convention, the answers and the mends."},
	TooDense: {Block,
		"Your drawing has too many {what}, most of them in the marked place. Delete copies and hatching there, or draw it with fewer and simpler lines.",
		"Mending stopped at the limit of {allowed} {what}; most of them lie in the marked place."},
}
