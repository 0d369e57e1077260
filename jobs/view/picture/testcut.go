package picture

import (
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
)

// TestCut draws a test cut: its cells with their numbers, force and speed, and the two
// marks that are measured. It fails only with the error of ctx.
func TestCut(ctx context.Context, s *testcut.Sheet, title, subtitle string) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page {
		p := newPage(b, title, subtitle)
		drawTestCut(p, s)
		return p
	})
}

// BenchTestCut draws it as a plate w × h mm for the worksheet of a test cut.
func BenchTestCut(ctx context.Context, s *testcut.Sheet, w, h float64) (*figure.Picture, error) {
	const feedRoom = 9 // mm, below the stock
	return finished(ctx, func(b *budget.Budget) *page {
		p := plate(b, w, h-feedRoom)
		drawTestCut(p, s)
		return p
	})
}

func drawTestCut(p *page, s *testcut.Sheet) {
	st := stockOf(s.Layout, &s.Layout.Loads[0])
	p.Open(st.box, figure.Inset{})
	p.Show(figure.Style{Fill: figure.Paper, Stroke: figure.Ink, Width: 1.6}, st.box.Path())
	for _, stroke := range s.Strokes {
		if !stroke.Path.Empty() {
			p.Show(strokeStyle(stroke.Operation), stroke.Path)
		}
	}
	for i, c := range s.Cells {
		box := p.OnPage(c.Box)
		p.Badge(geometry.Pt(box.Min.X-13, box.Centre().Y), 11, 14, badgeStyle(), fmt.Sprint(i+1))
		p.Label(geometry.Pt(box.Centre().X, box.Max.Y+18), 13, figure.Number(c.ForceGF)+" gf")
		p.Label(geometry.Pt(box.Centre().X, box.Max.Y+34), 13, figure.Number(c.SpeedMMS)+" mm/s")
	}
	across, along := s.Marks()
	length := figure.Number(trial.MarkMM) + " mm"
	low, left := p.OnPage(across), p.OnPage(along)
	p.Label(geometry.Pt(low.Centre().X, low.Max.Y+14), 13, "across the feed, "+length)
	p.Left(geometry.Pt(left.Max.X+6, left.Min.Y+14), "along the feed, "+length)
	p.loadingEdge(st)
}
