package jobs_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry/budget"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// A kit on A4 card: a plate with a hole and a fold (80 × 40), a disc in the hole of a ring,
// two plates that have an edge in common, and one alone.
const kit = `<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="120mm" viewBox="0 0 180 120">
<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1">
<path d="M5 5H85V45H5Z"/><circle cx="25" cy="25" r="5"/>
<circle cx="130" cy="35" r="30"/><circle cx="130" cy="35" r="20"/><circle cx="130" cy="35" r="8"/>
<path d="M5 70H45V100H5Z"/><path d="M45 70H85V100H45Z"/>
<path d="M100 80H140V105H100Z"/></g>
<g id="FOLD" fill="none" stroke="#7a3eb1" stroke-width="0.1"><path d="M55 6V44"/></g></svg>`

// planned runs a drawing and returns its request and results.
func planned(t *testing.T, list *jobs.List, file string, c plan.Choices) (*plan.Request, jobs.Results) {
	t.Helper()
	c.Replies = ask.Replies{"weeding/pieces_in_holes": {Answer: "pieces"}}
	r, err := list.Choose(workshop.Example(), c)
	if err != nil {
		t.Fatal(err)
	}
	return r, ran(t, list, file, r)
}

func ran(t *testing.T, list *jobs.List, file string, r *plan.Request) jobs.Results {
	t.Helper()
	done, status, err := local.Run(t.Context(), list.Rows, []byte(file), r)
	if err != nil || status != plan.Ready {
		t.Fatal(status, err)
	}
	return local.Results(done)
}

// pieceOf is the number of the kept region with an area near one.
func pieceOf(t *testing.T, m *weeding.Map, mm2 float64) int {
	t.Helper()
	for i := range m.Regions {
		if r := &m.Regions[i]; r.Kept() && math.Abs(r.AreaMM2-mm2) < 0.01*mm2 {
			return r.Number
		}
	}
	t.Fatalf("no piece of %g mm²", mm2)
	return 0
}

// Pieces of a kit that were spoiled are cut again without the others: each with its holes
// and folds, as often as it was spoiled, and with what shares a line with it; on the first
// offcut that holds them.
func TestSinglePiecesAreCutAgain(t *testing.T) {
	list := jobs.NewList()
	r, before := planned(t, list, kit, plan.Choices{Stock: "card-220-a4", Copies: 4, Size: plan.Size{Unit: "mm"}})
	m := list.Weeding.In(before)
	plate, ring, disc := pieceOf(t, m, 80*40-25*math.Pi), pieceOf(t, m, 500*math.Pi), pieceOf(t, m, 64*math.Pi)
	twin := pieceOf(t, m, 40*30)
	small := r.Stock
	small.ID, small.WidthMM, small.UsableWidthMM, small.LengthMM = "offcut-a", 60, 60, 60
	wide := small
	wide.ID, wide.WidthMM, wide.UsableWidthMM, wide.LengthMM = "offcut-b", 130, 130, 120

	for _, c := range []struct {
		name    string
		spoiled []jobs.Spoiled
		net     float64 // mm² kept on all loads
		stock   string
		score   float64 // mm of folds
		again   string
	}{
		{"a disc", []jobs.Spoiled{{Copy: 3, Piece: disc}}, 64 * math.Pi, "offcut-a", 0, fmt.Sprint([]layout.Again{{Piece: disc, Copies: 1}})},
		{"one twice named", []jobs.Spoiled{{Copy: 3, Piece: disc}, {Copy: 3, Piece: disc}}, 64 * math.Pi, "offcut-a", 0, ""},
		{"a plate of two copies and a ring", []jobs.Spoiled{{Copy: 1, Piece: plate}, {Copy: 2, Piece: plate}, {Copy: 2, Piece: ring}}, 2*(3200-25*math.Pi) + 500*math.Pi, "offcut-b", 2 * 38, ""},
		{"twins hang together", []jobs.Spoiled{{Copy: 1, Piece: twin}}, 2400, "offcut-b", 0, ""},
		{"a whole copy and its disc", []jobs.Spoiled{{Copy: 1}, {Copy: 1, Piece: disc}}, net(m), r.Stock.ID, 38, ""},
	} {
		again, err := jobs.Recut(t.Context(), workshop.Example(), *r, c.spoiled, m, []workshop.Stock{small, wide}, r.Stock)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		all := ran(t, list, kit, again)
		if after := list.Weeding.In(all); len(after.Regions) != len(m.Regions) || after.Bounds != m.Bounds {
			t.Errorf("%s: the drawing is read anew on the offcut: %v, was %v", c.name, after.Bounds, m.Bounds)
		}
		kept, folds := laid(list.Layout.In(all), m)
		if math.Abs(kept-c.net) > 0.002*c.net || again.Stock.ID != c.stock || math.Abs(folds-c.score) > 0.01 {
			t.Errorf("%s: keeps %.1f mm², want %.1f; on %s, want %s; folds %.2f mm, want %.2f", c.name, kept, c.net, again.Stock.ID, c.stock, folds, c.score)
		}
		if c.again != "" && fmt.Sprint(again.Again) != c.again {
			t.Errorf("%s: %v", c.name, again.Again)
		}
		if len(again.Again) > 0 {
			onceMore(t, again, m)
		}
	}
	for _, wrong := range []jobs.Spoiled{{Copy: 5, Piece: disc}, {Copy: 1, Piece: 99}, {Copy: 9}} {
		var unknown *jobs.SpoiledError
		_, err := jobs.Recut(t.Context(), workshop.Example(), *r, []jobs.Spoiled{wrong}, m, nil, r.Stock)
		if !errors.As(err, &unknown) || unknown.Spoiled != wrong || unknown.NoPiece != (wrong.Piece == 99) {
			t.Errorf("%+v: %v", wrong, err)
		}
	}
}

// laid is what loads keep, in mm², and the length of their folds.
func laid(l *layout.Layout, m *weeding.Map) (kept, folds float64) {
	for i := range l.Loads {
		on := l.MapOf(&l.Loads[i], m)
		kept += net(on) * float64(len(l.Loads[i].Placements))
		for _, s := range on.Strokes {
			if s.Operation == artwork.Score {
				folds += s.Path.Length()
			}
		}
	}
	return kept, folds
}

// onceMore holds that what was cut again is cut again by its number, and no more often
// than it was.
func onceMore(t *testing.T, again *plan.Request, m *weeding.Map) {
	t.Helper()
	piece := again.Again[0].Piece
	if _, err := jobs.Recut(t.Context(), workshop.Example(), *again, []jobs.Spoiled{{Copy: 1, Piece: piece}}, m, nil, again.Stock); err != nil {
		t.Errorf("once more: %v", err)
	}
	var unknown *jobs.SpoiledError
	if _, err := jobs.Recut(t.Context(), workshop.Example(), *again, []jobs.Spoiled{{Copy: 3, Piece: piece}}, m, nil, again.Stock); !errors.As(err, &unknown) || unknown.NoPiece {
		t.Errorf("the third of at most two: %v", err)
	}
}

// Parting a map ends when it is stopped.
func TestPartingStops(t *testing.T) {
	list := jobs.NewList()
	_, before := planned(t, list, kit, plan.Choices{Stock: "card-220-a4", Size: plan.Size{Unit: "mm"}})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := budget.Run(ctx, func(b *budget.Budget) { list.Weeding.In(before).Apart(b) }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func net(m *weeding.Map) (mm2 float64) {
	for i := range m.Regions {
		if r := &m.Regions[i]; r.Kept() {
			mm2 += r.AreaMM2
		}
	}
	return mm2
}
