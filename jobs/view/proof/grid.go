package proof

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Measures of a page in mm. Printers leave a margin of about 5 mm white.
const (
	marginMM  = 10
	stripMM   = 58 // at the foot: the card, the rule and the words
	overlapMM = 10 // that neighbours have in common
)

// grid lays work on sheets of paper. Tiles are counted in rows from the top and in
// columns from the left.
type grid struct {
	cell       geometry.Box // the first tile's window on the work, at the upper left
	step       geometry.Point
	cols, rows int
}

// tile is a sheet of paper with its window on the work.
type tile struct {
	col, row int
	window   geometry.Box
}

func gridOf(box geometry.Box, p Paper) grid {
	if box.Empty() {
		box = geometry.Box{}
	}
	w, h := p.Width-2*marginMM, p.Height-2*marginMM-stripMM
	g := grid{step: geometry.Pt(w-overlapMM, h-overlapMM)}
	g.cols, g.rows = count(box.Width(), w), count(box.Height(), h)
	all := geometry.Pt(float64(g.cols-1)*g.step.X+w, float64(g.rows-1)*g.step.Y+h)
	left, top := box.Centre().X-all.X/2, box.Centre().Y+all.Y/2
	g.cell = geometry.Box{Min: geometry.Pt(left, top-h), Max: geometry.Pt(left+w, top)}
	return g
}

// count is how many windows with the overlap between them reach so far.
func count(length, window float64) int {
	if n := math.Ceil((length - overlapMM - 1e-9) / (window - overlapMM)); n < 1e4 {
		return max(1, int(n))
	}
	return 1e4
}

// tiles are the sheets on which something is drawn; the first where nothing is.
func (g grid) tiles(b *budget.Budget, w *work) []tile {
	inked := map[[2]int]bool{}
	for i := range w.lines {
		b.Step()
		for _, at := range g.under(b, &w.lines[i]) {
			inked[at] = true
		}
	}
	var all []tile
	for row := range g.rows {
		for col := range g.cols {
			b.Step()
			if inked[[2]int{col, row}] || len(inked) == 0 && len(all) == 0 {
				all = append(all, tile{col, row, g.window(col, row)})
			}
		}
	}
	return all
}

// under lists the tiles that a line comes to lie on.
func (g grid) under(b *budget.Budget, l *line) (at [][2]int) {
	pts := l.path.FlattenIn(b, 1)
	for i := range pts {
		box := geometry.BoxAround(pts[max(i-1, 0)], pts[i])
		from := [2]int{int(math.Ceil((box.Min.X - g.cell.Max.X) / g.step.X)), int(math.Ceil((g.cell.Min.Y - box.Max.Y) / g.step.Y))}
		to := [2]int{int(math.Floor((box.Max.X - g.cell.Min.X) / g.step.X)), int(math.Floor((g.cell.Max.Y - box.Min.Y) / g.step.Y))}
		for col := max(0, from[0]); col <= min(to[0], g.cols-1); col++ {
			for row := max(0, from[1]); row <= min(to[1], g.rows-1); row++ {
				b.Step()
				if !passes(g.window(col, row), pts[max(i-1, 0)], pts[i]) {
					continue
				}
				if n := len(at); n == 0 || at[n-1] != [2]int{col, row} {
					at = append(at, [2]int{col, row})
				}
			}
		}
	}
	return at
}

// passes reports whether a line whose box meets another box comes into it itself: then
// that has corners on both sides of it. Source: separating axes.
func passes(box geometry.Box, from, to geometry.Point) bool {
	along := to.Sub(from)
	return math.Abs(along.Cross(box.Centre().Sub(from))) <= (math.Abs(along.X)*box.Height()+math.Abs(along.Y)*box.Width())/2
}

func (g grid) window(col, row int) geometry.Box {
	by := geometry.Pt(float64(col)*g.step.X, -float64(row)*g.step.Y)
	return geometry.Box{Min: g.cell.Min.Add(by), Max: g.cell.Max.Add(by)}
}

// name is how a tile is called: a letter for its column and a number for its row.
func name(col, row int) string {
	letters := ""
	for n := col; n >= 0; n = n/26 - 1 {
		letters = string(rune('A'+n%26)) + letters
	}
	return fmt.Sprintf("%s%d", letters, row+1)
}
