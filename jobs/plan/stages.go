package plan

import (
	"context"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// The names of the stages in geometry.
const (
	StageRead    = "read"
	StageSize    = "size"
	StageArtwork = "artwork"
	StageWeeding = "weeding"
	StageLayout  = "layout"
	StagePasses  = "passes"
)

// Stages returns the computation as a list of steps, in order: what arrived,
// its true size, the artwork, what stays and goes, where the copies lie, and
// how the knife runs. jobs/estimate adds minutes and money.
func Stages() []Stage {
	return []Stage{
		{Name: StageRead, Revision: 5, Reads: readsDrawing, Run: readDrawing},
		{Name: StageSize, Revision: 5, Needs: []string{StageRead}, Checks: true, Reads: readsSize, Run: repairSize},
		{Name: StageArtwork, Revision: 5, Needs: []string{StageRead, StageSize}, Checks: true, Reads: readsArtwork, Run: makeArtwork},
		{Name: StageWeeding, Revision: 3, Needs: []string{StageArtwork}, Checks: true, Reads: readsWeeding, Run: mapWeeding},
		{Name: StageLayout, Revision: 2, Needs: []string{StageWeeding}, Checks: true, Reads: readsLayout, Run: layOut},
		{Name: StagePasses, Revision: 2, Needs: []string{StageWeeding, StageLayout}, Reads: readsPasses, Run: orderPasses},
	}
}

// drawingRead is what the first stage depends on besides the file.
type drawingRead struct {
	Page    int         `json:"page,omitempty"`
	Replies ask.Replies `json:"replies,omitempty"`
}

func readsDrawing(r *Request) any {
	return drawingRead{Page: page(r), Replies: r.Replies.Of(StageRead)}
}

func readDrawing(_ context.Context, in Input) (Result, error) {
	d := read(in.File, page(in.Request))
	settleRead(d, in.Request.Replies.Of(StageRead))
	return d, nil
}

func readsSize(r *Request) any {
	return size.Request{
		Frame: r.Size.Frame, KnownLength: r.Size.KnownLength, Unit: r.Size.Unit, Scale: r.Size.Scale,
		FrameIsSheet: r.Convention.FrameIsSheet, FrameLayers: frameLayers(r.Convention),
		Sheets: r.Sheets, Stock: r.Stock, MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(StageSize),
	}
}

func repairSize(_ context.Context, in Input) (Result, error) {
	var d drawing.Drawing
	if err := in.From(StageRead, &d); err != nil {
		return nil, err
	}
	return size.Repair(&d, readsSize(in.Request).(size.Request))
}

func readsArtwork(r *Request) any {
	return meaning.Request{
		Convention: r.Convention, Stock: r.Stock, Purpose: string(r.Purpose), Mirror: r.Mirror,
		MendsOff: r.Options.MendsOff, Replies: r.Replies.Of(StageArtwork),
		OutlinesApart: r.Replies[weeding.QuestionWeld].Answer == weeding.AnswerApart,
	}
}

func makeArtwork(_ context.Context, in Input) (Result, error) {
	var d drawing.Drawing
	if err := in.From(StageRead, &d); err != nil {
		return nil, err
	}
	var s size.Result
	if err := in.From(StageSize, &s); err != nil {
		return nil, err
	}
	return meaning.Resolve(&d, &s, readsArtwork(in.Request).(meaning.Request))
}

func readsWeeding(r *Request) any {
	o := r.Options
	return weeding.Request{
		Purpose: r.Purpose, Stock: r.Stock,
		Border: r.Stock.Liner && !o.NoBorder, Relief: r.Stock.Liner && !o.NoRelief,
		Bridges: r.Purpose == weeding.Stencil && !o.NoBridges, Novice: o.Novice,
		Turned: r.Turned, MendsOff: o.MendsOff, Replies: r.Replies.Of(StageWeeding),
	}
}

func mapWeeding(_ context.Context, in Input) (Result, error) {
	var a artwork.Artwork
	if err := in.From(StageArtwork, &a); err != nil {
		return nil, err
	}
	return weeding.Chart(&a, readsWeeding(in.Request).(weeding.Request))
}

func readsLayout(r *Request) any {
	return layout.Request{
		Stock: r.Stock, Machine: r.Machine, Copies: r.Copies, Mirror: r.Mirror,
		OneTurn: r.Options.OneTurn, Replies: r.Replies.Of(StageLayout),
	}
}

func layOut(ctx context.Context, in Input) (Result, error) {
	var m weeding.Map
	if err := in.From(StageWeeding, &m); err != nil {
		return nil, err
	}
	return layout.Place(ctx, layout.PieceOf(&m, in.Request.Stock.GrainDeg), readsLayout(in.Request).(layout.Request))
}

func readsPasses(r *Request) any {
	return passes.Request{Stock: r.Stock, Machine: r.Machine, Settings: r.Settings}
}

func orderPasses(ctx context.Context, in Input) (Result, error) {
	var m weeding.Map
	if err := in.From(StageWeeding, &m); err != nil {
		return nil, err
	}
	var l layout.Layout
	if err := in.From(StageLayout, &l); err != nil {
		return nil, err
	}
	return passes.Order(ctx, m.Strokes, &l, readsPasses(in.Request).(passes.Request))
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
