// Package jobs is the list of the jobs that make a plan: what each needs and
// reads, how it runs, what it shows. They are pure functions in packages of
// their own; jobs/queue runs them with a queue and Postgres, jobs/local without.
//
// A drawing becomes a plan in this order:
//
//	read → size → artwork → weeding → layout → passes → estimate
//
// The weeding maps of several drawings become common loads in this:
//
//	weeding, weeding, … → share → share_passes → share_estimate
//
// To add a job, write its package and a row in NewList.
package jobs

import (
	"context"
	"encoding/json"
	"time"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/read"
	"knifedesk/jobs/share"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
)

// List is the jobs by their types and, as Rows, in their order.
type List struct {
	Read     Job[read.Result]
	Size     Job[size.Result]
	Artwork  Job[artwork.Artwork]
	Weeding  Job[weeding.Map]
	Layout   Job[layout.Layout]
	Passes   Job[passes.Plan]
	Estimate Job[estimate.Estimate]

	Rows []*Row

	// The jobs that lay the work of several drawings on common loads, and as Shared in
	// their order. They are no part of a plan; see SharedNodes.
	Share         Job[share.Share]
	SharePasses   Job[passes.Plan]
	ShareEstimate Job[estimate.Estimate]

	Shared []*Row
}

// NewList returns the list: what arrived, its true size, the artwork, what
// stays and goes, where the copies lie, how the knife runs, and what it costs
// in minutes and money.
func NewList() *List {
	l := &List{}
	l.Read = DefineFile(Row{Name: read.Name, Revision: 15, Cost: costOfReading, Hidden: true}, readsDrawing, runRead).
		Shows(view.OfDrawing)
	l.Size = Define1(Row{Name: size.Name, Revision: 15, Checks: true, Cost: bySegments(2e-6),
		Mends: []string{size.MendUnit, size.MendAxes, size.MendFrame}, Draw: view.DrawSize},
		l.Read, readsSize, runSize).
		Shows(view.OfSize)
	l.Artwork = Define2(Row{Name: artwork.Name, Revision: 13, Checks: true, Cost: bySegments(2e-5),
		Mends: []string{mend.MendStray, mend.MendDuplicates, mend.MendJoins, mend.MendGaps, mend.MendTiny, mend.MendFaceted, meaning.MendLength},
		Draw:  view.DrawArtwork},
		l.Read, l.Size, readsArtwork, runArtwork).
		Shows(view.OfArtwork)
	l.Weeding = Define1(Row{Name: weeding.Name, Revision: 12, Checks: true, Cost: bySegments(1e-5),
		Mends: []string{weeding.MendBridges}, Draw: view.DrawWeeding, ByPanel: true},
		l.Artwork, readsWeeding, runWeeding).
		Shows(view.OfWeeding)
	l.Layout = Define1(Row{Name: layout.Name, Revision: 13, Checks: true, Timeout: nesting, Asked: costOfNesting, Draw: view.DrawLayout, ByLoad: true},
		l.Weeding, readsLayout, runLayout).
		Shows(view.OfLayout)
	l.Passes = Define2(Row{Name: passes.Name, Revision: 12, Cost: costOfOrdering, Draw: view.DrawPasses, ByLoad: true},
		l.Weeding, l.Layout, readsPasses, runPasses).
		Shows(view.OfPasses)
	l.Estimate = Define3(Row{Name: estimate.Name, Revision: 6},
		l.Weeding, l.Layout, l.Passes, readsEstimate, runEstimate).
		Shows(view.OfEstimate)
	l.Rows = []*Row{l.Read.row, l.Size.row, l.Artwork.row, l.Weeding.row, l.Layout.row, l.Passes.row, l.Estimate.row}
	l.share()
	return l
}

// share defines the jobs over the weeding maps of several drawings.
func (l *List) share() {
	l.Share = DefineAll(Row{Name: share.Name, Revision: 4, Timeout: nesting, Asked: costOfSharing, Draw: view.DrawLayout, ByLoad: true},
		l.Weeding, readsShare, runShare).
		Shows(view.OfShare)
	l.SharePasses = Define1(Row{Name: share.NamePasses, Revision: 6, Cost: costOfOrdering, Draw: view.DrawPasses, ByLoad: true},
		l.Share, readsPasses, runSharedPasses).
		Shows(view.OfPasses)
	l.ShareEstimate = Define2(Row{Name: share.NameEstimate, Revision: 4},
		l.Share, l.SharePasses, readsEstimate, runSharedEstimate).
		Shows(view.OfEstimate)
	l.Shared = []*Row{l.Share.row, l.SharePasses.row, l.ShareEstimate.row}
}

// Mends returns the IDs of the mends that a request can switch off, in the
// order in which they are made.
func (l *List) Mends() []string {
	var all []string
	for _, row := range l.Rows {
		all = append(all, row.Mends...)
	}
	return all
}

// nesting bounds the layout: a thorough one takes ten minutes on two processors, and
// longer beside other work.
const nesting = 40 * time.Minute

// Estimates of processor time, as measured on two shared virtual cores. They
// only decide what gets a job of its own.

// costOfReading: a DXF file of 59 MB takes half a second, dense SVG ten times
// as long.
func costOfReading(c view.Counts) float64 { return 1e-7 * float64(c.Bytes) }

func bySegments(each float64) func(view.Counts) float64 {
	return func(c view.Counts) float64 { return each * float64(c.Segments) }
}

// costOfOrdering: 1,000 strokes take about a second, 10,000 three.
func costOfOrdering(c view.Counts) float64 { return 1e-3 * float64(c.Strokes*max(1, c.Copies)) }

// costOfNesting: what layout.Quick and the others say of about fifty copies, on two
// processors.
func costOfNesting(reads []byte) float64 {
	var asked nestingAsked
	if json.Unmarshal(reads, &asked) != nil {
		return 0 // the run will say what is wrong
	}
	return asked.cost()
}

// costOfSharing is the same for what several drawings share.
func costOfSharing(reads []byte) float64 {
	var asked struct {
		Layout nestingAsked `json:"layout"`
	}
	if json.Unmarshal(reads, &asked) != nil {
		return 0
	}
	return asked.Layout.cost()
}

type nestingAsked struct {
	Nesting layout.Nesting `json:"nesting"`
}

func (n nestingAsked) cost() float64 {
	return map[layout.Nesting]float64{layout.Quick: 4, layout.Normal: 120, layout.Thorough: 1200}[n.Nesting]
}

func runRead(ctx context.Context, q read.Request, file []byte) (*read.Result, error) {
	return asSuggested(&q.Replies, func() (*read.Result, error) { return read.Drawing(ctx, file, q) })
}

func runSize(ctx context.Context, q size.Request, d *read.Result) (*size.Result, error) {
	return asSuggested(&q.Replies, func() (*size.Result, error) { return size.Repair(ctx, &d.Drawing, q) })
}

func runArtwork(ctx context.Context, q films.Request, d *read.Result, s *size.Result) (*artwork.Artwork, error) {
	return asSuggested(&q.Replies, func() (*artwork.Artwork, error) { return films.Resolve(ctx, &d.Drawing, s, q) })
}

func runWeeding(ctx context.Context, q weeding.Request, a *artwork.Artwork) (*weeding.Map, error) {
	return asSuggested(&q.Replies, func() (*weeding.Map, error) { return weeding.Chart(ctx, a, q) })
}

func runLayout(ctx context.Context, q layout.Request, m *weeding.Map) (*layout.Layout, error) {
	if len(q.Again) > 0 {
		return layAgain(ctx, q, m)
	}
	piece := layout.PieceOf(m, q.Stock)
	piece.Map = m
	first, second := ctx, ctx
	if q.Apart || q.OneBorder {
		first, second = budget.Part(ctx, 0, 0.5), budget.Part(ctx, 0.5, 1)
	}
	l, err := asSuggested(&q.Replies, func() (*layout.Layout, error) { return layout.Place(first, piece, q) })
	if err != nil || len(l.Loads) == 0 {
		return l, err
	}
	for _, other := range [...]func(context.Context, layout.Request, *weeding.Map, *layout.Layout) (*layout.Layout, error){layApart, layBordered} {
		if found, err := other(second, q, m, l); err != nil || found != nil {
			return found, err
		}
	}
	return l, nil
}

func runPasses(ctx context.Context, q passes.Request, m *weeding.Map, l *layout.Layout) (*passes.Plan, error) {
	if len(l.Maps) == 0 { // else its regions lie on several
		q.Removed = passes.SpotsOf(m)
	}
	return passes.Order(ctx, m.Strokes, l, q)
}

func runEstimate(_ context.Context, q estimate.Request, m *weeding.Map, l *layout.Layout, p *passes.Plan) (*estimate.Estimate, error) {
	return estimate.Of(q, m, l, p), nil
}
