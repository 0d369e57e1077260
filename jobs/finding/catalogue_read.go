package finding

import "knifedesk/geometry/drawing"

// Codes of the read job, for every format: those of the notes of its readers.
const (
	LimitReached      = Code(drawing.LimitReached)
	OutOfRange        = Code(drawing.OutOfRange)
	EmptyDrawing      = Code(drawing.EmptyDrawing)
	LiveText          = Code(drawing.LiveText)
	RasterImage       = Code(drawing.RasterImage)
	PaintServerUsed   = Code(drawing.PaintServerUsed)
	EffectUsed        = Code(drawing.EffectUsed)
	DashedLine        = Code(drawing.DashedLine)
	HiddenGeometry    = Code(drawing.HiddenGeometry)
	UnpaintedGeometry = Code(drawing.UnpaintedGeometry)
	ClipPathUsed      = Code(drawing.ClipPathUsed)
	MaskUsed          = Code(drawing.MaskUsed)
	ExternalReference = Code(drawing.ExternalReference)
	MissingReference  = Code(drawing.MissingReference)
	CircularReference = Code(drawing.CircularReference)
	PathDataBroken    = Code(drawing.PathDataBroken)
	ValueUnreadable   = Code(drawing.ValueUnreadable)
	EncodingGuessed   = Code(drawing.EncodingGuessed)
	UnknownElement    = Code(drawing.UnknownElement)
	ForeignContent    = Code(drawing.ForeignContent)
	MarkerIgnored     = Code(drawing.MarkerIgnored)
	MotionIgnored     = Code(drawing.MotionIgnored)
	StyleRuleIgnored  = Code(drawing.StyleRuleIgnored)
	PercentUnresolved = Code(drawing.PercentUnresolved)
	SeveralPages      = Code(drawing.SeveralPages)
	AnnotationDrawn   = Code(drawing.AnnotationDrawn)
	ContentBroken     = Code(drawing.ContentBroken)
	StreamMended      = Code(drawing.StreamMended)
	EntityMarkup      = Code(drawing.EntityMarkup)

	// Of DXF files.
	PaperSpace       = Code(drawing.PaperSpace)
	HatchListed      = Code(drawing.HatchListed)
	DimensionListed  = Code(drawing.DimensionListed)
	PointListed      = Code(drawing.PointListed)
	EndlessLine      = Code(drawing.EndlessLine)
	SolidListed      = Code(drawing.SolidListed)
	NotFlat          = Code(drawing.NotFlat)
	NestedScale      = Code(drawing.NestedScale)
	NegativeRadius   = Code(drawing.NegativeRadius)
	UnknownEntity    = Code(drawing.UnknownEntity)
	ZeroLength       = Code(drawing.ZeroLength)
	WildBulge        = Code(drawing.WildBulge)
	SplineBroken     = Code(drawing.SplineBroken)
	CurveCoarse      = Code(drawing.CurveCoarse)
	EntityBroken     = Code(drawing.EntityBroken)
	BadNumber        = Code(drawing.BadNumber)
	DecimalComma     = Code(drawing.DecimalComma)
	BadGroupCode     = Code(drawing.BadGroupCode)
	Truncated        = Code(drawing.Truncated)
	EndMarkMissing   = Code(drawing.EndMarkMissing)
	TrashAfterEnd    = Code(drawing.TrashAfterEnd)
	CodePageDoubtful = Code(drawing.CodePageDoubtful)
)

var readEntries = map[Code]entry{
	LimitReached: {Block,
		"The file is too large to read, or has too many copies inside copies. Delete what is not to be cut, replace repeated copies by a single one, and save it again.",
		"Reading stopped at the limit of {allowed} {limit}. Later parts of the file are missing."},
	OutOfRange: {Block,
		"{count} {count:shape lies|shapes lie} more than a kilometre away or {count:has|have} no proper coordinates. Delete {count:it|them}, or move {count:it|them} onto the page.",
		"{count} {count:shape was|shapes were} left out: coordinates that are no numbers or lie beyond 1e6 mm ({names})."},
	EmptyDrawing: {Block,
		"There is nothing to cut in this file. Draw outlines, give them a line colour, and make sure that their layer is shown.",
		"No visible shape with a stroke or a fill was found."},
	LiveText: {Block,
		"Text that can still be typed in cannot be cut. Turn it into outlines (paths) before you save, then check that no letter has changed.",
		"{count} {count:text is|texts are} not outlines yet. A font that is missing here would change {count:it|them}, so no outline was made up."},
	RasterImage: {Warn,
		"A picture made of pixels cannot be cut. Trace it into outlines, or delete it.",
		"{count} pixel {count:image was|images were} left out."},
	PaintServerUsed: {Warn,
		"Only outlines are cut, in one plain colour each. Replace gradients and patterns by a plain colour.",
		"{count} {count:shape is|shapes are} painted with a gradient or pattern; its first colour stands for it ({names})."},
	EffectUsed: {Warn,
		"Effects such as shadows and blurs are not cut. Remove them, or turn them into outlines.",
		"{count} {count:shape carries|shapes carry} an effect, which was ignored ({names})."},
	DashedLine: {Warn,
		"A dashed line is read as a whole line. Draw it plain: its colour or layer says whether it is folded or perforated.",
		"{count} {count:line has|lines have} a dash pattern, which was ignored ({names})."},
	HiddenGeometry: {Warn,
		"{count} hidden {count:shape is|shapes are} not cut ({names}). Show {count:it|them} or the layer if you want {count:it|them} cut, or delete {count:it|them}.",
		"{count} hidden {count:shape was|shapes were} left out ({names})."},
	UnpaintedGeometry: {Warn,
		"Shapes that show neither a line nor a fill are not cut. Give them a line colour if you want them cut, or delete them.",
		"{count} {count:shape|shapes} that {count:shows|show} neither stroke nor fill left out ({names})."},
	ClipPathUsed: {Ask,
		"Part of a shape is hidden by a clip. Cut the shape to what should show, then release the clip.",
		"{count} {count:shape is|shapes are} cut off by a clip. The whole outline was read; only the visible part can be cut instead."},
	MaskUsed: {Ask,
		"A mask hides part of a shape. Remove the mask, or cut the shape to what should show.",
		"{count} {count:shape is|shapes are} masked. The whole outline was read ({names})."},
	ExternalReference: {Block,
		"Part of the drawing lies in another file, which did not come with it ({names}). Put that part into the drawing itself and save it again.",
		"{count} {count:reference|references} outside the file {count:was|were} not followed ({names})."},
	MissingReference: {Warn,
		"Part of the drawing is a copy of something that was deleted. Draw it again, or remove the copy.",
		"{count} {count:reference leads|references lead} nowhere ({names})."},
	CircularReference: {Block,
		"Part of the drawing contains a copy of itself ({names}). Replace the copies by plain shapes.",
		"{count} {count:reference runs|references run} in a circle and {count:was|were} not followed ({names})."},
	PathDataBroken: {Ask,
		"An outline is damaged and ends too early. Draw it again, or save the file again from the program you drew it in.",
		"{count} {count:outline was|outlines were} read up to a fault in the data ({names})."},
	ValueUnreadable: {Ask,
		"A size or a transform in the file cannot be read. Ungroup the marked shapes, or save the file again as plain SVG.",
		"{count} {count:value was|values were} ignored, so shapes may be misplaced ({names})."},
	EncodingGuessed: {Warn,
		"Names of layers may look wrong. Save the file in UTF-8.",
		"The text is not in its declared encoding and was read as windows-1252."},
	UnknownElement: {Warn,
		"Part of the drawing is of a kind that we do not know. Turn it into plain outlines.",
		"{count} {count:element is|elements are} not part of the format and {count:was|were} left out ({names})."},
	ForeignContent: {Warn,
		"Text boxes with flowing text and the like cannot be cut. Turn them into outlines.",
		"{count} {count:block|blocks} of foreign content left out."},
	MarkerIgnored: {Warn,
		"Arrow heads on lines are not cut. If you want them, turn the line into outlines.",
		"{count} {count:line carries|lines carry} markers, which were left out ({names})."},
	MotionIgnored: {Warn,
		"Animations and scripts do not run here: the drawing is read as it stands still. Remove them.",
		"Not run: {names}."},
	StyleRuleIgnored: {Warn,
		"Some colours may be read wrongly. Save the file with the styles written on each shape.",
		"{count} style {count:rule has a selector that is|rules have selectors that are} not read ({names})."},
	PercentUnresolved: {Ask,
		"The file has no page size. Give the page a width and a height, then save it again.",
		"Lengths in percent stand in a file without a page size; a page of 300 by 150 pixels was taken."},
	SeveralPages: {Ask,
		"The file has several pages, and one is cut at a time. Say which page, or save that page alone.",
		"The first of {pages} pages was read. Ask for another by its number."},
	AnnotationDrawn: {Ask,
		"There are comments, stamps or form fields on the page. Delete them, unless they are to be cut.",
		"{count} {count:annotation was|annotations were} read as part of the drawing ({names})."},
	ContentBroken: {Block,
		"Part of the file is damaged. Save it again from the program you drew it in.",
		"{count} {count:part|parts} could not be unpacked to the end and {count:was|were} read as far as possible ({names})."},
	StreamMended: {Mended,
		"The file states wrong lengths for parts of itself; they were read to their ends. Look whether the picture of your drawing is whole.",
		"{count} {count:stream states|streams state} a wrong length and {count:was|were} read up to the end mark ({names})."},
	EntityMarkup: {Block,
		"The file is put together from text blocks that are not read. Save it again as plain SVG.",
		"Entities that hold markup were not expanded into elements ({names})."},
	PaperSpace: {Warn,
		"Only the drawing itself is cut, not the print layout. Move what you want cut into the model view.",
		"{count} {count:shape|shapes} on the print layout left out."},
	HatchListed: {Ask,
		"Filled and hatched areas are not cut. Draw the edge of each area as a line, then delete the fill.",
		"{count} filled {count:area was|areas were} left out ({names}). The {count:edge|edges} may be drawn as lines too."},
	DimensionListed: {Warn,
		"Measures and notes are not cut. Delete them, or keep them on a layer that is switched off.",
		"{count} {count:measure, leader or table was|measures, leaders or tables were} left out ({names})."},
	PointListed: {Mended,
		"Single points are not cut. Delete them.",
		"{count} {count:point was|points were} left out."},
	EndlessLine: {Warn,
		"Construction lines without ends are not cut. Delete them, or trim them to a length.",
		"{count} endless {count:line was|lines were} left out ({names})."},
	SolidListed: {Warn,
		"Parts drawn in space cannot be cut from a sheet. Draw their outline flat, as seen from above.",
		"{count} {count:face, mesh or body was|faces, meshes or bodies were} left out ({names})."},
	NotFlat: {Warn,
		"Some lines rise out of the plane and look shorter from above. Flatten the drawing (all heights 0) and check its size.",
		"{count} {count:shape is not flat and was|shapes are not flat and were} read as seen from above ({names})."},
	NestedScale: {Warn,
		"{count} {count:block is|blocks are} placed larger or smaller than drawn ({names}). Check the size, then explode the {count:block|blocks} or draw {count:it|them} again at true size.",
		"{count} {count:block is|blocks are} scaled where placed ({names})."},
	NegativeRadius: {Warn,
		"A circle or arc has a negative radius. Look at the marked place, and draw it again if it is wrong.",
		"{count} {count:circle or arc|circles or arcs} with a negative radius drawn with its amount."},
	UnknownEntity: {Warn,
		"Part of the drawing is of a kind that is not read. Explode it, or turn it into plain lines.",
		"{count} {count:entity of a kind that is not read was|entities of kinds that are not read were} left out ({names})."},
	ZeroLength: {Mended,
		"Your drawing has lines without length or circles without a radius. Delete them.",
		"{count} {count:shape|shapes} without length left out ({names})."},
	WildBulge: {Warn,
		"An arc between two corners is almost a full circle. Look at the marked place, and draw it again if it is wrong.",
		"{count} {count:arc has|arcs have} a bulge above 1000, within a quarter degree of a full circle; drawn as {count:it stands|they stand}."},
	SplineBroken: {Block,
		"A curve is damaged. Draw it again, or turn it into a polyline and save again.",
		"{count} {count:spline was|splines were} left out: degree, knots, weights and points do not fit together."},
	CurveCoarse: {Warn,
		"A curve has a kink or very uneven weights. Look at the marked place, and draw it again if it looks wrong.",
		"{count} {count:spline is|splines are} followed less closely than 1e-7 of the size."},
	EntityBroken: {Block,
		"Part of the file is damaged. Save it again from the program you drew it in.",
		"{count} {count:shape was|shapes were} left out because a part is missing ({names})."},
	BadNumber: {Block,
		"{count} {count:shape has|shapes have} positions that are no proper numbers. Delete {count:it|them} or draw {count:it|them} again, then save again.",
		"{count} {count:shape was|shapes were} left out because a value is no number or beyond 1e13 ({names})."},
	DecimalComma: {Warn,
		"The file writes numbers with a comma. Save it with decimal points, and check one length.",
		"{count} {count:number|numbers} with a comma read as {count:a decimal|decimals}. Check one known length."},
	BadGroupCode: {Warn,
		"The file is damaged in places. Save it again from the program you drew it in, and check that nothing is missing.",
		"Codes and values fell out of step {count} {count:time|times}; reading went on at the next entity."},
	Truncated: {Block,
		"The file ends too early, so part of your drawing is missing. Save it or send it again.",
		"The file is cut off. What came before was read."},
	EndMarkMissing: {Mended,
		"The file lacks its last line. Nothing of your drawing is missing; save it again to be sure.",
		"The end mark is missing; all sections are closed."},
	TrashAfterEnd: {Mended,
		"There is other text behind the end of the drawing. Save it again to be sure.",
		"Text behind the end mark was ignored."},
	CodePageDoubtful: {Mended,
		"Names of layers may look wrong. Save the file in a newer version.",
		"Names are in UTF-8 though the file declares another code page ({names}); they were read as UTF-8."},
}
