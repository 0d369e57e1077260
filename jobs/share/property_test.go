package share_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"pgregory.net/rapid"
)

// anySet draws members of several sizes and kinds on some stock.
func anySet(t *rapid.T) *set {
	kind := rapid.SampledFrom([]string{"card-220-a4", "card-160-a3", "film-removable-610", "film-heat-500", "stencil-a3"}).Draw(t, "stock")
	purpose := map[string]weeding.Purpose{"film-removable-610": weeding.Lettering, "film-heat-500": weeding.Lettering, "stencil-a3": weeding.Stencil}[kind]
	if purpose == "" {
		purpose = weeding.Pieces
	}
	s := onStock(t, kind, purpose)
	s.req.Layout.OneTurn = rapid.Bool().Draw(t, "one turn")
	for range rapid.IntRange(1, 5).Draw(t, "members") {
		side := func(name string) float64 { return float64(rapid.IntRange(6, 60).Draw(t, name)) * 2.5 }
		w, h := side("w"), side("h")
		shapes := plate(w, h)
		switch rapid.IntRange(0, 3).Draw(t, "shape") {
		case 1:
			shapes = word(rapid.SampledFrom([]string{"Go", "BOAT", "8"}).Draw(t, "word"), math.Min(h, 40))
		case 2:
			shapes = []geometry.Path{steppedPath(w, h)}
		}
		strokes := s.cuts(shapes...)
		if !s.req.Layout.Stock.Liner && purpose == weeding.Pieces && rapid.Bool().Draw(t, "score") {
			strokes = append(strokes, artwork.Stroke{Path: geometry.Polyline(geometry.Pt(1, h/2), geometry.Pt(w-1, h/2)), Operation: artwork.Score})
		}
		s.add(t, rapid.IntRange(1, 3).Draw(t, "copies"), strokes...)
		s.req.Members[len(s.req.Members)-1].Spares = rapid.IntRange(0, 2).Draw(t, "spares")
	}
	return s
}

// Whatever shares loads: every copy of every member that fits lies once, whole and as
// drawn, within the usable stock and a gap from all others; the map of each load peels in
// as many steps as it has removed regions; the shares sum to the whole; and the passes
// are proved with all lines of it.
func TestAnySetSharesLoads(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		s := anySet(t)
		laid := s.lay(t)
		holdsPlaces(t, s, laid)
		holdsMaps(t, s, laid)
		holdsShares(t, s, laid)
		if rapid.IntRange(0, 24).Draw(t, "passes") > 0 { // ordering takes far longer than laying
			return
		}
		if _, err := passes.Order(testContext(), nil, &laid.Layout, passesOf(s)); err != nil {
			t.Fatal(err)
		}
	})
}

func passesOf(s *set) passes.Request {
	return passes.Request{Stock: s.req.Layout.Stock, Machine: s.req.Layout.Machine, Settings: workshop.Example().Settings}
}

// holdsPlaces holds where the copies lie.
func holdsPlaces(t fatal, s *set, laid *share.Share) {
	t.Helper()
	copies := map[string]int{}
	st := s.req.Layout.Stock
	for _, l := range laid.Loads {
		for i, p := range l.Places {
			copies[p.Code]++
			if p.Copy != copies[p.Code] {
				t.Fatalf("copy %d of %s is counted %d", copies[p.Code], p.Code, p.Copy)
			}
			if spare := p.Copy > s.member(p.Code).Copies; p.Spare != spare {
				t.Fatalf("copy %d of %s is a spare: %v", p.Copy, p.Code, p.Spare)
			}
			if n := len(l.Sheets); (p.Sheet == 0) != (n == 0) || p.Sheet > n || n > 0 && !l.Sheets[p.Sheet-1].ContainsBox(p.Bounds) {
				t.Fatalf("%s at %v is said to lie on sheet %d of %v", p.Code, p.Bounds, p.Sheet, l.Sheets)
			}
			if b := p.Bounds; b.Min.X < -1e-6 || b.Min.Y < math.Min(st.MarginMM, st.LeadMM)-1e-6 || b.Max.X > l.WidthMM+1e-6 || b.Max.Y > l.LengthMM+1e-6 {
				t.Fatalf("%s at %v lies off a load of %g × %g", p.Code, b, l.WidthMM, l.LengthMM)
			}
			for _, q := range l.Places[:i] {
				if p.Bounds.Grow(st.GapMM/2 - 0.002).Overlaps(q.Bounds.Grow(st.GapMM/2 - 0.002)) {
					t.Fatalf("%s at %v and %s at %v lie nearer than %g mm", p.Code, p.Bounds, q.Code, q.Bounds, st.GapMM)
				}
			}
		}
	}
	for _, p := range laid.Shares {
		if want := p.Copies + p.Spares; !p.Left && copies[p.Code] != want && len(laid.Loads) > 0 {
			t.Fatalf("%d copies of %s are laid, want %d", copies[p.Code], p.Code, want)
		}
		if p.Left && copies[p.Code] > 0 {
			t.Fatalf("%s is left out and laid", p.Code)
		}
	}
}

// holdsMaps holds what the maps of the loads show of each member.
func holdsMaps(t fatal, s *set, laid *share.Share) {
	t.Helper()
	for i := range laid.Loads {
		l := &laid.Loads[i]
		m, onLoad := laid.MapOf(l, nil), l.Placements[0].Transform
		owner := make([]int, len(m.Regions)+1)
		for k, p := range l.Places {
			own := s.mapOf(p.Code)
			if laid.Border == share.BorderLoad {
				own = own.Bare()
			}
			linesAsDrawn(t, own, m.Strokes[p.Strokes.From:p.Strokes.To], p, onLoad)
			kept := 0.0
			for n := p.Regions.From; n < p.Regions.To; n++ {
				owner[n] = k + 1
				if r := &m.Regions[n-1]; r.Kept() {
					kept += r.AreaMM2
				}
			}
			if want := keptIn(own); math.Abs(kept-want) > 1e-3*want+0.1 {
				t.Fatalf("%s keeps %g mm², not %g", p.Code, kept, want)
			}
		}
		removed := map[int]bool{}
		for n, r := range m.Regions {
			if r.Number != n+1 || owner[r.Number] == 0 && r.Class != weeding.Surround {
				t.Fatalf("region %d, a %s, belongs to nobody", r.Number, r.Class)
			}
			if !r.Kept() {
				removed[r.Number] = true
				if s.req.Layout.Chart.Relief && m.Purpose != weeding.Stencil && len(r.Holes) > 0 {
					t.Fatalf("region %d is a ring of film and does not peel", r.Number)
				}
			}
		}
		for n, st := range m.Steps {
			if st.Order != n+1 || !removed[st.Region] {
				t.Fatalf("step %d takes out region %d", st.Order, st.Region)
			}
			delete(removed, st.Region)
		}
		if len(removed) > 0 {
			t.Fatalf("no step takes out %v", removed)
		}
	}
}

// linesAsDrawn holds that lines on a load are those of a member at a place.
func linesAsDrawn(t fatal, own *weeding.Map, lines []artwork.Stroke, at layout.MemberPlace, onLoad geometry.Affine) {
	t.Helper()
	if len(lines) != len(own.Strokes) {
		t.Fatalf("%s has %d lines, not %d", at.Code, len(lines), len(own.Strokes))
	}
	for i, line := range lines {
		got, want := line.Path.Transform(onLoad), own.Strokes[i].Path.Transform(at.Transform)
		if got.Start.Dist(want.Start) > 1e-6 || got.End().Dist(want.End()) > 1e-6 || math.Abs(got.Length()-want.Length()) > 1e-6 || line.Operation != own.Strokes[i].Operation {
			t.Fatalf("line %d of %s is another", i, at.Code)
		}
	}
}

func (s *set) mapOf(code string) *weeding.Map { return s.maps[s.at(code)] }

func (s *set) member(code string) share.Member { return s.req.Members[s.at(code)] }

func (s *set) at(code string) int {
	return slices.IndexFunc(s.req.Members, func(m share.Member) bool { return m.Code == code })
}

func keptIn(m *weeding.Map) float64 {
	sum := 0.0
	for i := range m.Regions {
		if m.Regions[i].Kept() {
			sum += m.Regions[i].AreaMM2
		}
	}
	return sum
}

// holdsShares holds what each member is said to take, and that those left out are named.
func holdsShares(t fatal, s *set, laid *share.Share) {
	t.Helper()
	sum, left := int64(0), 0
	on, area, whole := map[string][]int{}, map[string]float64{}, 0.0
	for _, l := range laid.Loads {
		for _, p := range l.Places {
			if !slices.Contains(on[p.Code], l.Number) {
				on[p.Code] = append(on[p.Code], l.Number)
			}
			mm2 := p.Bounds.Width() * p.Bounds.Height()
			area[p.Code], whole = area[p.Code]+mm2, whole+mm2
		}
	}
	for i, p := range laid.Shares {
		if p.Member != s.req.Members[i] || !slices.Equal(p.Loads, on[p.Code]) || math.Abs(p.AreaMM2-area[p.Code]) > 1e-6 || whole > 0 && math.Abs(float64(p.Millionths)-1e6*p.AreaMM2/whole) > 2 {
			t.Fatalf("%+v lies on loads %v with %g of %g mm²", p, on[p.Code], area[p.Code], whole)
		}
		sum += p.Millionths
		if p.Left {
			left++
		}
	}
	named := 0
	for _, f := range laid.Findings {
		if f.Code == finding.MemberLeftOut {
			named++
		}
	}
	if sum != 1_000_000 && !(sum == 0 && left == len(laid.Shares)) || named != left {
		t.Fatalf("shares sum to %d; %d left out, %d named", sum, left, named)
	}
}

// A computation that is stopped ends soon.
func TestSharingStops(t *testing.T) {
	s := onStock(t, "film-removable-610", weeding.Lettering)
	for i := range 8 {
		s.add(t, 2, s.cuts(word("BOARD", 20+float64(i))...)...)
	}
	stop.Check(t, func(ctx context.Context) error { _, err := share.Lay(ctx, s.req, s.maps); return err })
}

// Two hundred members with three copies each take a few seconds of the processor, as is
// asked of a class set; here the half of it is allowed. They are laid on as few sheets as
// are known to do: nine tags on each.
func TestTwoHundredMembers(t *testing.T) {
	s := onStock(t, "card-160-a4", weeding.Pieces)
	s.add(t, 3, s.cuts(plate(90, 55)...)...)
	for i := 1; i < 200; i++ {
		s.maps = append(s.maps, s.maps[0])
		s.req.Members = append(s.req.Members, share.Member{Code: fmt.Sprintf("M%03d", i+1), Copies: 3})
	}
	spent := cost.Spent()
	laid := s.lay(t)
	if took := cost.Spent() - spent; took > 2*time.Second {
		t.Errorf("took %v of the processor", took)
	}
	if laid.Usage.Sheets != 67 {
		t.Errorf("%d sheets for 600 tags, want 67", laid.Usage.Sheets)
	}
	for _, p := range laid.Shares {
		if len(p.Loads) != 1 {
			t.Fatalf("the copies of %s lie on loads %v", p.Code, p.Loads)
		}
	}
}
