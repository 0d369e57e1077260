package drawing

// Code names a kind of fault that a reader meets in a file, in snake case. What
// it weighs, and the words for people, are for those who make a finding of it.
type Code string

// Codes of every format.
const (
	LimitReached      Code = "limit_reached"      // the file asks for more work than is allowed
	OutOfRange        Code = "out_of_range"       // a coordinate is no number or beyond a kilometre
	EmptyDrawing      Code = "empty_drawing"      // nothing is left that could be cut
	LiveText          Code = "live_text"          // letters that are not outlines
	RasterImage       Code = "raster_image"       // a picture made of pixels
	PaintServerUsed   Code = "paint_server_used"  // a gradient, a pattern or a shading
	EffectUsed        Code = "effect_used"        // a filter such as a blur or a shadow
	DashedLine        Code = "dashed_line"        // a dash pattern
	HiddenGeometry    Code = "hidden_geometry"    // shapes that are hidden, on their own or by their layer
	UnpaintedGeometry Code = "unpainted_geometry" // shapes with neither stroke nor fill
	ClipPathUsed      Code = "clip_path_used"     // shapes of which a clip hides a part
	MaskUsed          Code = "mask_used"          // shapes that a mask fades or hides
	ExternalReference Code = "external_reference" // something that stands in another file
	MissingReference  Code = "missing_reference"  // something that is not in the file
	CircularReference Code = "circular_reference" // something that contains itself
	PathDataBroken    Code = "path_data_broken"   // an outline that stops making sense half way
	ValueUnreadable   Code = "value_unreadable"   // a length or transform that cannot be read
	EncodingGuessed   Code = "encoding_guessed"   // text that does not fit the declared encoding
	UnknownElement    Code = "unknown_element"    // something that the format does not know
	ForeignContent    Code = "foreign_content"    // content of another format inside the drawing
	MarkerIgnored     Code = "marker_ignored"     // arrow heads and the like on the ends of lines
	MotionIgnored     Code = "motion_ignored"     // animations and scripts
	StyleRuleIgnored  Code = "style_rule_ignored" // a style rule with a selector that is not read
	PercentUnresolved Code = "percent_unresolved" // a percentage of a page without a size
	SeveralPages      Code = "several_pages"      // only one page of a file was read
	AnnotationDrawn   Code = "annotation_drawn"   // comments, stamps and form fields that show on the page
	ContentBroken     Code = "content_broken"     // a packed part of the file is damaged
	StreamMended      Code = "stream_mended"      // parts of a file whose stated length is wrong, read to their end
	EntityMarkup      Code = "entity_markup"      // an entity that holds elements

	// Of DXF files.
	PaperSpace       Code = "paper_space"        // entities on the print layout
	HatchListed      Code = "hatch_listed"       // areas filled with a pattern or a colour
	DimensionListed  Code = "dimension_listed"   // measures, leaders and tables
	PointListed      Code = "point_listed"       // single points
	EndlessLine      Code = "endless_line"       // construction lines without ends
	SolidListed      Code = "solid_listed"       // faces, meshes and bodies in space
	NotFlat          Code = "not_flat"           // lines that leave the plane of the sheet
	NestedScale      Code = "nested_scale"       // blocks that are not placed at their own size
	NegativeRadius   Code = "negative_radius"    // circles and arcs with a radius below 0
	UnknownEntity    Code = "unknown_entity"     // entities of a kind that is not read
	ZeroLength       Code = "zero_length"        // lines that go nowhere, circles without a radius
	WildBulge        Code = "wild_bulge"         // arcs that are all but a full circle between two corners
	SplineBroken     Code = "spline_broken"      // curves whose numbers contradict each other
	CurveCoarse      Code = "curve_coarse"       // curves that cubics follow less closely than promised
	EntityBroken     Code = "entity_broken"      // entities of which a part is missing
	BadNumber        Code = "bad_number"         // entities with values that are no numbers
	DecimalComma     Code = "decimal_comma"      // numbers written with a comma
	BadGroupCode     Code = "bad_group_code"     // places where codes and values fall out of step
	Truncated        Code = "truncated"          // the file ends too early
	EndMarkMissing   Code = "end_mark_missing"   // whole, but without its last line
	TrashAfterEnd    Code = "trash_after_end"    // text behind the end mark
	CodePageDoubtful Code = "code_page_doubtful" // names in another encoding than the file declares
)
