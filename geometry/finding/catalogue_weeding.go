package finding

// Codes of the weeding stage.
const (
	RegionsUnclear  Code = "regions_unclear"        // fill and nesting keep different parts
	OutlinesCross   Code = "outlines_cross"         // closed outlines run over each other
	StencilEdge     Code = "stencil_edge_unclear"   // the outer rectangle: edge of the sheet or opening
	RegionUnknown   Code = "region_unknown"         // a number to turn over that no region has
	BoundaryOpen    Code = "boundary_open"          // a cut line on film that bounds nothing
	StrokeCare      Code = "kept_stroke_care"       // kept film narrow: take care
	StrokeExpert    Code = "kept_stroke_expert"     // narrower: for practised hands
	StrokeTooThin   Code = "kept_stroke_too_thin"   // narrower than the stock holds
	NeckTears       Code = "removal_neck_tears"     // removed film narrow: it tears there
	CounterSmall    Code = "counter_too_small"      // too small to lift out
	LetterCare      Code = "letter_height_care"     // low letters: take care
	LetterExpert    Code = "letter_height_expert"   // lower: for practised hands
	LetterTooLow    Code = "letter_height_too_low"  // lower than the stock holds
	KeptAngleSharp  Code = "kept_angle_sharp"       // a kept corner that lifts
	PieceFragile    Code = "kept_piece_fragile"     // a kept piece easily lost
	StencilIsland   Code = "stencil_island"         // kept, and joined to nothing
	IslandBridged   Code = "stencil_island_bridged" // joined by bridges
	PieceLong       Code = "removed_piece_long"     // longer than a hand, could not be split
	NothingEnclosed Code = "nothing_enclosed"       // no cut line closes
)

var weedingEntries = map[Code]entry{
	RegionsUnclear: {Ask,
		"The filled areas and the outlines of your drawing do not agree on what is kept (places: {count}). Fill every closed shape that stays, or fill none.",
		"Fill and nesting give different kept regions; places: {count}. Answer the question, or turn single regions over by number."},
	OutlinesCross: {Ask,
		"Some outlines run over each other ({count}), so the overlaps would be cut into pieces of their own. Join overlapping shapes into one outline before you send the drawing.",
		"Closed outlines that cross: {count}. Join them on request, or cut as drawn."},
	StencilEdge: {Ask,
		"Everything lies in one rectangle. Say whether it is the edge of the stencil or an opening; leave it out of the drawing when it only shows the sheet.",
		"One rectangle holds all other outlines. As the edge of the sheet its inside is kept; as an opening all inside it falls out."},
	RegionUnknown: {Warn,
		"There is no region {number} to turn over. Take a number from the picture of the regions.",
		"Region {number} is not among 1 to {regions}; nothing was turned over for it. Pieces made by relief lines turn with the region they belong to."},
	BoundaryOpen: {Block,
		"A cut line has a loose end (lines: {count}), so no region is closed there and nothing can be peeled. Close the outline, or delete the stray line.",
		"Cut lines on film that bound no region: {count}; {length_mm} mm in all would be cut into the piece."},
	StrokeCare: {Warn,
		"Some of what stays is narrow, {least_mm} mm at least (places: {count}). Weed it slowly, or make it {easy_mm} mm wide.",
		"Kept film down to {least_mm} mm over {length_mm} mm; places: {count}. Easy from {easy_mm} mm."},
	StrokeExpert: {Warn,
		"Some of what stays is only {least_mm} mm wide and lifts easily (places: {count}). Make it {care_mm} mm or wider, or draw the work larger.",
		"Kept film down to {least_mm} mm over {length_mm} mm; places: {count}. For practised hands below {care_mm} mm."},
	StrokeTooThin: {Warn,
		"Some of what stays is only {least_mm} mm wide and will not survive weeding (places: {count}). Make it at least {expert_mm} mm wide, or draw the work larger.",
		"Kept film down to {least_mm} mm over {length_mm} mm, below the {expert_mm} mm this stock holds; places: {count}. Refuse, or agree on the risk."},
	NeckTears: {Warn,
		"Film to be removed is only {least_mm} mm wide and may tear there (places: {count}). Leave {neck_mm} mm between the parts, or pull slowly.",
		"Removal necks down to {least_mm} mm over {length_mm} mm; places: {count}. Below {neck_mm} mm film tears: have tweezers ready."},
	CounterSmall: {Warn,
		"Some openings are too small to lift out ({count}): the smallest takes a circle of {least_mm} mm. Draw them at least {counter_mm} mm across and {counter_mm2} mm² large, or use larger letters.",
		"Counters below {counter_mm} mm across or {counter_mm2} mm²: {count}; the smallest {least_mm} mm and {least_mm2} mm²."},
	LetterCare: {Warn,
		"The lowest letters are {height_mm} mm high. Weed them slowly, or make them {easy_mm} mm high.",
		"Lettering of {height_mm} mm: care below {easy_mm} mm."},
	LetterExpert: {Warn,
		"The lowest letters are only {height_mm} mm high. Make them at least {care_mm} mm high.",
		"Lettering of {height_mm} mm: for practised hands below {care_mm} mm."},
	LetterTooLow: {Warn,
		"The lowest letters are only {height_mm} mm high and will not survive weeding. Make them at least {expert_mm} mm high.",
		"Lettering of {height_mm} mm, below the {expert_mm} mm this stock holds. Refuse, or agree on the risk."},
	KeptAngleSharp: {Warn,
		"Some corners that stay are sharper than {limit_deg}° ({count}) and lift when the film beside them is pulled. Round them, or blunt them.",
		"Kept corners below {limit_deg}°: {count}, the sharpest {least_deg}°. Pull towards the tip, not away from it."},
	PieceFragile: {Warn,
		"Some pieces that stay are smaller than {limit_mm2} mm² ({count}) and are easily lost. Make them larger, or hold them down while you weed.",
		"Kept pieces below {limit_mm2} mm²: {count}, the smallest {least_mm2} mm²."},
	StencilIsland: {Block,
		"Some parts of the stencil are joined to nothing ({count}) and would fall out. Draw bridges to them, or let the plan add some.",
		"Islands: {count}. Bridges of {bridge_mm} mm that can be added: {bridges}."},
	IslandBridged: {Mended,
		"Some parts of the stencil would have fallen out ({count}); bridges of {bridge_mm} mm now hold them ({bridges}).",
		"Islands: {count}, joined by bridges of {bridge_mm} mm: {bridges}. They can be switched off."},
	PieceLong: {Warn,
		"Some film to be removed is in pieces longer than {hand_mm} mm ({count}). Fold it over as you peel.",
		"Removed pieces longer than {hand_mm} mm without a place for a relief line that keeps off the kept film: {count}."},
	NothingEnclosed: {Warn,
		"No cut line of the drawing closes, so nothing comes free. Close the outlines that are to be cut out.",
		"The cut lines enclose no region."},
}
