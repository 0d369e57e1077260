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
		if !drawTestCut(p, s) {
			p.Foot += 8
			for i, c := range s.Cells {
				p.Paragraph(0, fmt.Sprintf("%d: %s gf at %s mm/s", i+1, figure.Number(c.ForceGF), figure.Number(c.SpeedMMS)))
			}
		}
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

// drawTestCut draws the sheet, and reports whether force and speed had room beside all
// cells; where they have none they are left out, and only numbers are written.
func drawTestCut(p *page, s *testcut.Sheet) (said bool) {
	st := stockOf(s.Layout, &s.Layout.Loads[0])
	p.Open(st.box, figure.Inset{})
	p.Show(figure.Style{Fill: figure.Paper, Stroke: figure.Ink, Width: 1.6}, st.box.Path())
	for _, stroke := range s.Strokes {
		if !stroke.Path.Empty() {
			p.Show(strokeStyle(stroke.Operation), stroke.Path)
		}
	}
	p.Zone = figure.ZoneMarks
	said = cellsHaveRoom(p, s)
	for i, c := range s.Cells {
		box := p.OnPage(c.Box)
		if !said {
			p.Label(geometry.Pt(box.Centre().X, box.Max.Y+16), 13, fmt.Sprint(i+1))
			continue
		}
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
	return said
}

// cellsHaveRoom reports whether what is written below each cell lies on no other cell, on
// nothing that is written below another, and on no mark.
func cellsHaveRoom(p *page, s *testcut.Sheet) bool {
	const high = 40 // pixels
	across, along := s.Marks()
	taken := []geometry.Box{p.OnPage(across), p.OnPage(along)}
	for _, c := range s.Cells {
		taken = append(taken, p.OnPage(c.Box))
	}
	for _, c := range s.Cells {
		box := p.OnPage(c.Box)
		half := p.TextWidth(figure.Number(c.SpeedMMS)+" mm/s", 13, true) / 2
		text := geometry.BoxAround(geometry.Pt(box.Centre().X-half, box.Max.Y+4), geometry.Pt(box.Centre().X+half, box.Max.Y+high))
		if !free(text, taken) {
			return false
		}
		taken = append(taken, text)
	}
	return true
}
