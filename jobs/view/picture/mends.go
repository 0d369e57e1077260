package picture

import (
	"context"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// Mended is Artwork of which something was mended: below it each mend is shown near by, as
// it was drawn and as it is cut.
func Mended(ctx context.Context, d *read.Result, s *size.Result, a *artwork.Artwork, earlier ...finding.Finding) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page {
		findings := slices.Concat(earlier, a.Findings)
		p := artworkPage(b, a, nil, findings)
		name := tagNames(findings)
		showMends(p, a, asDrawn(b, d, s, a), findings, func(i int) string { return name(i + len(earlier)) })
		return p
	})
}

// IsMended reports whether a mend was made that can be shown.
func IsMended(a *artwork.Artwork) bool { return slices.ContainsFunc(a.Findings, canBeShown) }

// canBeShown reports whether a mend changed a line where it can be seen; a point looks the
// same when it is gone.
func canBeShown(f finding.Finding) bool {
	return f.Code != finding.StrayPoints && f.Mend != nil && f.Mend.Applied && len(f.Places) > 0 && !f.Places[0].Nowhere()
}

// asDrawn returns the lines of the drawing where the artwork has them.
func asDrawn(b *budget.Budget, d *read.Result, s *size.Result, a *artwork.Artwork) []geometry.Path {
	drawn, _ := apart(b, d, s)
	place := a.Placed()
	if a.Scale != 0 {
		place = geometry.Scale(a.Scale, a.Scale).Then(place)
	}
	for i := range drawn {
		b.Spend(len(drawn[i].Segments))
		drawn[i] = drawn[i].Transform(place)
	}
	return drawn
}

// The cells in which a mend is shown, in pixels, and how many mends are.
const (
	mendWide  = 440.0
	mendHigh  = 170.0
	mendApart = 40.0
	mostMends = 4
)

// showMends draws the first place of each mend twice: as drawn, with the ends of its lines,
// and as it is cut.
func showMends(p *page, a *artwork.Artwork, drawn []geometry.Path, findings []finding.Finding, name func(i int) string) {
	cut := pathsOf(a.Strokes)
	shown := 0
	for i, f := range a.Findings {
		if !canBeShown(f) || shown == mostMends {
			continue
		}
		if shown++; shown == 1 {
			p.Heading("Mended, as drawn and as cut")
		}
		bothWays(p, f.Places[0].Box, drawn, cut, name(i))
	}
	if shown > 0 {
		keyOfMends(p)
	}
}

func keyOfMends(p *page) {
	p.Foot += 14
	p.Legend("an end of a line; lines that lie on each other come out darker", func(b geometry.Box) { p.Draw(dotStyle(), geometry.Circle(b.Centre(), 3.2)) })
}

func pathsOf(strokes []artwork.Stroke) []geometry.Path {
	paths := make([]geometry.Path, len(strokes))
	for i := range strokes {
		paths[i] = strokes[i].Path
	}
	return paths
}

// bothWays draws a place (mm) twice, side by side or one below the other: as drawn and as it
// is cut. Its name is that of a finding; empty: it is none.
func bothWays(p *page, place geometry.Box, drawn, cut []geometry.Path, name string) {
	columns := min(2, p.Columns(mendWide))
	wide, rows := mendWide*float64(columns)+mendApart*float64(columns-1), float64(2/columns)
	p.Open(geometry.Box{Max: geometry.Pt(wide, rows*(mendHigh+mendApart))}, figure.Inset{Tight: true})
	window := mendWindow(place)
	for k, lines := range [][]geometry.Path{drawn, cut} {
		at := geometry.Pt(float64(k%columns)*(mendWide+mendApart), (rows-1-float64(k/columns))*(mendHigh+mendApart)+mendApart)
		cell := p.OnPage(geometry.BoxAround(at, at.Add(geometry.Pt(mendWide, mendHigh))))
		n := drawMend(p, cell, window, place, lines)
		text := [...]string{"as drawn: ", "as it is cut: "}[k] + count(n, "line", "lines")
		foot := geometry.Pt(cell.Min.X, cell.Max.Y+0.5*mendApart*p.Scale)
		if name != "" {
			p.tag(foot.Add(geometry.Pt(10, 0)), 9, 12.5, name)
			foot.X += 26
		}
		p.Left(foot.Add(geometry.Pt(0, 5)), text)
	}
}

// mendWindow is what is shown round a place, in mm, as wide to its height as a cell.
func mendWindow(place geometry.Box) geometry.Box {
	const least = 3.0 // mm, the height
	high := max(least, 1.5*place.Height(), 1.5*place.Width()*mendHigh/mendWide)
	half := geometry.Pt(high*mendWide/mendHigh/2, high/2)
	return geometry.BoxAround(place.Centre().Sub(half), place.Centre().Add(half))
}

// drawMend draws what a window (mm) shows of lines in a cell (pixels), each line by itself,
// so that those that lie on each other come out darker, with a ring round the place. It
// returns how many lines run through that.
func drawMend(p *page, cell, window, place geometry.Box, lines []geometry.Path) (n int) {
	const most = 400 // lines; of more the others are not drawn
	k := cell.Width() / window.Width()
	view := geometry.Affine{A: k, D: -k, E: cell.Min.X - window.Min.X*k, F: cell.Max.Y + window.Min.Y*k}
	ring := place.Grow(0.02 * window.Width())
	var ends []geometry.Path
	p.Within(cell, func() {
		for _, q := range lines {
			p.b.Step()
			if n > most || !q.Finite() || !window.Overlaps(q.Bounds()) {
				continue
			}
			p.Draw(figure.Style{Stroke: figure.Ink, Width: 5, Opacity: 0.4}, q.Transform(view))
			if runsThrough(p.b, q, ring, window.Width()/1000) {
				n++
			}
			if !q.Closed {
				ends = append(ends, geometry.Circle(view.Apply(q.Start), 3.2), geometry.Circle(view.Apply(q.End()), 3.2))
			}
		}
		p.Draw(dotStyle(), ends...)
		p.Draw(placeStyle(), ring.Path().Transform(view))
	})
	p.Draw(figure.Style{Stroke: figure.Faint, Width: 1}, cell.Path())
	return n
}

// runsThrough reports whether a path runs through a box, followed in steps.
func runsThrough(b *budget.Budget, q geometry.Path, box geometry.Box, step float64) bool {
	if !box.Overlaps(q.BoundsIn(b)) {
		return false
	}
	pts := q.FlattenIn(b, step)
	for i, at := range pts {
		from := pts[max(i-1, 0)]
		if !box.Overlaps(geometry.BoxAround(from, at)) {
			continue
		}
		n := math.Ceil(from.Dist(at)/(min(box.Width(), box.Height())/2)) + 1
		b.Spend(int(n))
		for k := 0.0; k <= n; k++ {
			if box.Contains(from.Lerp(at, k/n)) {
				return true
			}
		}
	}
	return false
}
