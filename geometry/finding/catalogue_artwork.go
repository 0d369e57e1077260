package finding

// Codes of the artwork stage.
const (
	StrayPoints    Code = "stray_points"    // lines without length
	DuplicateLines Code = "duplicate_lines" // cut twice, wholly or in part
	LooseSegments  Code = "loose_segments"  // a contour drawn as separate lines
	NearGap        Code = "near_gap"        // ends that nearly meet, joined
	TinySegments   Code = "tiny_segments"   // too short to cut

	LeftOut              Code = "left_out"              // by the convention not for the machine
	FillOutline          Code = "fill_outline"          // filled, no line: its outline is taken
	FillOnly             Code = "fill_only"             // filled, no line, colour unknown
	ColourNear           Code = "colour_near"           // close to a colour of the convention
	UnknownLine          Code = "unknown_line"          // the convention does not know it
	OperationUnsupported Code = "operation_unsupported" // not on this material
	FoldOnCut            Code = "fold_on_cut"           // a fold line lies on a cut line
	FillAndStroke        Code = "fill_and_stroke"       // filled, with a line so wide that its edge shows
	DoubledLine          Code = "doubled_line"          // a contour at a constant distance round another
	MirroredAlready      Code = "mirrored_already"      // on stock that will be mirrored
	DrawnMirrored        Code = "drawn_mirrored"        // on stock that will not
	Faceted              Code = "faceted"               // a curve drawn as straight pieces

	Gap          Code = "gap"            // ends that may be meant to meet
	Spur         Code = "spur"           // a tail past a crossing
	OpenLine     Code = "open_line"      // a cut that ends freely
	OpenOutline  Code = "open_outline"   // a cut that nearly goes round
	NothingToCut Code = "nothing_to_cut" // no stroke is left
)

var artworkEntries = map[Code]entry{
	StrayPoints: {Mended,
		"Delete the {count} stray points in your drawing. They have no length, so there is nothing to cut.",
		"{count} points or lines of length 0 left out."},
	DuplicateLines: {Mended,
		"{count} lines lie on top of other lines. Delete the copies: they would be cut twice and tear the edge.",
		"{count} lines run within {within_mm} mm of another along {double_mm} mm."},
	LooseSegments: {Mended,
		"Some outlines are made of separate lines. They meet, so we joined them in {count} places; join them in your drawing to be sure.",
		"{count} pairs of touching ends joined into longer lines."},
	NearGap: {Mended,
		"Lines stop just short of each other in {count} places, by at most {widest_mm} mm. We closed the gaps; turn on snapping to end points when you draw.",
		"{count} gaps up to {join_mm} mm closed, the widest {widest_mm} mm."},
	TinySegments: {Mended,
		"Some lines are made of very many tiny steps. We smoothed {count} of them away; simplify the path before you export it.",
		"{count} vertices next to segments under {tiny_mm} mm dropped."},

	LeftOut: {Warn,
		"{count} lines are notes or guides by the workshop's convention and will not be cut. Move them to another layer or colour if they should be.",
		"{count} lines left out by the convention."},
	FillOutline: {Warn,
		"{count} shapes are filled and have no line. We cut along the edge of the fill; give them a line and no fill to say so yourself.",
		"{count} filled outlines without stroke taken as cut lines."},
	FillOnly: {Ask,
		"{count} shapes are filled and have no line, in a colour the workshop does not use. Give them a line in the colour for cutting.",
		"{count} {what}: the convention {convention} has no rule for them."},
	ColourNear: {Ask,
		"The colour of {count} lines is nearly the workshop's {nearest} ({means}), but not quite. Set their colour to exactly {nearest}.",
		"{count} {what}: CIEDE2000 {difference} from {nearest} ({means})."},
	UnknownLine: {Ask,
		"We do not know what {count} {what} are for. Put them on a layer or in a colour that the workshop uses.",
		"{count} {what}: the convention {convention} has no rule for them."},
	OperationUnsupported: {Ask,
		"{count} lines mean \"{operation}\", which makes no sense on {stock}. Delete them, or change them to cut lines.",
		"{count} lines to {operation}: not an operation for {stock}."},
	FoldOnCut: {Ask,
		"{count} fold lines lie on cut lines. Delete the one that you do not want: the card cannot be folded where it is cut.",
		"{length_mm} mm of score or perforation coincide with cuts."},
	FillAndStroke: {Ask,
		"{count} filled shapes have a line up to {most_mm} mm wide, so they look larger than they are drawn. Give them a hairline, or no line.",
		"{count} filled outlines stroked up to {most_mm} mm wide: the path and the visible edge differ by half of that."},
	DoubledLine: {Ask,
		"{count} outlines are drawn as two lines side by side. If you turned a line into a shape, draw it as one thin line again.",
		"{count} contour pairs keep a constant distance of at most {most_mm} mm: outlined strokes, or thin rings."},
	MirroredAlready: {Ask,
		"{stock} is cut from its back and mirrored for you, and your drawing seems to be mirrored already. Draw it so that it reads rightly.",
		"{turned} of {lines} lines are placed by transforms that turn them over, and the stock's rule is to mirror."},
	DrawnMirrored: {Ask,
		"Your whole drawing is mirrored, so text would read backwards. Mirror it back, unless it is to be seen through glass.",
		"{turned} of {lines} lines are placed by transforms that turn them over; {stock} is not mirrored."},
	Faceted: {Warn,
		"{count} curves are made of straight pieces that will show as corners. Draw them as real curves, or export with finer steps.",
		"{count} lines with runs of equal chords, up to {most_mm} mm off their arc."},
	Gap: {Ask,
		"Lines stop short of each other in {count} places, by up to {most_mm} mm. Draw them so that their ends meet.",
		"{count} gaps up to {most_mm} mm."},
	Spur: {Warn,
		"{count} lines run past the line they should stop at, by up to {most_mm} mm. Trim them: the tail is cut as well.",
		"{count} tails up to {most_mm} mm past a crossing."},
	OpenLine: {Warn,
		"{count} cut lines end in the open. That is right for a slit; close the line if it should be an outline.",
		"{count} open cut lines, their ends up to {most_mm} mm apart."},
	OpenOutline: {Warn,
		"{count} outlines are not closed: their ends are up to {most_mm} mm apart. Close the path, or what is inside will not come away.",
		"{count} open outlines, ends up to {most_mm} mm apart."},
	NothingToCut: {Block,
		"There is no line left to cut or draw. Check that your lines are visible and in the colours or on the layers that the workshop uses.",
		"No stroke is left after the convention and the mends."},
}
