package jobs

import (
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

// What each job reads of a request, and so what its key is made of.

func readsDrawing(r *plan.Request) read.Request {
	return read.Request{Page: r.Options.Page, Replies: r.Replies.Of(read.Name)}
}

func readsSize(r *plan.Request) size.Request {
	return size.Request{
		Frame: r.Size.Frame, KnownLength: r.Size.KnownLength, Unit: r.Size.Unit, Scale: r.Size.Scale,
		FrameIsSheet: r.Convention.FrameIsSheet, FrameLayers: frameLayers(r.Convention),
		Sheets: r.Sheets, Stock: r.Stock, MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(size.Name),
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
	return meaning.Request{
		Convention: r.Convention, Stock: r.Stock, Purpose: string(r.Purpose), Mirror: r.Mirror,
		MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(artwork.Name),
		OutlinesApart: r.Replies[weeding.QuestionWeld].Answer == weeding.AnswerApart,
	}
}

func readsWeeding(r *plan.Request) weeding.Request {
	o := r.Options
	return weeding.Request{
		Purpose: r.Purpose, Stock: r.Stock,
		Border: r.Stock.Liner && !o.NoBorder, Relief: r.Stock.Liner && !o.NoRelief,
		Bridges: r.Purpose == weeding.Stencil && !o.NoBridges, Novice: o.Novice,
		Turned: r.Turned, MendsOff: o.MendsOff, Replies: r.Replies.Of(weeding.Name),
	}
}

func readsLayout(r *plan.Request) layout.Request {
	return layout.Request{
		Stock: r.Stock, Machine: r.Machine, Copies: r.Copies, Mirror: r.Mirror,
		OneTurn: r.Options.OneTurn, Replies: r.Replies.Of(layout.Name),
	}
}

func readsPasses(r *plan.Request) passes.Request {
	return passes.Request{Stock: r.Stock, Machine: r.Machine, Settings: r.Settings}
}

func readsEstimate(r *plan.Request) estimate.Request {
	return estimate.Request{Stock: r.Stock, Copies: r.Copies, Prices: r.Prices}
}
