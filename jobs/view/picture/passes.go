package picture

import (
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
)

// Passes draws one load pass by pass, a panel each: its tool and setting, what was cut
// before it, and where, in which order and which way each of its strokes is run. It
// fails where there is no such load, and with the error of ctx.
func Passes(ctx context.Context, pp *passes.Plan, l *layout.Layout, m *weeding.Map, load int) (*figure.Picture, error) {
	ld, err := pick(l, load)
	if err != nil {
		return nil, err
	}
	if load > len(pp.Loads) {
		return nil, fmt.Errorf("picture: load %d has no passes", load)
	}
	passes := pp.Loads[load-1].Passes
	return finished(ctx, func(b *budget.Budget) *page { return passesPage(b, passes, l, ld, m, load) })
}

func passesPage(b *budget.Budget, passes []passes.Pass, l *layout.Layout, ld *layout.Load, m *weeding.Map, load int) *page {
	p := newPage(b, "Passes", fmt.Sprintf("load %d of %d, %s", load, len(l.Loads), count(len(passes), "pass", "passes in this order")))
	r := &runs{page: p, passes: passes, laid: l, strokes: m.Strokes, place: map[int]geometry.Affine{}}
	for _, pl := range ld.Placements {
		r.place[pl.Copy] = pl.Transform
	}
	st := stockOf(l, ld)
	for i := range passes {
		r.panel(i, r.shownOf(ld, st), st)
	}
	if len(passes) > 0 {
		p.ScaleBar()
	}
	p.feed(st.turned)
	p.Legend(leadText, p.LineSwatch(leadStyle()))
	r.legends()
	p.leftOut(r.left)
	return p
}

// runs is the passes of a load being drawn.
type runs struct {
	*page
	passes  []passes.Pass
	laid    *layout.Layout
	strokes []artwork.Stroke
	place   map[int]geometry.Affine // by copy
	left    figure.Detail
	leads   bool // a lead-in is drawn
	bare    bool // some starts have no number
	dropped bool // some starts are not marked
}

// shownOf returns the parts of the stock that a panel shows, one below the other: what
// is worked on with a little round it, where it is not a long roll.
func (r *runs) shownOf(ld *layout.Load, st stock) []geometry.Box {
	if len(st.rows) > 1 {
		return st.rows
	}
	work := geometry.EmptyBox()
	for _, pl := range ld.Placements {
		work = work.Union(pl.Bounds)
	}
	for i := range r.passes {
		if lead := r.passes[i].LeadIn; lead != nil {
			work = work.Union(geometry.BoxAround(lead.From, lead.To))
		}
	}
	for i := range r.passes {
		if mark := r.passes[i].Mark; mark != nil {
			work = work.Union(mark.Box)
		}
	}
	if work.Empty() {
		return st.rows
	}
	work = work.Grow(0.04 * max(work.Width(), work.Height()))
	return []geometry.Box{geometry.BoxAround(
		geometry.Pt(max(work.Min.X, st.box.Min.X), max(work.Min.Y, st.box.Min.Y)),
		geometry.Pt(min(work.Max.X, st.box.Max.X), min(work.Max.Y, st.box.Max.Y)),
	)}
}

// panel draws one pass, in its rows where the stock is long.
func (r *runs) panel(i int, rows []geometry.Box, st stock) {
	ps := &r.passes[i]
	r.Part(fmt.Sprintf("Pass %d: %s", i+1, ps.Operation.Words()))
	r.Legend(passText(ps), r.LineSwatch(strokeStyle(ps.Operation)))
	for _, row := range rows {
		if len(rows) > 1 {
			r.Caption(fmt.Sprintf("%s to %s mm from the loading edge", whole(row.Min.Y), whole(row.Max.Y)))
		}
		r.Open(row, figure.Inset{Turned: st.turned, Tight: true, Marked: true})
		r.Within(r.Area, func() {
			r.ShowWork(figure.Style{Fill: stockTint, Stroke: figure.Ink, Width: 1.4}, st.box.Path())
			r.lead(st)
			r.content(i)
		})
		r.Zone = figure.ZoneMarks
		r.mark(ps, row)
	}
}

// content draws the lines of a pass, those of the passes before it, and what it cuts
// first in waste.
func (r *runs) content(i int) {
	paths := make([]geometry.Path, len(r.strokes))
	for k := range r.strokes {
		paths[k] = r.strokes[k].Path
	}
	r.left = r.DetailOf(paths, len(r.place)*len(r.passes))
	for k := range r.passes[:i] {
		before := r.lines(&r.passes[k])
		r.Spots.Line(before)
		r.Draw(beforeStyle(), before...)
	}
	ps := &r.passes[i]
	lines := r.lines(ps)
	r.Spots.Line(lines)
	r.Draw(strokeStyle(ps.Operation), lines...)
	if ps.Mark != nil {
		r.ShowWork(strokeStyle(ps.Operation), ps.Mark.Box.Path())
	}
	if ps.LeadIn != nil {
		r.leads = true
		r.leadIn(r.View.Apply(ps.LeadIn.From), r.View.Apply(ps.LeadIn.To))
	}
}

// lines returns what the panel shows of the lines of a pass, in pixels.
func (r *runs) lines(ps *passes.Pass) []geometry.Path {
	var lines []geometry.Path
	for _, run := range ps.Runs {
		if q := r.Visible(r.left.Shown[run.Stroke], r.place[run.Copy]); !q.Empty() {
			lines = append(lines, q)
		}
	}
	return lines
}

func (r *runs) legends() {
	if len(r.passes) > 1 {
		r.Legend("cut or drawn in the passes before", r.LineSwatch(beforeStyle()))
	}
	text := "here a stroke starts and this way it runs; numbered in their order"
	switch {
	case r.dropped:
		text += ", as many as have room"
	case r.bare:
		text += ", not all with room for a number"
	}
	r.Legend(text, func(b geometry.Box) {
		start := geometry.Pt(b.Min.X+5, b.Centre().Y)
		r.Line(figure.Style{Stroke: figure.Ink, Width: 1.6}, start, geometry.Pt(b.Max.X, start.Y))
		r.start(start, figure.Ink)
		r.head(start.Add(geometry.Pt(headAt, 0)), geometry.Pt(headLong/2, 0), figure.Ink)
	})
	if r.leads {
		r.Legend("cut first, in waste: it turns the blade", func(b geometry.Box) {
			middle := b.Centre()
			r.leadIn(middle.Sub(geometry.Pt(9, 0)), middle.Add(geometry.Pt(9, 0)))
		})
	}
}

// leadIn draws what is cut first in waste, in pixels: a bar across each of its ends tells
// it from the loading edge, near which it often lies, also in grey.
func (r *runs) leadIn(from, to geometry.Point) {
	const half = 6.0
	across := to.Sub(from).Unit().Perp().Mul(half)
	lines := []geometry.Path{
		geometry.Polyline(from, to), geometry.Polyline(from.Sub(across), from.Add(across)), geometry.Polyline(to.Sub(across), to.Add(across)),
	}
	r.Draw(leadInStyle(), lines...)
	r.Spots.Line(lines)
}

// passText says what is in the holder for a pass, how it is set, and what it does.
func passText(ps *passes.Pass) string {
	s, turns := ps.Setting, ""
	what := count(len(ps.Runs), "stroke", "strokes")
	if ps.Mark != nil {
		what = "a test mark"
	}
	if ps.Turns > 0 {
		turns = fmt.Sprintf("; lifted and turned %s", count(ps.Turns, "time", "times"))
	}
	return fmt.Sprintf("%s; %s gf, %s mm/s, %d×; %s, %s in %s%s", ps.Tool(), figure.Number(s.ForceGF), figure.Number(s.SpeedMMS),
		max(s.Passes, 1), what, total(ps.CutMM), duration(ps.MotionS), turns)
}
