package share_test

import (
	"context"
	"encoding/json"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

func testContext() context.Context { return context.Background() }

// words on film: each has a weed border of its own, and one round the load is less.
func wordsOnFilm(t fatal, stock string) *set {
	s := onStock(t, stock, weeding.Lettering)
	for i, text := range []string{"BOARD", "gale", "Ebb", "QUAY 8", "ROPE", "PORT"} {
		s.add(t, 1+i%2, s.cuts(word(text, 18+4*float64(i))...)...)
	}
	return s
}

// One border round all words of a load takes less cutting than one round each, and the
// layout keeps its room.
func TestOneBorderRoundALoad(t *testing.T) {
	python := reference.Python(t, "shapely")
	for _, stock := range []string{"film-removable-610", "film-permanent-300", "film-heat-500"} {
		s := wordsOnFilm(t, stock)
		laid := s.lay(t)
		if laid.Border != share.BorderLoad {
			t.Fatalf("%s: border %q", stock, laid.Border)
		}
		for i := range laid.Loads {
			soundLoad(t, python, s, laid, i)
		}
	}
}

// Film in sheets, four of them on a mat: each has a border of its own, as it is peeled by
// itself, and no line runs from one to the next.
func TestOneBorderRoundASheetOnAMat(t *testing.T) {
	python := reference.Python(t, "shapely")
	s := wordsOnFilm(t, "film-heat-500")
	st := &s.req.Layout.Stock
	st.Form, st.Hold, st.WidthMM, st.LengthMM, st.UsableWidthMM, st.MarginMM, st.LeadMM, st.TailMM = workshop.Sheet, workshop.Mat, 210, 297, 200, 5, 0, 0
	s.req.Layout.Machine.Mats = []workshop.MatSize{{ID: "m", WidthMM: 430, LengthMM: 600, Tack: st.MatTack}}
	for i := range s.req.Members {
		s.req.Members[i].Copies *= 5
	}
	laid := s.lay(t)
	if laid.Border != share.BorderLoad || len(laid.Loads[0].Sheets) != 4 {
		t.Fatalf("border %q, %d sheets on the first load", laid.Border, len(laid.Loads[0].Sheets))
	}
	holdsPlaces(t, s, laid)
	for i, l := range laid.Loads {
		soundLoad(t, python, s, laid, i)
		whole := l.Sheets
		if len(whole) == 0 {
			whole = []geometry.Box{{Max: geometry.Pt(l.WidthMM, l.LengthMM)}}
		}
		borders := 0
		for _, stroke := range laid.Maps[i].Strokes {
			box := stroke.Path.Transform(l.Placements[0].Transform).Bounds()
			if !slices.ContainsFunc(whole, func(s geometry.Box) bool {
				return box.Min.X > s.Min.X && box.Min.Y > s.Min.Y && box.Max.X < s.Max.X && box.Max.Y < s.Max.Y
			}) {
				t.Errorf("load %d: a line, %q, at %v lies on no sheet of %v", l.Number, stroke.Added, box, whole)
			}
			if stroke.Added == artwork.Border {
				borders++
			}
		}
		if borders != len(whole) {
			t.Errorf("load %d: %d borders on %d sheets", l.Number, borders, len(whole))
		}
	}
}

// soundLoad holds a load by shapely, which reads the rings and lines alone. No region
// overlaps another, all of them fill the borders, each copy keeps what its own map keeps
// and lies a gap off the others, each removed region of film is without holes, and no
// added line runs through what is kept, or comes nearer to it than its ends.
func soundLoad(t *testing.T, python string, s *set, laid *share.Share, i int) {
	t.Helper()
	l, m := laid.Loads[i], laid.Maps[i]
	in := map[string]any{"gap": s.req.Layout.Stock.GapMM}
	var regions, added, borders []any
	for _, r := range m.Regions {
		of := -1
		for k, p := range l.Places {
			if p.Regions.Has(r.Number) {
				of = k
			}
		}
		regions = append(regions, map[string]any{"kept": r.Kept(), "of": of, "rings": ringsOf(r)})
		if !r.Kept() && len(r.Holes) > 0 {
			t.Errorf("region %d of load %d, a %s, is a ring and does not peel", r.Number, l.Number, r.Class)
		}
	}
	for _, stroke := range m.Strokes {
		switch stroke.Added {
		case artwork.Relief:
			added = append(added, points(stroke.Path))
		case artwork.Border:
			borders = append(borders, boxOf(stroke.Path.Bounds()))
		}
	}
	var keeps []float64
	for _, p := range l.Places {
		keeps = append(keeps, keptOf(s, p.Code))
	}
	in["regions"], in["added"], in["keeps"], in["borders"] = regions, added, keeps, borders
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "-c", exactly)
	cmd.Stdin = strings.NewReader(string(text))
	out, err := cmd.CombinedOutput()
	if err != nil || strings.TrimSpace(string(out)) != "sound" {
		t.Errorf("%s, load %d: %v\n%s", s.req.Layout.Stock.ID, l.Number, err, out)
	}
}

func keptOf(s *set, code string) float64 {
	for i, m := range s.req.Members {
		if m.Code == code {
			sum := 0.0
			for _, r := range s.maps[i].Regions {
				if r.Kept() {
					sum += r.AreaMM2
				}
			}
			return sum
		}
	}
	return 0
}

func boxOf(b geometry.Box) [4]float64 { return [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} }

func points(p geometry.Path) [][2]float64 {
	var all [][2]float64
	for _, q := range p.Flatten(geometry.DefaultChord) {
		all = append(all, [2]float64{q.X, q.Y})
	}
	return all
}

func ringsOf(r weeding.Region) [][][2]float64 {
	rings := [][][2]float64{points(r.Outer)}
	for _, h := range r.Holes {
		rings = append(rings, points(h))
	}
	return rings
}

// exactly judges a load. Relief lines end on outlines, so that what they have in common
// with what is kept is points; regions run along both sides of them.
const exactly = `
import json, sys
from shapely.geometry import Polygon, LineString, box
from shapely.ops import unary_union
d = json.load(sys.stdin)
faults = []
def poly(rings):
    p = Polygon(rings[0], rings[1:])
    return p if p.is_valid else p.buffer(0)
shapes = [poly(r["rings"]) for r in d["regions"]]
total = sum(s.area for s in shapes)
whole = unary_union([box(*b) for b in d["borders"]])
if abs(total - whole.area) > 1e-3 * whole.area ** 0.5 or abs(unary_union(shapes).area - whole.area) > 1e-3 * whole.area ** 0.5:
    faults.append("regions cover %g of %g" % (total, whole.area))
copies = []
for k, keeps in enumerate(d["keeps"]):
    own = unary_union([s for s, r in zip(shapes, d["regions"]) if r["kept"] and r["of"] == k])
    if abs(own.area - keeps) > 0.5:
        faults.append("copy %d keeps %g, not %g" % (k, own.area, keeps))
    copies.append(own)
for i, a in enumerate(copies):
    for b in copies[:i]:
        if a.distance(b) < d["gap"] - 0.01:
            faults.append("two copies lie %g mm apart" % a.distance(b))
kept = unary_union(copies)
for line in d["added"]:
    common = LineString(line).intersection(kept.buffer(-0.01)).length
    if common > 0:
        faults.append("a relief line cuts %g mm through what is kept" % common)
print("\n".join(faults) or "sound")
`
