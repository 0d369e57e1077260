package finding

// Codes of the layout job.
const (
	OffTheStock       Code = "off_the_stock"       // the piece fits in neither turn
	NeedsPanels       Code = "needs_panels"        // it fits only as panels that are joined
	MadeInPanels      Code = "made_in_panels"      // it is made of panels
	NearEdge          Code = "near_edge"           // it fits only nearer to the edge than the margins
	FitsAcrossGrain   Code = "fits_across_grain"   // it fits only turned across the grain
	RollTooShort      Code = "roll_too_short"      // less is left than the copies need
	MachineNarrower   Code = "machine_narrower"    // the stock is wider than the machine cuts
	NoMat             Code = "no_mat"              // the stock wants a mat and the machine has none
	MatTackMissing    Code = "mat_tack_missing"    // no mat of the tack the stock wants
	SheetOverMat      Code = "sheet_over_mat"      // the sheet is larger than the mat
	NoCommonBorder    Code = "no_common_border"    // one weed border round all copies was asked for, and there is none
	MirrorAgainstRule Code = "mirror_against_rule" // the caller turned the stock's mirroring off
	MemberLeftOut     Code = "member_left_out"     // of several drawings that share loads, one that fits on none
)

// Codes of the passes job.
const (
	SettingMissing     Code = "setting_missing"      // nothing tested or started for this operation
	LengthsOff         Code = "lengths_off"          // marks of a test cut came out too short or too long
	BladeMissing       Code = "blade_missing"        // the setting names a blade the machine lacks
	ForceOverMachine   Code = "force_over_machine"   // more force than the machine has
	SpeedOverMachine   Code = "speed_over_machine"   // more speed than the machine has
	CaliperOverMachine Code = "caliper_over_machine" // thicker than the machine takes
	WiderThanMachine   Code = "wider_than_machine"   // strokes lie outside the machine's reach
	ThroughWithoutMat  Code = "through_without_mat"  // a through cut in the rollers alone
	ScoreAcrossGrain   Code = "score_across_grain"   // folds that may crack

	CompensationUnknown Code = "compensation_unknown" // whether the machine makes up for the knife's offset
	ShortDash           Code = "short_dash"           // of a perforation, for how far the knife trails
	TightCurve          Code = "tight_curve"          // tighter than the knife trails
	SharpCorner         Code = "sharp_corner"         // in thick stock, that a knife is dragged round
	NoLeadIn            Code = "no_lead_in"           // no waste in which the blade could be turned
)

// Codes of the estimate.
const (
	PriceMissing Code = "price_missing" // the price list has no price for the stock
)

var layoutEntries = map[Code]entry{
	OffTheStock: {Block,
		"The piece is {width_mm} × {height_mm} mm, but only {usable_width_mm} × {usable_length_mm} mm can be cut. {advice} Make it smaller, move stray lines back to the rest, {panels:or choose larger stock|or choose larger stock|choose larger stock, or have it cut as panels that are joined afterwards}.",
		"Neither turn fits. Panels with an overlap of {overlap_mm} mm: {panels_across} across × {panels_along} along. {advice} Check the size first: a wrong unit looks like this."},
	NeedsPanels: {Ask,
		"The work is {width_mm} × {height_mm} mm, too large for {stock} in one piece. It can be made of {panels} panels: {sizes}. {joint} Say whether you want that.",
		"It takes {panels} panels: {sizes}. {joint} {advice} Check the size first: a wrong unit looks like this."},
	MadeInPanels: {Warn,
		"The work is made of {count} {count:panel|panels}. {joint} {hang} You need not change anything.",
		"It is made of {count} {count:panel|panels}, each a load with its own files. {joint} {hang} Their seams cross {crossed_mm} mm of what is kept; between panels of equal size it would be {equal_mm} mm."},
	NearEdge: {Warn,
		"Your drawing comes nearer to the edge of {stock} than the usual {margin_mm} mm, so a sheet that lies askew would spoil it. Make it a little smaller if you can.",
		"The margins of {margin_mm} mm leave no room for the piece; it is laid as near as {least_mm} mm to the edge. Lay the sheet square on the mat and press its edges down."},
	FitsAcrossGrain: {Ask,
		"The piece fits only if it is turned across the grain of the card (the way its fibres run), where folds may crack. Make it smaller, or choose a larger sheet.",
		"It fits at 90° only, and the piece keeps its grain. Turn it, or take larger stock."},
	RollTooShort: {Block,
		"There is not enough of {stock} left for {copies} {copies:copy|copies}: {need_mm} mm are needed and {left_mm} mm are left. Ask for fewer, or wait for a new roll.",
		"{copies} {copies:copy needs|copies need} {need_mm} mm with lead and tail; {left_mm} mm are left. Ask for fewer, or load a new roll."},
	MachineNarrower: {Warn,
		"{machine} cuts only {machine_mm} mm of the width of {stock}. If your drawing does not fit, choose a wider machine.",
		"Usable width {usable_mm} mm of {stock} narrowed to {machine_mm} mm, in the middle of the stock."},
	NoMat: {Block,
		"{stock} has to lie on a mat, and {machine} has none. Choose another machine.",
		"The stock is held on a mat and no mat is listed for {machine}. List one, or choose another machine."},
	MatTackMissing: {Warn,
		"There is no mat of {tack} tack (how well it sticks), so the technician will use another one. You need not change anything.",
		"{stock} wants {tack} tack; mat {mat} of {mat_tack} tack is taken. Tape the edges down where it holds too little, and peel slowly where it holds too much."},
	SheetOverMat: {Warn,
		"{stock} is larger than the mat, and only the part on the mat can be cut. If your drawing does not fit, make it smaller.",
		"Layout kept within mat {mat}, {mat_width_mm} × {mat_length_mm} mm. Trim the sheet, or take a larger mat."},
	MirrorAgainstRule: {Warn,
		"{stock} is cut from its back, so it has to be mirrored, and you switched that off. Check that text in your drawing reads backwards.",
		"The request switched off the mirroring that {stock} needs. Look at the layout's preview before cutting."},
	NoCommonBorder: {Warn,
		"You asked for one weed border round all copies, and there is none: {why}. It comes off all the same; you need not change anything.",
		"One weed border round all copies was asked for and is not drawn: {why}."},
	MemberLeftOut: {Warn,
		"{code} is {width_mm} × {height_mm} mm, too large for {stock}, and was left out; the others go on. {advice} Make it smaller, or choose larger stock for it.",
		"{code}, {width_mm} × {height_mm} mm, fits {stock} in neither turn, or only across the grain, and is on no load. {advice} Check its size first: a wrong unit looks like this."},
	SettingMissing: {Block,
		"Nobody has a setting for this kind of line ({operation}) on {stock} yet. Ask the technician for a test cut, or change those lines.",
		"No setting for {operation} on {stock} (family {family}) with {machine}. Make a test cut and enter the setting."},
	LengthsOff: {Warn,
		"Lengths come out a little wrong on this machine; the technician knows. You need not change anything.",
		"On {stock} {true_mm} mm came out as {across_mm} mm across the feed and {along_mm} mm along it, on {machine}: {advice}."},
	BladeMissing: {Warn,
		"The blade for this stock is not on the machine's list, so the technician will check it. You need not change anything.",
		"Setting {setting} names blade {blade}, which {machine} does not have. The blade in the holder is assumed: check its offset and angle."},
	ForceOverMachine: {Block,
		"{machine} is not strong enough for {stock}. Choose a stronger machine or a lighter stock.",
		"Setting {setting} needs {force_gf} gf for {operation}; {machine} gives {limit_gf} gf."},
	SpeedOverMachine: {Warn,
		"The machine runs slower than usual for this stock, so it takes a little longer. You need not change anything.",
		"Setting {setting} asks for {speed_mm_s} mm/s; {machine} runs {limit_mm_s} mm/s, and the minutes count that."},
	CaliperOverMachine: {Block,
		"{stock} is too thick for {machine}. Choose a thinner stock or another machine.",
		"{stock} is {caliper_um} µm thick; {machine} takes {limit_um} µm."},
	WiderThanMachine: {Block,
		"The copies lie wider than {machine} can reach. Choose a wider machine, or make your drawing smaller.",
		"Copies span {span_mm} mm across the feed; {machine} cuts {limit_mm} mm."},
	ThroughWithoutMat: {Block,
		"A cut through the whole stock needs a mat under it: without one the pieces fall into the machine. Choose a stock that is held on a mat, or cut film only down to its backing (a kiss cut).",
		"{count} {count:line is cut|lines are cut} through {stock}, which is held in the rollers alone. Use a mat."},
	ScoreAcrossGrain: {Warn,
		"{count} fold {count:line runs|lines run} across the grain of the card (the way its fibres run) and may crack: {advice}.",
		"{across_mm} mm of scores lie more than 45° off the grain of {stock}: {advice}."},
	CompensationUnknown: {Ask,
		"The workshop has to say once whether its cutter makes up by itself for the knife, whose tip trails. You need not change anything.",
		"The data of the machine does not say whether it makes up for the offset of the blade and for overcut itself. Enter it there."},
	ShortDash: {Warn,
		"The cuts of the perforation are so short that the knife hardly turns in them. The technician will look at it; you need not change anything.",
		"Cuts of {dash_mm} mm with a blade that trails {offset_mm} mm: below four times that the blade turns in the card more than it cuts. Make them {least_mm} mm, or take a blade with less offset."},
	TightCurve: {Warn,
		"{count} {count:line has a curve|lines have curves} tighter than the knife can follow without twisting: the edge may lift there. Make {count:its radius|their radii} {offset_mm} mm or more, or draw a corner.",
		"{count} {count:line has|lines have} a radius below {offset_mm} mm, the offset of blade {blade}, the least {least_mm} mm: the heel of the blade swings out there. Take a finer blade, or look at the place first."},
	SharpCorner: {Warn,
		"{count} {count:corner is|corners are} sharper than {below_deg}°. In material as thick as this the knife is dragged round {count:it|them} and may tear the tip. Round {count:it|them} off by 1 mm, or make {count:it|them} wider.",
		"{count} {count:corner|corners} below {below_deg}° in {stock} of {caliper_um} µm, the sharpest {least_deg}°: the blade swivels there in the material. Cut one on a spare first, or use a cutter that lifts and turns the knife."},
	NoLeadIn: {Warn,
		"The sheet is so full that there is no spare place where the knife can be turned before it starts. The technician will do it by hand; you need not change anything.",
		"No waste is {length_mm} mm long for the cut that turns the blade before pass {pass} of load {load}. Turn the blade by hand into the direction of the first line, or cut a short line on scrap the same way."},
	PriceMissing: {Warn,
		"The price list has no price for this stock yet, so the sum leaves the material out. Ask the technician for it.",
		"Price list {price_list} version {version} has no price for {stock}. Enter it and the estimate alone runs again."},
}
