package scenario

import "slices"

// Case is one submission of the demo: a drawing, what is said with it, how
// questions are answered, and what has to come of it.
type Case struct {
	Name   string
	File   string // name of the file, its ending says the format
	Sheet  Sheet
	Fields map[string]string // of the form, besides the drawing
	Films  []string          // of a layered work, "stock=LAYER"
	// Answers are given in this order, each when its question is asked.
	Answers []Answer
	Want    Want
}

// Answer is what the technician answers when a question is asked.
type Answer struct {
	Question string // its ID
	Choose   string // ID of the answer; empty: the first offered
	Reason   string // where the answer needs one
}

// Want is the outcome that a case has to have.
type Want struct {
	Status   string
	WidthMM  float64 // 0: not held
	HeightMM float64
	Cause    string
	Findings []string // codes that have to be among the findings
	Sheets   int
	RollMM   float64
	Kept     int // regions that stay; 0: not held
	Counters int
	Bridges  int
}

// Cases are the submissions of the demo.
func Cases() []Case { return slices.Concat(signs(), tags(), folded()) }

// signs are labels, signs, banners and stencils.
func signs() []Case {
	return []Case{
		{
			Name: "tide label, points read as mm", File: "tide-label.dxf", Sheet: TideLabel().Scaled(PointsForMM),
			Fields: map[string]string{"stock": "film-removable-610", "copies": "6"},
			Want:   Want{Status: "ready", WidthMM: 180, HeightMM: 120, Cause: "points_read_as_mm", RollMM: 350},
		},
		{
			Name: "caption tent, frame on the cut layer", File: "caption-tent.svg", Sheet: CaptionTent(),
			Fields:  map[string]string{"stock": "card-220-a4"},
			Answers: []Answer{{Question: "artwork/line:#8248b4"}},
			Want:    Want{Status: "ready", WidthMM: 160, HeightMM: 140, Findings: []string{"frame_taken_out"}, Sheets: 1},
		},
		{
			Name: "ring sign, outer ring drawn twice", File: "ring-sign.svg", Sheet: RingSign(),
			Fields: map[string]string{"stock": "film-permanent-300"},
			Want:   Want{Status: "ready", WidthMM: 300, HeightMM: 120, Findings: []string{"duplicate_lines"}, Kept: 6, Counters: 6},
		},
		{
			Name: "lighthouse stencil", File: "lighthouse.dxf", Sheet: LighthouseStencil(),
			Fields: map[string]string{"stock": "stencil-a3"},
			Want:   Want{Status: "ready", Sheets: 1, Bridges: 8},
		},
		{
			Name: "wave banner, drawn in inches", File: "wave-banner.dxf", Sheet: WaveBanner(400).Scaled(InchesForMM),
			Fields: map[string]string{"stock": "film-removable-610", "unit": "inch"},
			Want:   Want{Status: "ready", WidthMM: 1740, HeightMM: 400, RollMM: 1840},
		},
		{
			Name: "wave banner too wide for the roll", File: "wave-banner-wide.svg", Sheet: WaveBanner(900),
			Fields:  map[string]string{"stock": "film-removable-610", "width_mm": "1740"},
			Answers: []Answer{{Question: "layout/panels", Choose: "make"}},
			Want:    Want{Status: "ready", WidthMM: 1740, HeightMM: 900, Findings: []string{"made_in_panels"}, RollMM: 3736},
		},
		{
			Name: "script word, strokes overlap", File: "script-word.svg", Sheet: ScriptWord(),
			Fields:  map[string]string{"stock": "film-permanent-300"},
			Answers: []Answer{{Question: "weeding/weld", Choose: "weld"}, {Question: "weeding/below_limit", Choose: "waive", Reason: "The underline may be left out if it tears"}},
			Want:    Want{Status: "ready", Findings: []string{"kept_stroke_too_thin"}},
		},
		{
			Name: "window star, seen through the glass", File: "window-star.svg", Sheet: WindowStar(),
			Fields: map[string]string{"stock": "film-removable-610", "mirror": "true"},
			Want:   Want{Status: "ready", WidthMM: 140, HeightMM: 140},
		},
	}
}

// Layered are submissions of works in several films that lie on each other: each becomes a
// plan for each film, which all have to come out as wanted.
func Layered() []Case {
	return []Case{{
		Name: "quay sign, a word on a plate of another film", File: "quay-sign.svg", Sheet: QuaySign(),
		Films: []string{"film-permanent-300=PLATE", "film-removable-610=WORD"},
		Want:  Want{Status: "ready", WidthMM: 220, HeightMM: 90},
	}}
}

// tags are badges and tags of one size.
func tags() []Case {
	return []Case{
		{
			Name: "crew badge, mirrored by the student", File: "crew-badge.svg", Sheet: CrewBadge(),
			Fields:  map[string]string{"stock": "film-heat-500"},
			Answers: []Answer{{Question: "artwork/mirror"}},
			Want:    Want{Status: "ready", WidthMM: 90, HeightMM: 55},
		},
		{
			Name: "class tag, four loose lines for a frame, in pixels", File: "tag-saltlark.svg", Sheet: ClassTag("SALTLARK", 210, 297).LooseFrame().Scaled(PixelsForMM),
			Fields: map[string]string{"stock": "card-160-a4", "copies": "33"},
			Want:   Want{Status: "ready", WidthMM: 90, HeightMM: 55, Cause: "pixels_read_as_mm", Findings: []string{"frame_loose"}, Sheets: 4},
		},
		{
			Name: "class tag on film, frame at 96 %: A3 or A4?", File: "tag-brinewren.dxf", Sheet: ClassTag("BRINEWREN", 297, 420).Scaled(0.96),
			Fields:  map[string]string{"stock": "film-permanent-300"},
			Answers: []Answer{{Question: "size/true_size", Choose: "A3.unnamed"}, {Question: "artwork/operation:pen", Choose: "nothing"}},
			Want:    Want{Status: "ready", WidthMM: 90, HeightMM: 55},
		},
		{
			Name: "class tag, stretched one way", File: "tag-quillfin.dxf", Sheet: ClassTag("QUILLFIN", 210, 297).Stretched(1.02),
			Fields:  map[string]string{"stock": "card-160-a4"},
			Answers: []Answer{{Question: "size/true_size", Choose: "A4.per_axis"}},
			Want:    Want{Status: "ready", WidthMM: 90, HeightMM: 55, Findings: []string{"frame_unstretched"}, Sheets: 1},
		},
	}
}

// folded carry lines to fold and to tear along, where that makes sense and where not.
func folded() []Case {
	return []Case{
		{
			Name: "gift tags, to tear apart and to fold", File: "gift-tags.svg", Sheet: GiftTags(),
			Fields: map[string]string{"stock": "card-160-a4"},
			Want:   Want{Status: "ready", WidthMM: 180, HeightMM: 90, Sheets: 1},
		},
		{
			Name: "folded box net, drawn in centimetres", File: "box-net.dxf", Sheet: BoxNet().Scaled(CentimForMM),
			Fields:  map[string]string{"stock": "card-160-a3"},
			Answers: []Answer{{Question: "size/true_size"}},
			Want:    Want{Status: "ready", WidthMM: 240, HeightMM: 200, Cause: "centimetres_read_as_mm", Findings: []string{"duplicate_lines"}, Sheets: 1},
		},
		{
			Name: "label with a score on film", File: "flood-label.svg", Sheet: FilmWithScore(),
			Fields:  map[string]string{"stock": "film-removable-610"},
			Answers: []Answer{{Question: "artwork/operation:score", Choose: "nothing"}},
			Want:    Want{Status: "ready", WidthMM: 120, HeightMM: 60},
		},
	}
}
