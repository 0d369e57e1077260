package finding

import "knifedesk/geometry/drawing"

// Codes of the read job, for every format: those of the notes of its readers.
const (
	LimitReached           = Code(drawing.LimitReached)
	OutOfRange             = Code(drawing.OutOfRange)
	EmptyDrawing           = Code(drawing.EmptyDrawing)
	LiveText               = Code(drawing.LiveText)
	NotesLeftOut      Code = "notes_left_out" // text and filled areas where nothing is cut
	RasterImage            = Code(drawing.RasterImage)
	PaintServerUsed        = Code(drawing.PaintServerUsed)
	EffectUsed             = Code(drawing.EffectUsed)
	DashedLine             = Code(drawing.DashedLine)
	HiddenGeometry         = Code(drawing.HiddenGeometry)
	UnpaintedGeometry      = Code(drawing.UnpaintedGeometry)
	ClipPathUsed           = Code(drawing.ClipPathUsed)
	MaskUsed               = Code(drawing.MaskUsed)
	ExternalReference      = Code(drawing.ExternalReference)
	MissingReference       = Code(drawing.MissingReference)
	CircularReference      = Code(drawing.CircularReference)
	PathDataBroken         = Code(drawing.PathDataBroken)
	ValueUnreadable        = Code(drawing.ValueUnreadable)
	EncodingGuessed        = Code(drawing.EncodingGuessed)
	UnknownElement         = Code(drawing.UnknownElement)
	ForeignContent         = Code(drawing.ForeignContent)
	MarkerIgnored          = Code(drawing.MarkerIgnored)
	MotionIgnored          = Code(drawing.MotionIgnored)
	StyleRuleIgnored       = Code(drawing.StyleRuleIgnored)
	PercentUnresolved      = Code(drawing.PercentUnresolved)
	SeveralPages           = Code(drawing.SeveralPages)
	AnnotationDrawn        = Code(drawing.AnnotationDrawn)
	ContentBroken          = Code(drawing.ContentBroken)
	StreamMended           = Code(drawing.StreamMended)
	EntityMarkup           = Code(drawing.EntityMarkup)

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
		"{count} {count:text|texts} in your drawing can still be typed in and cannot be cut like that. Turn {count:it|them} into outlines (paths) before you save, then check that no letter has changed.",
		"{count} {count:text is|texts are} not outlines yet. A font that is missing here would change {count:it|them}, so no outline was made up."},
	NotesLeftOut: {Warn,
		"{what} on a layer where nothing is cut ({layers}) {count:is|are} left out. If you want {count:it|them} cut, turn {count:it|them} into outlines on the layer for cutting.",
		"{what} left out without outlines: by the convention nothing on {layers} is cut or drawn."},
	RasterImage: {Warn,
		"{count} {count:picture|pictures} in your drawing {count:is|are} made of pixels and cannot be cut. Trace {count:it|them} into outlines, or delete {count:it|them}.",
		"{count} pixel {count:image was|images were} left out."},
	PaintServerUsed: {Warn,
		"{count} {count:shape is|shapes are} coloured with a gradient or a pattern, but only edges in one plain colour are cut. Give {count:it|them} a plain colour.",
		"{count} {count:shape is|shapes are} painted with a gradient or pattern; its first colour stands for it ({names})."},
	EffectUsed: {Warn,
		"{count} {count:shape has|shapes have} a shadow, a blur or another effect, which is not cut. Remove the effect, or draw its edge as an outline.",
		"{count} {count:shape carries|shapes carry} an effect, which was ignored ({names})."},
	DashedLine: {Warn,
		"{count} dashed {count:line is|lines are} read as {count:a whole line|whole lines}. Draw {count:it|them} plain: the colour or the layer says whether a line is folded or perforated.",
		"{count} {count:line has|lines have} a dash pattern, which was ignored ({names})."},
	HiddenGeometry: {Warn,
		"{count} hidden {count:shape is|shapes are} not cut ({names}). Show {count:it|them} or the layer if you want {count:it|them} cut, or delete {count:it|them}.",
		"{count} hidden {count:shape was|shapes were} left out ({names})."},
	UnpaintedGeometry: {Warn,
		"{count} {count:shape shows|shapes show} neither a line nor a fill and {count:is|are} not cut. Give {count:it|them} a line colour if you want {count:it|them} cut, or delete {count:it|them}.",
		"{count} {count:shape|shapes} with neither line nor fill left out ({names})."},
	ClipPathUsed: {Ask,
		"{count} {count:shape is|shapes are} partly hidden by a clip (a shape that lets only a part of others show). Trim {count:it|them} to what should show, then release the clip.",
		"{count} {count:shape is|shapes are} cut off by a clip. The whole outline was read; only the visible part can be cut instead."},
	MaskUsed: {Ask,
		"{count} {count:shape is|shapes are} partly hidden by a mask. Remove the mask, or trim {count:it|them} to what should show.",
		"{count} {count:shape is|shapes are} masked. The whole outline was read ({names})."},
	ExternalReference: {Block,
		"Part of the drawing lies in another file, which did not come with it ({names}). Put that part into the drawing itself and save it again.",
		"{count} {count:reference|references} outside the file {count:was|were} not followed ({names})."},
	MissingReference: {Warn,
		"In {count} {count:place|places} your drawing shows a copy of something that was deleted. Draw it again there, or remove the copy.",
		"{count} {count:reference leads|references lead} nowhere ({names})."},
	CircularReference: {Block,
		"Part of the drawing contains a copy of itself ({names}). Replace the copies by plain shapes.",
		"{count} {count:reference runs|references run} in a circle and {count:was|were} not followed ({names})."},
	PathDataBroken: {Ask,
		"{count} {count:outline is damaged and ends|outlines are damaged and end} too early. Draw {count:it|them} again, or save the file again from the program you drew it in.",
		"{count} {count:outline was|outlines were} read up to a fault in the data ({names})."},
	ValueUnreadable: {Ask,
		"{count} {count:size or position in the file|sizes or positions in the file} cannot be read, so something may lie in the wrong place. Ungroup the marked shapes, or save the file again as plain SVG.",
		"{count} {count:value was|values were} ignored, so shapes may be misplaced ({names})."},
	EncodingGuessed: {Warn,
		"Names of layers may look wrong, because the letters of the file are written in an old way. Save the file again with the encoding UTF-8.",
		"The text is not in its declared encoding and was read as windows-1252."},
	UnknownElement: {Warn,
		"{count} {count:part|parts} of your drawing {count:is|are} of a kind that we do not know ({names}) and {count:was|were} left out. Turn {count:it|them} into plain outlines.",
		"{count} {count:element is|elements are} not part of the format and {count:was|were} left out ({names})."},
	ForeignContent: {Warn,
		"{count} {count:box|boxes} of flowing text or the like cannot be cut. Turn {count:it|them} into outlines.",
		"{count} {count:block|blocks} that the format does not draw itself (foreign content) left out."},
	MarkerIgnored: {Warn,
		"Arrow heads or other end marks of {count} {count:line|lines} are not cut. If you want them, turn {count:the line|the lines} into outlines.",
		"{count} {count:line carries|lines carry} markers, which were left out ({names})."},
	MotionIgnored: {Warn,
		"Animations and scripts do not run here: the drawing is read as it stands still. Remove them.",
		"Not run: {names}."},
	StyleRuleIgnored: {Warn,
		"Some colours may be read wrongly, because the file keeps them in a style sheet. Save it again with the colours written on each shape.",
		"{count} style {count:rule has a selector that is|rules have selectors that are} not read ({names})."},
	PercentUnresolved: {Ask,
		"The file has no page size. Give the page a width and a height, then save it again.",
		"Lengths in percent stand in a file without a page size; a page of 300 by 150 pixels was taken."},
	SeveralPages: {Ask,
		"The file has several pages, and one is cut at a time. Say which page, or save that page alone.",
		"The first of {pages} pages was read. Ask for another by its number."},
	AnnotationDrawn: {Ask,
		"{count} {count:comment, stamp or form field lies|comments, stamps or form fields lie} on the page. Delete {count:it|them}, unless {count:it is|they are} to be cut.",
		"{count} {count:annotation was|annotations were} read as part of the drawing ({names})."},
	ContentBroken: {Block,
		"{count} {count:part|parts} of the file {count:is|are} damaged. Save it again from the program you drew it in.",
		"{count} {count:part|parts} could not be unpacked to the end and {count:was|were} read as far as possible ({names})."},
	StreamMended: {Mended,
		"The file states wrong lengths for parts of itself; they were read to their ends. Look whether the picture of your drawing is whole.",
		"{count} {count:stream states|streams state} a wrong length and {count:was|were} read up to the end mark ({names})."},
	EntityMarkup: {Block,
		"The file is put together from blocks of text that are not read. Save it again as plain SVG from your drawing program.",
		"Entities that hold markup were not expanded into elements ({names})."},
	PaperSpace: {Warn,
		"{count} {count:shape lies|shapes lie} on the print layout, and only the drawing itself (the model view) is cut. Move what you want cut into the model view.",
		"{count} {count:shape|shapes} on the print layout left out."},
	HatchListed: {Ask,
		"{count} filled or hatched {count:area is|areas are} not cut. Draw the edge of {count:the|each} area as a line, then delete the fill.",
		"{count} filled {count:area was|areas were} left out ({names}). The {count:edge|edges} may be drawn as lines too."},
	DimensionListed: {Warn,
		"{count} {count:measure or note is|measures or notes are} not cut. Delete {count:it|them}, or keep {count:it|them} on a layer that is switched off.",
		"{count} {count:measure, leader or table was|measures, leaders or tables were} left out ({names})."},
	PointListed: {Mended,
		"{count} single {count:point is|points are} not cut. Delete {count:it|them}.",
		"{count} {count:point was|points were} left out."},
	EndlessLine: {Warn,
		"{count} construction {count:line without ends is|lines without ends are} not cut. Delete {count:it|them}, or trim {count:it|them} to a length.",
		"{count} endless {count:line was|lines were} left out ({names})."},
	SolidListed: {Warn,
		"{count} {count:part|parts} drawn in space cannot be cut from a sheet. Draw {count:its outline|their outlines} flat, as seen from above.",
		"{count} {count:face, mesh or body was|faces, meshes or bodies were} left out ({names})."},
	NotFlat: {Warn,
		"{count} {count:line rises|lines rise} out of the plane and {count:looks|look} shorter from above. Flatten the drawing (all heights 0), then check its size.",
		"{count} {count:shape is not flat and was|shapes are not flat and were} read as seen from above ({names})."},
	NestedScale: {Warn,
		"{count} inserted {count:block is|blocks are} larger or smaller than drawn ({names}). Check the size, then break the {count:block|blocks} up, or draw {count:it|them} again at true size.",
		"{count} {count:block is|blocks are} scaled where placed ({names})."},
	NegativeRadius: {Warn,
		"{count} {count:circle or arc has|circles or arcs have} a radius below nought. Look at the marked place, and draw {count:it|them} again if the shape is wrong.",
		"{count} {count:circle or arc|circles or arcs} with a negative radius drawn with its amount."},
	UnknownEntity: {Warn,
		"{count} {count:part|parts} of your drawing {count:is|are} of a kind that is not read ({names}). Break {count:it|them} up into plain lines (often called \"explode\").",
		"{count} {count:entity of a kind that is not read was|entities of kinds that are not read were} left out ({names})."},
	ZeroLength: {Mended,
		"{count} {count:line or circle has|lines or circles have} no length and no size. Delete {count:it|them}.",
		"{count} {count:shape|shapes} without length left out ({names})."},
	WildBulge: {Warn,
		"{count} {count:arc|arcs} between two corners {count:is|are} almost a full circle. Look at the marked place, and draw {count:it|them} again if the shape is wrong.",
		"{count} {count:arc has|arcs have} a bulge above 1000, within a quarter degree of a full circle; drawn as {count:it stands|they stand}."},
	SplineBroken: {Block,
		"{count} {count:curve is|curves are} damaged and {count:was|were} left out. Draw {count:it|them} again, or turn {count:it|them} into plain lines, and save again.",
		"{count} {count:spline was|splines were} left out: degree, knots, weights and points do not fit together."},
	CurveCoarse: {Warn,
		"{count} {count:curve has|curves have} a kink or {count:is|are} pulled very unevenly. Look at the marked place, and draw {count:it|them} again if the shape looks wrong.",
		"{count} {count:spline is|splines are} followed less closely than 1e-7 of the size."},
	EntityBroken: {Block,
		"{count} {count:shape is|shapes are} damaged in the file and {count:was|were} left out. Save it again from the program you drew it in.",
		"{count} {count:shape was|shapes were} left out because a part is missing ({names})."},
	BadNumber: {Block,
		"{count} {count:shape has|shapes have} positions that are no proper numbers. Delete {count:it|them} or draw {count:it|them} again, then save again.",
		"{count} {count:shape was|shapes were} left out because a value is no number or beyond 1e13 ({names})."},
	DecimalComma: {Warn,
		"The file writes {count} {count:number|numbers} with a comma. Save it with decimal points, and check one length.",
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
