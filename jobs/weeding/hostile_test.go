package weeding_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// hostileArtwork is what makes a map costly: many small pieces, pieces nearer
// to each other than any line may come, deep nests, long winding strips, and
// outlines that all cross each other.
func hostileArtwork() map[string]*artwork.Artwork {
	lattice := func(n int, pitch, radius float64) []geometry.Path {
		var paths []geometry.Path
		for i := range n * n {
			paths = append(paths, geometry.Circle(geometry.Pt(float64(i%n)*pitch, float64(i/n)*pitch), radius))
		}
		return paths
	}
	var rings, crossing []geometry.Path
	for i := range 300 {
		rings = append(rings, geometry.Circle(geometry.Pt(0, 0), float64(i+1)))
	}
	for i := range 100 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 50)
		crossing = append(crossing, geometry.Circle(geometry.Pt(50*cos, 50*sin), 45))
	}
	comb := []geometry.Point{{X: 501, Y: -5}, {X: -1, Y: -5}}
	for i := range 1000 {
		x := float64(i) / 2
		comb = append(comb, geometry.Pt(x, 0), geometry.Pt(x, 500), geometry.Pt(x+0.25, 500), geometry.Pt(x+0.25, 0))
	}
	plate := func(paths ...geometry.Path) []geometry.Path {
		box := geometry.EmptyBox()
		for _, p := range paths {
			box = box.Union(p.Bounds())
		}
		return append([]geometry.Path{box.Grow(5).Path()}, paths...)
	}
	return map[string]*artwork.Artwork{
		"small pieces":                  outlined(lattice(70, 2, 0.6)...),
		"holes":                         outlined(plate(lattice(70, 2, 0.6)...)...),
		"specks":                        outlined(lattice(50, 0.05, 0.02)...),
		"nested rings":                  outlined(rings...),
		"a comb":                        outlined(geometry.Polygon(comb...)),
		"a comb in a plate":             outlined(plate(geometry.Polygon(comb...))...),
		"a spiral":                      outlined(spiral(60, 300)),
		"a spiral in a plate":           outlined(plate(spiral(60, 300))...),
		"circles that cross each other": outlined(crossing...),
	}
}

// spiral is a strip of 1.2 mm that winds round 3 mm farther out each turn.
func spiral(turns, perTurn int) geometry.Path {
	var out, back []geometry.Point
	for i := range turns * perTurn {
		angle := 2 * math.Pi * float64(i) / float64(perTurn)
		sin, cos := math.Sincos(angle)
		r := 2 + 3*angle/(2*math.Pi)
		out = append(out, geometry.Pt(r*cos, r*sin))
		back = append(back, geometry.Pt((r+1.2)*cos, (r+1.2)*sin))
	}
	slices.Reverse(back)
	return geometry.Polygon(append(out, back...)...)
}

// None takes more than five seconds of processor time, where the job has a
// minute.
func TestHostileArtworkIsMappedInTime(t *testing.T) {
	cost.Unwatched(t)
	for name, a := range hostileArtwork() {
		for _, purpose := range []weeding.Purpose{weeding.Lettering, weeding.Stencil} {
			if purpose == weeding.Stencil && !strings.HasPrefix(name, "nested") {
				continue
			}
			before := cost.Spent()
			m := chart(t, a, weeding.Request{Purpose: purpose, Stock: film, Border: true, Relief: true, Bridges: true})
			took := cost.Spent() - before
			t.Logf("%s, %s: %d regions, %.2f s", name, purpose, len(m.Regions), took.Seconds())
			if took > 5*time.Second {
				t.Errorf("%s, %s: %.1f s of processor time", name, purpose, took.Seconds())
			}
		}
	}
}
