package workshop

// exampleStocks lists what is on the college's shelf.
func exampleStocks() []Stock {
	return []Stock{
		grainedSheet("card-160-a4", "Card 160 g/m², A4", LightCard, "A4", 210, 297, 160, 200),
		grainedSheet("card-160-a3", "Card 160 g/m², A3", LightCard, "A3", 297, 420, 160, 200),
		grainedSheet("card-220-a4", "Card 220 g/m², A4", HeavyCard, "A4", 210, 297, 220, 275),
		grainedSheet("card-220-a3", "Card 220 g/m², A3", HeavyCard, "A3", 297, 420, 220, 275),
		filmRoll("film-removable-610", "Removable film, 610 mm roll", RemovableFilm, 610, 590, 70),
		filmRoll("film-permanent-300", "Permanent film, 300 mm roll", PermanentFilm, 300, 280, 80),
		filmRoll("film-heat-500", "Heat-transfer film, 500 mm roll", HeatFilm, 500, 480, 90),
		stencilSheet(),
	}
}

// neutralStocks are sheets of ISO 216 and rolls of the widths that films are
// sold in.
func neutralStocks() []Stock {
	return []Stock{
		grainedSheet("paper-120-a4", "Paper 120 g/m², A4", Paper, "A4", 210, 297, 120, 150),
		grainedSheet("paper-120-a3", "Paper 120 g/m², A3", Paper, "A3", 297, 420, 120, 150),
		grainedSheet("card-160-a4", "Card 160 g/m², A4", LightCard, "A4", 210, 297, 160, 200),
		grainedSheet("card-160-a3", "Card 160 g/m², A3", LightCard, "A3", 297, 420, 160, 200),
		grainedSheet("card-220-a4", "Card 220 g/m², A4", HeavyCard, "A4", 210, 297, 220, 275),
		grainedSheet("card-220-a3", "Card 220 g/m², A3", HeavyCard, "A3", 297, 420, 220, 275),
		filmRoll("film-removable-610", "Removable film, 610 mm roll", RemovableFilm, 610, 590, 70),
		filmRoll("film-permanent-610", "Permanent film, 610 mm roll", PermanentFilm, 610, 590, 80),
		filmRoll("film-heat-500", "Heat-transfer film, 500 mm roll", HeatFilm, 500, 480, 90),
		filmRoll("film-stencil-610", "Stencil film, 610 mm roll", StencilFilm, 610, 590, 80),
		stencilSheet(),
	}
}

// How near to the edges of paper and card the knife works, in mm (common practice,
// no source). On a mat the sheet is held to its edge, so 5 mm do, and a piece that
// needs more room is cut to within 2 mm; in the rollers the lanes take 10 mm.
const (
	matMargin      = 5
	leastMatMargin = 2
	rollerMargin   = 10
)

// grainedSheet is paper or card with its grain along the long edge, the common
// way it is cut, loaded with the short edge across the feed.
func grainedSheet(id, name string, family Family, size string, width, length, grammage, caliper float64) Stock {
	grain := 90.0
	tack := LowTack
	if family == HeavyCard {
		tack = MediumTack
	}
	return Stock{
		ID: id, Name: name, Family: family, Form: Sheet, Hold: Mat, MatTack: tack,
		Mirror: MirrorNever, NamedSize: size, WidthMM: width, LengthMM: length,
		UsableWidthMM: width - 2*matMargin, MarginMM: matMargin, LeastMarginMM: leastMatMargin, GapMM: 4,
		Holds:     []Held{{Hold: Rollers, UsableWidthMM: width - 2*rollerMargin, MarginMM: rollerMargin, GapMM: 4}},
		CaliperUM: caliper, GrammageGSM: grammage, GrainDeg: &grain,
		Limits: LimitsOf(family),
	}
}

// What is wound up with each turn of film beside the film itself, in µm: adhesive
// and liner. Rolls come on cores of 76 mm (common practice, no source).
const (
	adhesiveAndLiner = 160
	coreDiameter     = 76
)

// filmRoll is film on a liner, cut from the rollers: 25 m of it. The usable
// width leaves the lanes of the pinch rollers.
func filmRoll(id, name string, family Family, width, usable, caliper float64) Stock {
	s := Stock{
		ID: id, Name: name, Family: family, Form: Roll, Hold: Rollers, Liner: true,
		Mirror: MirrorNever, WidthMM: width, LengthMM: 25000, UsableWidthMM: usable,
		LeadMM: 50, TailMM: 50, GapMM: 10, CaliperUM: caliper, Limits: LimitsOf(family),
		Wound: &Wound{ThicknessUM: caliper + adhesiveAndLiner, CoreMM: coreDiameter},
	}
	switch family {
	case RemovableFilm:
		s.TapeTack = LowTack
	case HeatFilm:
		s.Mirror = MirrorAlways // the adhesive face is up; heat film needs no tape
	default:
		s.TapeTack = MediumTack
	}
	return s
}

// stencilSheet is a plastic sheet whose openings are cut out.
func stencilSheet() Stock {
	const margin = 10
	return Stock{
		ID: "stencil-a3", Name: "Stencil sheet, A3", Family: StencilSheet, Form: Sheet,
		Hold: Mat, MatTack: MediumTack, Mirror: MirrorNever, NamedSize: "A3",
		WidthMM: 297, LengthMM: 420, UsableWidthMM: 297 - 2*margin, MarginMM: margin,
		GapMM: 6, CaliperUM: 190, Limits: LimitsOf(StencilSheet),
	}
}
