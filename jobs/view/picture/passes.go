package picture

import (
	"context"
	"fmt"
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
)

// Passes draws one load with its passes in order: where the knife comes down,
// how it travels between, and the setting of each pass. It fails where there is
// no such load, and with the error of ctx.
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
	r := &runs{page: p, passes: passes, strokes: m.Strokes, place: map[int]geometry.Affine{}}
	for _, pl := range ld.Placements {
		r.place[pl.Copy] = pl.Transform
	}
	st := stockOf(l, ld)
	p.eachRow(st, func() {
		p.Show(figure.Style{Fill: stockTint, Stroke: figure.Ink, Width: 1.4}, st.box.Path())
		r.content(len(ld.Placements))
	}, r.number)
	p.ScaleBar()
	p.feed(st.turned)
	r.legends()
	p.leftOut(r.left)
	return p
}

// runs is the passes of a load being drawn.
type runs struct {
	*page
	passes  []passes.Pass
	strokes []artwork.Stroke
	place   map[int]geometry.Affine // by copy
	left    figure.Detail
	travels bool // the way of the lifted knife is drawn
	leads   bool // a lead-in is drawn
	dots    bool // some runs have no number
}

// content draws the lines of each pass and the way between them.
func (r *runs) content(copies int) {
	paths := make([]geometry.Path, len(r.strokes))
	for i := range r.strokes {
		paths[i] = r.strokes[i].Path
	}
	r.left = r.DetailOf(paths, copies)
	for _, ps := range r.passes {
		var lines []geometry.Path
		for _, run := range ps.Runs {
			if q := r.Visible(r.left.Shown[run.Stroke], r.place[run.Copy]); !q.Empty() {
				lines = append(lines, q)
			}
		}
		r.Draw(pale(strokeStyle(ps.Operation)), lines...)
	}
	for _, ps := range r.passes {
		r.travel(ps.Runs)
	}
	r.leadIns()
}

// leadIns draws what is cut in waste to turn the blade: before the first pass of a
// knife, and after each change of the tool.
func (r *runs) leadIns() {
	known := false
	for _, ps := range r.passes {
		known = known && !ps.Changed
		if ps.LeadIn == nil || known {
			continue
		}
		known, r.leads = true, true
		r.Show(leadInStyle(), geometry.Polyline(ps.LeadIn.From, ps.LeadIn.To))
	}
}

// mostTravel is how many ways of the lifted knife a picture shows: more would
// hide the lines.
const mostTravel = 400

// travel draws the way of the lifted knife from start to start.
func (r *runs) travel(all []passes.Run) {
	if len(all) < 2 || len(all) > mostTravel {
		return
	}
	starts := make([]geometry.Point, len(all))
	for i, run := range all {
		starts[i] = run.At
	}
	r.Show(travelStyle(), geometry.Polyline(starts...))
	r.travels = true
}

// manyRuns is how many runs are numbered as closely as the numbers fit.
const manyRuns = 60

func (r *runs) count() int {
	n := 0
	for _, ps := range r.passes {
		n += len(ps.Runs)
	}
	return n
}

// number marks where the knife comes down in the row, and numbers the first
// and the last run of each pass and as many others as stay readable.
func (r *runs) number(row geometry.Box) {
	r.downs(row)
	near, first := 26.0, 1
	if r.count() > manyRuns {
		near = 64
	}
	for _, ps := range r.passes {
		last := len(ps.Runs) - 1
		for _, i := range firstThenLast(len(ps.Runs)) {
			r.b.Step()
			apart := near
			if i == 0 || i == last {
				apart = 0
			}
			r.numberRun(ps.Runs[i], first+i, apart, row, strokeStyle(ps.Operation).Stroke)
		}
		first += len(ps.Runs)
	}
}

// firstThenLast lists 0 to n−1 with the ends first.
func firstThenLast(n int) []int {
	var list []int
	for i := range n {
		if i == 1 && n > 2 {
			list = append(list, n-1)
		}
		if i == 0 || i < n-1 || n == 2 {
			list = append(list, i)
		}
	}
	return list
}

// mostDowns is above how many runs only the numbered starts are marked.
const mostDowns = 4000

// downs puts a dot where the knife comes down, one for all that fall together.
func (r *runs) downs(row geometry.Box) {
	if r.count() > mostDowns {
		return
	}
	seen := make([]bool, r.Spots.Count())
	for _, ps := range r.passes {
		var dots []geometry.Path
		for _, run := range ps.Runs {
			q := r.View.Apply(run.At)
			if i, ok := r.Spots.At(q); ok && !seen[i] && inRow(run.At, row) {
				seen[i] = true
				dots = append(dots, geometry.Polyline(q, q))
			}
		}
		r.Draw(figure.Style{Stroke: strokeStyle(ps.Operation).Stroke, Width: 4.4}, dots...)
	}
}

func inRow(q geometry.Point, row geometry.Box) bool { return q.Y >= row.Min.Y && q.Y <= row.Max.Y }

// numberRun writes the number of a run beside its start, unless other numbers
// stand within apart pixels.
func (r *runs) numberRun(run passes.Run, n int, apart float64, row geometry.Box, inkOf string) {
	if !inRow(run.At, row) {
		return
	}
	q := r.View.Apply(run.At)
	b := badgeSizes(len(strconv.Itoa(n)))[1]
	if apart > 0 && !r.Spots.Lonely(q, apart) {
		r.dots = true
		return
	}
	at, ok := r.Spots.Beside(q, b[0], nil)
	if !ok {
		r.dots = true
		return
	}
	r.Leader(at, b[0], q, inkOf)
	r.Badge(at, b[0], b[1], figure.Style{Stroke: inkOf, Width: 1.6, Fill: figure.Paper}, strconv.Itoa(n))
	r.Spots.Take(at, b[0]+2)
}

func (r *runs) legends() {
	first := 1
	for i, ps := range r.passes {
		r.Legend(passText(i+1, first, &ps), r.LineSwatch(pale(strokeStyle(ps.Operation))))
		first += len(ps.Runs)
	}
	if first > 1 {
		text := "the knife comes down; the numbers are the order of the runs"
		if r.dots {
			text += "; not all have room"
		}
		r.Legend(text, func(b geometry.Box) {
			at := geometry.Pt(b.Max.X-14, b.Centre().Y)
			r.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, geometry.Polyline(geometry.Pt(b.Min.X+4, at.Y), at))
			r.Draw(figure.Style{Fill: figure.Ink}, geometry.Circle(geometry.Pt(b.Min.X+4, at.Y), 2.6))
			r.Badge(at, 9.5, 12, figure.Style{Stroke: figure.Ink, Width: 1.6, Fill: figure.Paper}, "1")
		})
	}
	if r.leads {
		r.Legend("cut first, in waste: it turns the blade", r.LineSwatch(leadInStyle()))
	}
	if r.travels {
		r.Legend("way of the lifted knife, from start to start", r.LineSwatch(travelStyle()))
	}
}

func passText(number, first int, ps *passes.Pass) string {
	runs := fmt.Sprintf("runs %d to %d", first, first+len(ps.Runs)-1)
	if len(ps.Runs) == 1 {
		runs = fmt.Sprintf("run %d", first)
	}
	s := ps.Setting
	return fmt.Sprintf("pass %d, %s (%s): %s gf, %s mm/s, %d×; %s in %s", number, operationName(ps.Operation), runs,
		figure.Number(s.ForceGF), figure.Number(s.SpeedMMS), max(s.Passes, 1), total(ps.CutMM), duration(ps.MotionS))
}
