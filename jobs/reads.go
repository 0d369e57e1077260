package jobs

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// What each job reads of a request, and so what its key is made of: of the
// workshop's data the fields that the job uses and no others, so that a change
// runs again what it touches. What counts by itself must not be among them:
// metres that a blade has cut, loads of a mat, what is left on a roll while it
// does not bound the layout.

func readsDrawing(r *plan.Request) read.Request {
	return read.Request{Page: r.Options.Page, Rules: uncutLayers(conventionOf(r)), Replies: r.Replies.Of(read.Name)}
}

// uncutLayers returns of the rules of a convention those that say that nothing on a
// layer is cut, whatever its colour and width, and before them those that may say
// otherwise of the same layer.
func uncutLayers(c workshop.Convention) []workshop.Rule {
	var rules, others []workshop.Rule
	for _, r := range c.Rules {
		means := workshop.Rule{Layer: cmp.Or(r.Layer, "*"), Means: r.Means}
		switch {
		case r.Means != workshop.MeansFrame && r.Means != workshop.MeansNothing:
			others = append(others, means)
		case r.Layer != "" && r.Colour == nil && r.WidthMM == 0:
			on := r.Layer
			if r.Means == workshop.MeansFrame {
				on += "*" // its size may stand behind the name
			}
			before := func(o workshop.Rule) bool { return mayMeet(o.Layer, on) }
			for _, o := range others {
				if before(o) {
					rules = append(rules, o)
				}
			}
			rules, others = append(rules, means), slices.DeleteFunc(others, before)
		}
	}
	return rules
}

// mayMeet reports whether a layer may match both patterns: one that has no wildcards
// matches the other, or both have some.
func mayMeet(p, q string) bool {
	const wild = "*?["
	return strings.ContainsAny(p, wild) && strings.ContainsAny(q, wild) || workshop.OnLayer(p, q) || workshop.OnLayer(q, p)
}

func readsSize(r *plan.Request) size.Request {
	drawn := r.Drawn()
	stock := workshop.Stock{Form: drawn.Form, NamedSize: drawn.NamedSize, WidthMM: drawn.WidthMM}
	if stock.Form != workshop.Roll {
		stock.LengthMM = drawn.LengthMM
	}
	return size.Request{
		Frame: r.Size.Frame, KnownLength: r.Size.KnownLength, Unit: r.Size.Unit, Scale: r.Size.Scale,
		FrameIsSheet: r.Convention.FrameIsSheet,
		FrameLayers:  layersOf(conventionOf(r), workshop.MeansFrame), NotesLayers: layersOf(r.Convention, workshop.MeansNothing),
		WorkLayers: layersOf(r.Convention, workshop.MeansCut, workshop.MeansScore, workshop.MeansPerforate, workshop.MeansPen),
		Sheets:     r.Sheets, Stock: stock, MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(size.Name),
	}
}

// conventionOf returns the convention that holds for a drawing. Where the caller
// says that it has no frame, no layer or colour means one: the lines there are
// part of the work, and the rules that are left, or a question, say what for.
func conventionOf(r *plan.Request) workshop.Convention {
	c := r.Convention
	if strings.EqualFold(strings.TrimSpace(r.Size.Frame), size.NoFrame) {
		c.Rules = slices.DeleteFunc(slices.Clone(c.Rules), func(one workshop.Rule) bool { return one.Means == workshop.MeansFrame })
	}
	return c
}

// layersOf lists the layer patterns of the rules by which a convention gives
// lines one of the meanings, whatever their colour and width.
func layersOf(c workshop.Convention, means ...workshop.Meaning) []string {
	var layers []string
	for _, r := range c.Rules {
		if r.Layer != "" && r.Colour == nil && r.WidthMM == 0 && slices.Contains(means, r.Means) {
			layers = append(layers, r.Layer)
		}
	}
	return layers
}

func readsArtwork(r *plan.Request) films.Request {
	c, s := conventionOf(r), r.Drawn()
	return films.Request{Layering: r.Layering, Request: meaning.Request{
		Convention: workshop.Convention{Name: c.Name, Rules: c.Rules, ToleranceDE: c.ToleranceDE, NearDE: c.NearDE},
		Stock: workshop.Stock{
			Name: s.Name, Family: s.Family, Liner: s.Liner, Mirror: s.Mirror,
			Limits: workshop.Limits{LetterExpertMM: s.Limits.LetterExpertMM, LetterCareMM: s.Limits.LetterCareMM, LetterEasyMM: s.Limits.LetterEasyMM},
		},
		Purpose: string(r.Purpose), Mirror: r.Mirror, MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(artwork.Name),
		OutlinesApart: r.Replies[weeding.QuestionWeld].Answer == weeding.AnswerApart,
	}}
}

func readsWeeding(r *plan.Request) weeding.Request {
	o := r.Options
	return weeding.Request{
		Purpose: r.Purpose, Stock: workshop.Stock{Family: r.Stock.Family, Liner: r.Stock.Liner, Limits: limitsOf(r)},
		Border: r.Stock.Liner && !o.NoBorder, Relief: r.Stock.Liner && !o.NoRelief,
		Bridges: r.Purpose == weeding.Stencil && !o.NoBridges, Mirrored: r.Stock.CutMirrored(r.Mirror), Novice: o.Novice,
		Turned: r.Turned, MendsOff: o.MendsOff, Replies: r.Replies.Of(weeding.Name), Room: stencilRoom(r),
	}
}

// limitsOf returns the limits of the stock; where it is cut through, holes are
// also as large as the knife for it needs.
func limitsOf(r *plan.Request) workshop.Limits {
	l := r.Stock.Limits
	if !r.Stock.Liner {
		l.CounterMM = math.Max(l.CounterMM, passes.KnifeFor(r.Settings, r.Stock, r.Machine, artwork.ThroughCut).HoleMM)
	}
	return l
}

// stencilRoom is how large the sheet of a stencil may be on the stock, as the
// layout then lays it; nil for other purposes.
func stencilRoom(r *plan.Request) *weeding.Room {
	if r.Purpose != weeding.Stencil {
		return nil
	}
	s := r.Stock
	room := &weeding.Room{WidthMM: s.UsableWidthMM}
	if s.Form != workshop.Roll {
		room.LengthMM = s.LengthMM - 2*s.MarginMM
	}
	if !s.Liner {
		room.EdgeMM = (s.WidthMM - s.UsableWidthMM) / 2
		if s.Form != workshop.Roll {
			room.EdgeMM = min(room.EdgeMM, s.MarginMM)
		}
	}
	if w := r.Machine.WidthMM; w > 0 {
		room.WidthMM = min(room.WidthMM, w)
	}
	return room
}

func readsLayout(r *plan.Request) layout.Request {
	m := r.Machine
	stock := laidOn(r.Stock)
	stock.Join, stock.TapeWidthMM, stock.CaliperUM = r.Stock.Join, r.Stock.TapeWidthMM, 0
	others := make([]workshop.Stock, len(r.Others))
	for i, s := range r.Others {
		others[i] = laidOn(s)
		if s.Form == workshop.Roll {
			others[i].LengthMM = 0 // what is left changes by itself
		}
	}
	mats := slices.Clone(m.Mats)
	for i := range mats {
		mats[i].Loads = 0
	}
	return layout.Request{
		Stock: stock, Others: others,
		Machine: workshop.Machine{Name: m.Name, WidthMM: m.WidthMM, MaxCaliperUM: m.MaxCaliperUM, Mats: mats},
		Stencil: r.Purpose == weeding.Stencil,
		Copies:  r.Copies, Mirror: r.Mirror, OneTurn: r.Options.OneTurn, OnWall: r.Options.OnWall, Nesting: r.Options.Nesting.Asked(),
		Replies: r.Replies.Of(layout.Name), Panels: r.Options.Panels, Chart: readsWeeding(r), Again: r.Again, Apart: r.Options.PiecesMove, OneBorder: r.Options.OneBorder,
	}
}

// laidOn returns of a stock what decides where work may lie on it.
func laidOn(s workshop.Stock) workshop.Stock {
	return workshop.Stock{
		ID: s.ID, Name: s.Name, Family: s.Family, Form: s.Form, Hold: s.Hold, MatTack: s.MatTack, TapeTack: s.TapeTack, Mirror: s.Mirror,
		WidthMM: s.WidthMM, LengthMM: s.LengthMM, UsableWidthMM: s.UsableWidthMM,
		MarginMM: s.MarginMM, LeastMarginMM: s.LeastMarginMM, LeadMM: s.LeadMM, TailMM: s.TailMM, LongestRunMM: s.LongestRunMM,
		GapMM: s.GapMM, Holds: s.Holds, CaliperUM: s.CaliperUM, GrainDeg: s.GrainDeg, GrammageGSM: s.GrammageGSM,
	}
}

func readsPasses(r *plan.Request) passes.Request {
	s, m := r.Stock, r.Machine
	m.Mats = nil
	m.Blade, m.Blades = runBy(m.Blade), slices.Clone(m.Blades)
	for i := range m.Blades {
		m.Blades[i] = runBy(m.Blades[i])
	}
	return passes.Request{
		Stock:   workshop.Stock{ID: s.ID, Name: s.Name, Family: s.Family, Form: s.Form, Hold: s.Hold, UsableWidthMM: s.UsableWidthMM, CaliperUM: s.CaliperUM, GrainDeg: s.GrainDeg, GrammageGSM: s.GrammageGSM},
		Machine: m,
		Settings: slices.DeleteFunc(slices.Clone(r.Settings), func(one workshop.Setting) bool {
			return !passes.MayApply(one, s, m)
		}),
		Replies: r.Replies.Of(passes.Name), Lengths: wrongLengths(r), Untrusted: untrusted(r),
	}
}

// untrusted lists the settings that are not trusted for the batch that is loaded, by the
// alphabet; none where no batch is named.
func untrusted(r *plan.Request) []string {
	var all []string
	for id, s := range r.Standings {
		if r.Batch != "" && s.State != trial.Trusted {
			all = append(all, id)
		}
	}
	slices.Sort(all)
	return all
}

// wrongLengths returns the marks that were measured where they are off: whatever else was
// measured runs nothing again.
func wrongLengths(r *plan.Request) *trial.Marks {
	if r.Lengths == nil || !r.Lengths.Off() {
		return nil
	}
	return r.Lengths
}

// runBy returns of a blade what decides how it is run: which one it is does not.
func runBy(b workshop.Blade) workshop.Blade {
	b.LifeM, b.HoleMM, b.Fitted = 0, 0, ""
	return b
}

func readsEstimate(r *plan.Request) estimate.Request {
	s := r.Stock
	return estimate.Request{
		Stock:  workshop.Stock{ID: s.ID, Name: s.Name, Family: s.Family, Form: s.Form},
		Copies: r.Copies, Prices: r.Prices, Novice: r.Options.Novice, Calibration: r.Calibration,
	}
}
