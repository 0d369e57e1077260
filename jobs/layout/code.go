package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
)

// Measures of a panel's code in mm: figures are 6 high and 4 wide.
const (
	codeHeight  = 6
	codeAdvance = 5.5
	codeSpace   = 3
)

// figures are lines that enclose nothing, so that the waste they are cut into stays in
// one piece. The digit 9 is a 6 turned about.
func figures(r rune) [][]geometry.Point {
	line := func(xy ...float64) []geometry.Point {
		var pts []geometry.Point
		for i := 0; i < len(xy); i += 2 {
			pts = append(pts, geometry.Pt(xy[i], xy[i+1]))
		}
		return pts
	}
	six := line(3.5, 6, 1, 4.5, 0, 2.5, 0, 1, 1, 0, 3, 0, 4, 1, 4, 2.3, 3, 3, 1.2, 3)
	switch r {
	case 'P':
		return [][]geometry.Point{line(0, 0, 0, 6, 3, 6, 4, 5, 4, 4, 3, 3, 0.8, 3)}
	case 'o':
		return [][]geometry.Point{line(0, 1, 0, 3, 1, 4, 3, 4, 4, 3, 4, 1, 3, 0, 1, 0)}
	case 'f':
		return [][]geometry.Point{line(3.5, 6, 2.5, 6, 2, 5, 2, 0), line(0.5, 3.5, 3.5, 3.5)}
	case '0':
		return [][]geometry.Point{line(0, 1, 0, 5, 1, 6, 3, 6, 4, 5, 4, 1, 3, 0, 1, 0)}
	case '1':
		return [][]geometry.Point{line(1, 5, 2, 6, 2, 0)}
	case '2':
		return [][]geometry.Point{line(0, 5, 1, 6, 3, 6, 4, 5, 4, 4, 0, 0, 4, 0)}
	case '3':
		return [][]geometry.Point{line(0, 6, 4, 6, 2, 3.5, 3, 3.5, 4, 2.5, 4, 1, 3, 0, 1, 0, 0, 1)}
	case '4':
		return [][]geometry.Point{line(3, 0, 3, 6, 0, 2, 2.2, 2)}
	case '5':
		return [][]geometry.Point{line(4, 6, 0, 6, 0, 3.5, 3, 3.5, 4, 2.5, 4, 1, 3, 0, 0, 0)}
	case '6':
		return [][]geometry.Point{six}
	case '7':
		return [][]geometry.Point{line(0, 6, 4, 6, 1.5, 0)}
	case '8':
		return [][]geometry.Point{line(1.5, 3.1, 0.5, 4, 0.5, 5.2, 1.3, 6, 2.7, 6, 3.5, 5.2, 3.5, 4, 2.6, 3.2), line(2.6, 2.8, 4, 2, 4, 1, 3, 0, 1, 0, 0, 1, 0, 2, 1.4, 2.8)}
	case '9':
		nine := make([]geometry.Point, len(six))
		for i, p := range six {
			nine[i] = geometry.Pt(4-p.X, 6-p.Y)
		}
		return [][]geometry.Point{nine}
	}
	return nil
}

// written returns the lines of a code from the origin, and how long it is.
func written(code string) (lines []geometry.Path, length float64) {
	x := 0.0
	for _, r := range code {
		if r == ' ' {
			x += codeSpace
			continue
		}
		for _, pts := range figures(r) {
			lines = append(lines, geometry.Polyline(pts...).Transform(geometry.Translate(x, 0)))
		}
		x += codeAdvance
	}
	return lines, x - codeAdvance + 4
}

// code returns the strokes of a panel's code, none where its waste has no room: beyond
// an edge of the work, else in waste.
func (m *marker) code(b *budget.Budget, number int, text string, mirrored bool) []artwork.Stroke {
	lines, length := written(text)
	move, ok := m.beyond(number, length)
	if !ok {
		move, ok = m.codeInWaste(b, number, length)
	}
	if !ok {
		return nil
	}
	return writtenAt(lines, length, move, mirrored, artwork.KissCut)
}

// writtenAt puts the lines of a code, so long, in their place. Mirrored work is read from
// the other side, and so is its code.
func writtenAt(lines []geometry.Path, length float64, move geometry.Affine, mirrored bool, by artwork.Operation) []artwork.Stroke {
	if mirrored {
		move = geometry.Affine{A: -1, D: 1, E: length}.Then(move)
	}
	var all []artwork.Stroke
	for _, p := range lines {
		all = append(all, artwork.Stroke{Path: p.Transform(move), Operation: by, Shape: -1, Added: artwork.Code})
	}
	return all
}

// beyond puts a code of that length beside the middle of an edge of the work, where the
// panel reaches to one and the stock has room: above, below, right or left of it.
func (m *marker) beyond(number int, length float64) (geometry.Affine, bool) {
	const same = 1e-6
	box, work, c := m.division.Panels[number].Box, m.work, m.division.Panels[number].Box.Centre()
	upright := geometry.Affine{B: 1, C: -1, E: codeHeight}
	for _, place := range [...]struct {
		reaches bool
		turn    geometry.Affine
		x, y    float64 // of its lower left corner
		side    float64 // along which it lies
	}{
		{box.Max.Y >= work.Max.Y-same, geometry.Identity, c.X - length/2, work.Max.Y + clearMM, box.Width()},
		{box.Min.Y <= work.Min.Y+same, geometry.Identity, c.X - length/2, work.Min.Y - clearMM - codeHeight, box.Width()},
		{box.Max.X >= work.Max.X-same, upright, work.Max.X + clearMM, c.Y - length/2, box.Height()},
		{box.Min.X <= work.Min.X+same, upright, work.Min.X - clearMM - codeHeight, c.Y - length/2, box.Height()},
	} {
		move := place.turn.Then(geometry.Translate(place.x, place.y))
		text := geometry.BoxAround(move.Apply(geometry.Point{}), move.Apply(geometry.Pt(length, codeHeight)))
		with := m.content[number].Union(text)
		if place.reaches && length+4*markMM < place.side && with.Width() <= m.room.X+fitSlack && with.Height() <= m.room.Y+fitSlack {
			m.content[number] = with
			return move, true
		}
	}
	return geometry.Affine{}, false
}

// codeInWaste puts a code where the panel has waste all round it, the uppermost first:
// lying, and where that has no room upright.
func (m *marker) codeInWaste(b *budget.Budget, number int, length float64) (geometry.Affine, bool) {
	box := m.division.Panels[number].Box
	offEdges := clearMM + math.Max(markMM, m.overlap/2+markMM/2) // past the register marks
	for _, turn := range [...]geometry.Affine{geometry.Identity, {B: 1, C: -1, E: codeHeight}} {
		far := turn.Apply(geometry.Pt(length, 0)).Sub(turn.Apply(geometry.Point{})) // how far it reaches
		w, h := math.Max(far.X, codeHeight), math.Max(far.Y, codeHeight)
		dx, dy := 2.*scanMM, codeHeight/2. // a strip of waste may leave little room across the code
		if far.Y > far.X {
			dx, dy = dy, dx
		}
		for y := box.Max.Y - offEdges - h; y >= box.Min.Y+offEdges; y -= dy {
			for x := box.Min.X + offEdges; x <= box.Max.X-offEdges-w; x += dx {
				move := turn.Then(geometry.Translate(x, y))
				if m.codeClear(b, move, length) {
					return move, true
				}
			}
		}
	}
	return geometry.Affine{}, false
}

// codeClear reports whether a code, so long, lies in waste: circles along its middle that
// reach past its corners by what keeps clear.
func (m *marker) codeClear(b *budget.Budget, move geometry.Affine, length float64) bool {
	const half = codeHeight / 2.
	reach := half*math.Sqrt2 + clearMM
	circles := max(2, int(math.Ceil(length/codeHeight)))
	for i := range circles {
		along := half + (length-2*half)*float64(i)/float64(circles-1)
		if !m.clear(b, move.Apply(geometry.Pt(along, half)), reach) {
			return false
		}
	}
	return true
}
