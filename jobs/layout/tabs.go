package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
)

// What is cut into a glue tab lies under the next panel once it is glued, so it may part
// what is kept: slits, of which nothing drops out. All in mm (common practice, no source).
const (
	slitMM     = 3  // long, at most a third of the tab
	slitClear  = 2  // off all other lines, and so off what is thin
	slitsApart = 20 // at least, where there are two
	codeFromMM = 10 // least width of a tab that a code has room in
)

// tabs returns what is cut into the tabs of each panel: slits that begin where the edge of
// the next panel comes, two for each seam where the tab is long enough, and the panel's code
// between them. Of a panel that is glued onto others and has no tab itself there is nothing.
func (m *marker) tabs(b *budget.Budget, codes []string, mirrored bool) (slits, written [][]artwork.Stroke) {
	slits, written = make([][]artwork.Stroke, len(codes)), make([][]artwork.Stroke, len(codes))
	for _, s := range m.seams() {
		t := tab{s, s.at - m.overlap/2, m.overlap}
		ends := m.slits(b, t)
		for _, u := range ends {
			line := geometry.Polyline(t.point(u, t.glued), t.point(u, t.glued+t.slit()))
			slits[t.first] = append(slits[t.first], artwork.Stroke{Path: line, Operation: artwork.ThroughCut, Shape: -1, Added: artwork.Mark})
		}
		if len(written[t.first]) == 0 {
			written[t.first] = m.tabCode(b, t, ends, codes[t.first], mirrored)
		}
	}
	return slits, written
}

// tab is the part of the first panel of a seam that is glued behind the second.
type tab struct {
	seam
	glued float64 // across the seam, where the edge of the second panel comes
	wide  float64
}

func (t tab) slit() float64 { return math.Min(slitMM, t.wide/3) }

// slits returns where along a tab slits lie: as near to its two ends as there is enough that
// is kept.
func (m *marker) slits(b *budget.Budget, t tab) []float64 {
	half := t.slit() / 2
	reach := half + slitClear
	var found []float64
	for u := t.from + reach; u <= t.to-reach; u += scanMM {
		if m.solid(b, t.point(u, t.glued+half), reach) {
			found = append(found, u)
			break
		}
	}
	for u := t.to - reach; len(found) > 0 && u >= found[0]+slitsApart; u -= scanMM {
		if m.solid(b, t.point(u, t.glued+half), reach) {
			return append(found, u)
		}
	}
	return found
}

// solid reports whether a circle lies in what is kept and meets no line.
func (m *marker) solid(b *budget.Budget, at geometry.Point, radius float64) bool {
	if !m.keeps.At(b, at) {
		return false
	}
	_, met := m.lines.Nearest(b, at, radius)
	return !met
}

// tabCode returns the strokes of a code along a tab, none where that has no room for it.
func (m *marker) tabCode(b *budget.Budget, t tab, slits []float64, code string, mirrored bool) []artwork.Stroke {
	lines, length := written(code)
	if t.wide < codeFromMM {
		return nil
	}
	for u := t.from + slitClear; u+length <= t.to-slitClear; u += scanMM {
		if m.roomy(b, t, u, length, slits) {
			return writtenAt(lines, length, onTab(t, u), mirrored, artwork.ThroughCut)
		}
	}
	return nil
}

// roomy reports whether a tab is whole where a code would lie, and clear of slits.
func (m *marker) roomy(b *budget.Budget, t tab, from, length float64, slits []float64) bool {
	const radius = codeHeight / 2. * math.Sqrt2 // of the circles, a row of which covers the code
	for _, u := range slits {
		if u > from-slitClear && u < from+length+slitClear {
			return false
		}
	}
	for u := 0.0; ; u += codeHeight {
		if !m.solid(b, t.point(from+math.Min(u+codeHeight/2., length), t.glued+t.wide/2), radius) {
			return false
		}
		if u >= length {
			return true
		}
	}
}

// onTab is where a code lies that begins so far along a tab.
func onTab(t tab, from float64) geometry.Affine {
	low := t.glued + (t.wide-codeHeight)/2
	if t.upright {
		return geometry.Affine{B: 1, C: -1, E: codeHeight}.Then(geometry.Translate(low, from))
	}
	return geometry.Translate(from, low)
}
