package jobs

import (
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// What each job reads of a request, and so what its key is made of: of the
// workshop's data the fields that the job uses and no others, so that a change
// runs again what it touches. What counts by itself must not be among them:
// metres that a blade has cut, loads of a mat, what is left on a roll while it
// does not bound the layout.

func readsDrawing(r *plan.Request) read.Request {
	return read.Request{Page: r.Options.Page, Replies: r.Replies.Of(read.Name)}
}

func readsSize(r *plan.Request) size.Request {
	stock := workshop.Stock{Form: r.Stock.Form, NamedSize: r.Stock.NamedSize, WidthMM: r.Stock.WidthMM}
	if stock.Form != workshop.Roll {
		stock.LengthMM = r.Stock.LengthMM
	}
	return size.Request{
		Frame: r.Size.Frame, KnownLength: r.Size.KnownLength, Unit: r.Size.Unit, Scale: r.Size.Scale,
		FrameIsSheet: r.Convention.FrameIsSheet, FrameLayers: frameLayers(r.Convention),
		Sheets: r.Sheets, Stock: stock, MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(size.Name),
	}
}

// frameLayers lists the layer patterns that a convention gives to the frame.
func frameLayers(c workshop.Convention) []string {
	var layers []string
	for _, r := range c.Rules {
		if r.Means == workshop.MeansFrame && r.Layer != "" {
			layers = append(layers, r.Layer)
		}
	}
	return layers
}

func readsArtwork(r *plan.Request) meaning.Request {
	c, s := r.Convention, r.Stock
	return meaning.Request{
		Convention: workshop.Convention{Name: c.Name, Rules: c.Rules, ToleranceDE: c.ToleranceDE, NearDE: c.NearDE},
		Stock:      workshop.Stock{Name: s.Name, Family: s.Family, Liner: s.Liner, Mirror: s.Mirror},
		Purpose:    string(r.Purpose), Mirror: r.Mirror, MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(artwork.Name),
		OutlinesApart: r.Replies[weeding.QuestionWeld].Answer == weeding.AnswerApart,
	}
}

func readsWeeding(r *plan.Request) weeding.Request {
	o := r.Options
	return weeding.Request{
		Purpose: r.Purpose, Stock: workshop.Stock{Liner: r.Stock.Liner, Limits: r.Stock.Limits},
		Border: r.Stock.Liner && !o.NoBorder, Relief: r.Stock.Liner && !o.NoRelief,
		Bridges: r.Purpose == weeding.Stencil && !o.NoBridges, Mirrored: r.Stock.CutMirrored(r.Mirror), Novice: o.Novice,
		Turned: r.Turned, MendsOff: o.MendsOff, Replies: r.Replies.Of(weeding.Name), Room: stencilRoom(r),
	}
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
	s, m := r.Stock, r.Machine
	return layout.Request{
		Stock: workshop.Stock{
			Name: s.Name, Form: s.Form, Hold: s.Hold, MatTack: s.MatTack, TapeTack: s.TapeTack, Mirror: s.Mirror,
			WidthMM: s.WidthMM, LengthMM: s.LengthMM, UsableWidthMM: s.UsableWidthMM,
			MarginMM: s.MarginMM, LeadMM: s.LeadMM, TailMM: s.TailMM, GapMM: s.GapMM, GrainDeg: s.GrainDeg,
		},
		Machine: workshop.Machine{Name: m.Name, WidthMM: m.WidthMM, Mats: m.Mats},
		Copies:  r.Copies, Mirror: r.Mirror, OneTurn: r.Options.OneTurn, Replies: r.Replies.Of(layout.Name),
	}
}

func readsPasses(r *plan.Request) passes.Request {
	s, m := r.Stock, r.Machine
	m.Mats = nil
	m.Blade.LifeM, m.Blades = 0, slices.Clone(m.Blades)
	for i := range m.Blades {
		m.Blades[i].LifeM = 0
	}
	return passes.Request{
		Stock:   workshop.Stock{ID: s.ID, Name: s.Name, Family: s.Family, Form: s.Form, Hold: s.Hold, CaliperUM: s.CaliperUM, GrainDeg: s.GrainDeg},
		Machine: m,
		Settings: slices.DeleteFunc(slices.Clone(r.Settings), func(one workshop.Setting) bool {
			return !passes.MayApply(one, s, m)
		}),
	}
}

func readsEstimate(r *plan.Request) estimate.Request {
	s := r.Stock
	return estimate.Request{
		Stock:  workshop.Stock{ID: s.ID, Name: s.Name, Family: s.Family, Form: s.Form},
		Copies: r.Copies, Prices: r.Prices,
	}
}
