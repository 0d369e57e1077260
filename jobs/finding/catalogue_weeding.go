package finding

// Codes of the weeding job.
const (
	RegionsUnclear  Code = "regions_unclear"        // fill and nesting keep different parts
	OutlinesCross   Code = "outlines_cross"         // closed outlines run over each other
	StencilEdge     Code = "stencil_edge_unclear"   // the outer rectangle: edge of the sheet or opening
	StencilMargin   Code = "stencil_margin_narrow"  // little sheet round the openings
	PieceInHole     Code = "piece_in_hole"          // kept, inside a hole of another piece: it comes out loose
	RegionUnknown   Code = "region_unknown"         // a number to turn over that no region has
	BoundaryOpen    Code = "boundary_open"          // a cut line on film that bounds nothing
	Nick            Code = "nick"                   // a short cut that bounds nothing
	KeptSlit        Code = "kept_slit"              // a cut across what stays, which parts nothing
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
	SurroundStays   Code = "surround_stays"         // framed work gets no weed border
)

var weedingEntries = map[Code]entry{
	RegionsUnclear: {Ask,
		"In {count} {count:place|places} the filled areas and the outlines of your drawing do not agree on what is kept. Fill every closed shape that stays, or fill none.",
		"Fill and nesting give different kept regions in {count} {count:place|places}: it goes as is answered, and single regions are turned over by number."},
	OutlinesCross: {Ask,
		"{count} {count:outline runs over itself or another|outlines run over each other}, so each overlap would be cut out by itself. Join overlapping shapes into one outline before you send the drawing.",
		"{count} closed {count:outline crosses itself or another|outlines cross}. Join on request, or cut as drawn."},
	StencilEdge: {Ask,
		"Everything lies in one outline. Say whether it is the edge of the stencil or an opening. If it only shows the sheet, delete it.",
		"One outline holds all others. As the edge of the sheet it is cut last and its inside is kept; as an opening all inside it falls out."},
	StencilMargin: {Warn,
		"Only {margin_mm} mm of sheet are left beside the openings, and paint may get past the edge. Leave {least_mm} mm all round, or tape paper round the stencil.",
		"The least margin of the stencil's sheet is {margin_mm} mm, below {least_mm} mm. Mask what lies round it."},
	PieceInHole: {Ask,
		"{count} {count:part lies|parts lie} inside a hole of another part. Nothing holds {count:it|them} there: {count:it comes|they come} out loose when the hole does. Draw narrow strips where {count:it is|they are} to stay in place.",
		"{count} {count:part|parts} inside holes of other parts {count:comes|come} out loose. Collect {count:it|them}, or throw {count:it|them} away, as was answered."},
	RegionUnknown: {Warn,
		"There is no region {number} to keep or remove. Take a number from the weeding picture.",
		"Region {number} is not among 1 to {regions}; nothing was turned over for it. Pieces made by relief lines turn with the region they belong to."},
	BoundaryOpen: {Block,
		"{count} cut {count:line has|lines have} a loose end and {count:closes|close} nothing that could be peeled off. Close the outline, or delete the stray line.",
		"{count} cut {count:line|lines} on film bound{count:s|} no region; {length_mm} mm in all would be cut into the piece."},
	Nick: {Warn,
		"{count} short {count:tail|tails} of up to {most_mm} mm {count:sticks|stick} out from an outline and {count:leaves|leave} a nick in the film. Trim {count:it|them}.",
		"{count} {count:stretch|stretches} of cut up to {most_mm} mm long {count:bounds|bound} no region; {count:it stays a nick|they stay nicks} in the film."},
	KeptSlit: {Warn,
		"{count} cut {count:line runs|lines run} across a part that stays and {count:slits|slit} it open. Delete {count:it|them} unless a slit is meant.",
		"{count} {count:slit|slits} in kept film, {length_mm} mm in all; {count:it bounds|they bound} no region and {count:is|are} cut as drawn."},
	StrokeCare: {Warn,
		"{count} {count:part|parts} of {material} that {count:stays is|stay are} narrow, about {least_mm} mm over {length_mm} mm. {slowly}, or draw {count:it|them} {easy_mm} mm wide.",
		"Kept {material} about {least_mm} mm wide in {count} {count:place|places}, over {length_mm} mm in all; easy from {easy_mm} mm."},
	StrokeExpert: {Warn,
		"{count} {count:part|parts} of {material} that {count:stays is|stay are} only about {least_mm} mm wide over {length_mm} mm and {count:comes|come} off or {count:tears|tear} easily. Make {count:it|them} {care_mm} mm or wider, or draw the work larger.",
		"Kept {material} about {least_mm} mm wide in {count} {count:place|places}, over {length_mm} mm in all: for practised hands below {care_mm} mm."},
	StrokeTooThin: {Block,
		"{count} {count:part|parts} of {material} that {count:stays is|stay are} only about {least_mm} mm wide over {length_mm} mm and {count:tears|tear} when you {peel}. Make {count:it|them} at least {expert_mm} mm wide, or draw the work larger.",
		"Kept {material} about {least_mm} mm wide in {count} {count:place|places}, over {length_mm} mm and {area_mm2} mm² in all, below the {expert_mm} mm this stock holds. A stretch of over 3 mm and a whole part are refused unless they are let pass with a reason."},
	NeckTears: {Warn,
		"Film to be removed is only {least_mm} mm wide in {count} {count:place|places} and may tear there. Leave {neck_mm} mm between the parts, or pull slowly.",
		"Removal necks down to {least_mm} mm in {count} {count:place|places} over {length_mm} mm; below {neck_mm} mm film tears. Have tweezers ready."},
	CounterSmall: {Warn,
		"{count} {count:opening is|openings are} too small for {material}, down to {least_mm} mm across. Make openings at least {wanted_mm} mm across, or draw the work larger.",
		"{count} {count:opening|openings} in {material} below {counter_mm} mm across or {counter_mm2} mm²; the smallest {least_mm} mm and {least_mm2} mm²."},
	LetterCare: {Warn,
		"The lowest letters are {height_mm} mm high. {slowly}, or make them {easy_mm} mm high.",
		"Lettering of {height_mm} mm: care below {easy_mm} mm."},
	LetterExpert: {Warn,
		"The lowest letters are only {height_mm} mm high and come off easily. Make them at least {care_mm} mm high.",
		"Lettering of {height_mm} mm: for practised hands below {care_mm} mm."},
	LetterTooLow: {Block,
		"The lowest letters are only {height_mm} mm high and will tear when you {peel}. Make them at least {expert_mm} mm high.",
		"Lettering of {height_mm} mm, below the {expert_mm} mm this stock holds. It is refused unless it is let pass with a reason."},
	KeptAngleSharp: {Warn,
		"{count} {count:corner|corners} that {count:stays is|stay are} sharper than {limit_deg}° and easily {bent} when you {peel}. Round {count:it|them} off.",
		"{count} kept {count:corner|corners} below {limit_deg}°, the sharpest {least_deg}°. Pull towards the tip, not away from it."},
	PieceFragile: {Warn,
		"{count} {count:piece|pieces} that {count:stays is|stay are} smaller than {limit_mm2} mm² and easily lost. Make {count:it|them} larger, or hold {count:it|them} down while you {peel}.",
		"{count} kept {count:piece|pieces} below {limit_mm2} mm², the smallest {least_mm2} mm²."},
	StencilIsland: {Block,
		"{count} {count:part of the stencil is|parts of the stencil are} joined to nothing and would fall out. Draw bridges (narrow strips) from {count:it|them} to the sheet, or let the plan add some.",
		"{count} {count:island|islands}. {bridges} {bridges:bridge|bridges} of {bridge_mm} mm can be added."},
	IslandBridged: {Mended,
		"{count} {count:part|parts} of the stencil would fall out, so {bridges} {bridges:bridge was|bridges were} added to hold {count:it|them}: narrow strips, {bridge_mm} mm wide. Draw your own where you want them wider or in other places.",
		"{count} {count:island|islands} held by {bridges} {bridges:bridge|bridges} of {bridge_mm} mm. They can be switched off."},
	PieceLong: {Warn,
		"{count} {count:piece|pieces} of film to be removed {count:is|are} longer than {hand_mm} mm. Fold {count:it|them} over as you peel; you need not change anything.",
		"{count} removed {count:piece|pieces} longer than {hand_mm} mm {count:has|have} no place for a relief line that keeps off the kept film."},
	SurroundStays: {Warn,
		"The outline round your work is its edge, so no border is added round it: take the work off its backing, and leave the {material} round it there. You need not change anything.",
		"One outline frames the work: no weed border, and no step for the {material} round it. Peel that off first where the work is to be taped or stacked."},
	NothingEnclosed: {Warn,
		"No cut line of the drawing closes, so nothing comes free. Close the outlines that are to be cut out.",
		"The cut lines enclose no region."},
}
