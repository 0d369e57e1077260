package passes_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
)

// Film lifts where little holds it, so no blade is let down where two lines of a cut are
// less than a millimetre apart: in the bar of a dumb-bell, in the tongue of a fork, between
// two outlines. Seen by points a tenth of a millimetre apart on what is drawn: none that
// lies within a millimetre of a start belongs to another outline, or is 5 mm of outline away.
func TestFilmIsNotBegunInNecks(t *testing.T) {
	for name, strokes := range map[string][]artwork.Stroke{
		"dumb-bell, begun in its bar": {stroke(t, artwork.KissCut, "M12 5.3H28V9.7A3 3 0 0 0 34 9.7V0.3A3 3 0 0 0 28 0.3V4.7H12V0.3A3 3 0 0 0 6 0.3V9.7A3 3 0 0 0 12 9.7V5.3Z")},
		"the same, begun at a bell":   {stroke(t, artwork.KissCut, "M28 9.7A3 3 0 0 0 34 9.7V0.3A3 3 0 0 0 28 0.3V4.7H12V0.3A3 3 0 0 0 6 0.3V9.7A3 3 0 0 0 12 9.7V5.3H28V9.7Z")},
		"a fork of thin tongues":      {stroke(t, artwork.KissCut, "M0 0H30V20H29.4V1H25V20H24.4V1H0Z")},
		"one beside the other":        {square(artwork.KissCut, 0, 0, 8), stroke(t, artwork.KissCut, "M8.5 0H20V8H8.5Z")},
		"one in the other":            {square(artwork.KissCut, 0, 0, 20), stroke(t, artwork.KissCut, "M0.6 0.6H19V6H12V12H0.6Z")},
	} {
		for _, turn := range []float64{0, 37, 90, 200} {
			var turned []artwork.Stroke
			for _, s := range strokes {
				s.Path = s.Path.Transform(geometry.Rotate(turn * math.Pi / 180).Then(geometry.Translate(60, 60)))
				turned = append(turned, s)
			}
			j := oneLoad(t, turned...)
			for _, run := range j.order(t).Loads[0].Passes[0].Runs {
				at := passes.Trace(run, j.strokes, j.layout).Start
				for i, s := range turned {
					points, along, whole := walked(s.Path), 0.0, s.Path.Length()
					if i == run.Stroke {
						along = alongAt(points, at)
					}
					for k, p := range points {
						way := math.Abs(float64(k)*step - along)
						way = math.Min(way, whole-way)
						if p.Dist(at) < 0.9 && (i != run.Stroke || way > 5) {
							t.Errorf("%s, turned %g: stroke %d begins at %v, %.2f mm from %v of stroke %d", name, turn, run.Stroke, at, p.Dist(at), p, i)
							break
						}
					}
				}
			}
		}
	}
}

// step is how far points of an outline lie apart, in mm.
const step = 0.1

// walked are points of an outline, evenly along it.
func walked(p geometry.Path) []geometry.Point {
	var all []geometry.Point
	done, next := 0.0, 0.0
	pts := p.Flatten(0.01)
	for i, b := range pts[1:] {
		a := pts[i]
		for l := a.Dist(b); next < done+l; next += step {
			all = append(all, a.Lerp(b, (next-done)/l))
		}
		done += a.Dist(b)
	}
	return all
}

// alongAt is how far along the outline the nearest of its points lies.
func alongAt(points []geometry.Point, at geometry.Point) float64 {
	best := 0
	for k, p := range points {
		if p.Dist(at) < points[best].Dist(at) {
			best = k
		}
	}
	return float64(best) * step
}
