package workshop

import "knifedesk/jobs/artwork"

// start is one line of the table of start points: the middle of a family's
// usual range, with an angle for machines that turn a lifted blade (common practice, from memory). A Setting without a tester is a
// start point for a test cut and no promise.
type start struct {
	family Family
	force  float64 // gf, of a cut
	speed  float64 // mm/s
	passes int
	blade  string
	lift   float64 // degrees between two lines below which a lifted blade is turned
}

// starts returns the table, one line a family.
func starts() []start {
	return []start{
		{Paper, 85, 150, 1, fineBlade, 0},
		{LightCard, 140, 100, 1, fineBlade, 45},
		{HeavyCard, 210, 50, 2, heavyBlade, 75},
		{RemovableFilm, 85, 100, 1, fineBlade, 0},
		{PermanentFilm, 105, 150, 1, fineBlade, 0},
		{CastFilm, 80, 150, 1, fineBlade, 0},
		{HeatFilm, 140, 100, 1, fineBlade, 0},
		{StencilFilm, 110, 120, 1, fineBlade, 0},
		{StencilSheet, 240, 40, 3, heavyBlade, 60},
		{MagneticSheet, 275, 25, 3, heavyBlade, 75},
		{BlastingMask, 275, 60, 1, heavyBlade, 0},
	}
}

// startSettings returns the start points of every family, and one of the
// narrow cutter's own for stencil sheet: less force and one pass more.
func startSettings() []Setting {
	var all []Setting
	for _, s := range starts() {
		all = append(all, s.settings()...)
	}
	narrow := start{StencilSheet, 200, 30, 4, heavyBlade, 60}.cut(artwork.ThroughCut)
	narrow.ID += "-narrow"
	narrow.MachineID = "narrow-305"
	return append(all, narrow)
}

// settings returns a setting for each operation that makes sense on the
// family: a kiss cut on film, otherwise pen, score, perforation and cut.
func (s start) settings() []Setting {
	switch s.family {
	case RemovableFilm, PermanentFilm, CastFilm, HeatFilm, StencilFilm, BlastingMask:
		return []Setting{s.cut(artwork.KissCut)}
	case StencilSheet, MagneticSheet:
		return []Setting{s.cut(artwork.ThroughCut)}
	}
	pen := Setting{ID: string(s.family) + "-pen", Family: s.family, Operation: artwork.Pen, ForceGF: 30, SpeedMMS: 150, Passes: 1}
	score := Setting{ID: string(s.family) + "-score", Family: s.family, Operation: artwork.Score, ForceGF: s.force / 2, SpeedMMS: s.speed, Passes: 1}
	perforate := s.cut(artwork.Perforate)
	perforate.DashMM, perforate.TieMM = 2, 1
	return []Setting{pen, score, perforate, s.cut(artwork.ThroughCut)}
}

func (s start) cut(op artwork.Operation) Setting {
	return Setting{
		ID: string(s.family) + "-" + string(op), Family: s.family, Operation: op,
		ForceGF: s.force, SpeedMMS: s.speed, Passes: s.passes, BladeID: s.blade, LiftBelowDeg: s.lift,
	}
}
