package layout_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// Each saving is true: the same order, laid out anew with the change made, takes as
// much less. None is a trifle. Source: layout itself; what is worth telling is common
// practice.
func TestSavingsAreTrue(t *testing.T) {
	data := workshop.Example()
	rng := rand.New(rand.NewPCG(7, 1))
	narrower, fewer, rolls, sheets := 0, 0, 0, 0
	for range 60 {
		stock := data.Stocks[rng.IntN(len(data.Stocks))]
		stock.GrainDeg = nil
		req := layout.Request{Stock: stock, Machine: data.Machines[0], Copies: 1 + rng.IntN(30)}
		piece := layout.Piece{Bounds: geometry.Box{Max: geometry.Pt(20+rng.Float64()*150, 20+rng.Float64()*150)}}
		l, err := layout.Place(t.Context(), piece, req)
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Savings) > 3 {
			t.Fatalf("%d savings", len(l.Savings))
		}
		for _, s := range l.Savings {
			less, order := piece, req
			less.Bounds.Max = less.Bounds.Max.Sub(geometry.Pt(s.NarrowerMM, s.ShorterMM))
			order.Copies -= s.Fewer
			then, err := layout.Place(t.Context(), less, order)
			if err != nil {
				t.Fatal(err)
			}
			if got := l.Usage.Sheets - then.Usage.Sheets; got != s.Sheets {
				t.Errorf("%+v saves %d sheets", s, got)
			}
			if got := l.Usage.RollMM - then.Usage.RollMM; math.Abs(got-s.RollMM) > 1e-6 {
				t.Errorf("%+v saves %g mm", s, got)
			}
			change := math.Max(s.NarrowerMM/piece.Bounds.Width(), s.ShorterMM/piece.Bounds.Height())
			if change > 0.05 || s.NarrowerMM+s.ShorterMM > 10 || float64(s.Fewer) > 0.1*float64(req.Copies) || s.Sheets == 0 && s.RollMM < math.Max(50, 0.05*l.Usage.RollMM) {
				t.Errorf("%+v is not worth telling: %d of %v on %s", s, req.Copies, piece.Bounds, stock.ID)
			}
			narrower, fewer = narrower+min(1, int(s.NarrowerMM)), fewer+min(1, s.Fewer)
			rolls, sheets = rolls+min(1, int(s.RollMM)), sheets+min(1, s.Sheets)
		}
	}
	t.Logf("%d narrower, %d fewer, %d save film, %d sheets", narrower, fewer, rolls, sheets)
	if narrower < 3 || fewer < 1 || rolls < 2 || sheets < 3 {
		t.Error("hardly anything was found")
	}
}

// A row that just fails to take one copy more is told; one that has the room is not.
func TestSavingByAHair(t *testing.T) {
	stock := workshop.Stock{Form: workshop.Roll, WidthMM: 320, UsableWidthMM: 300, GapMM: 3, Liner: true, Family: workshop.RemovableFilm}
	place := func(width float64) []layout.Saving {
		l, err := layout.Place(t.Context(), layout.Piece{Bounds: geometry.Box{Max: geometry.Pt(width, 200)}}, layout.Request{Stock: stock, Copies: 6, OneTurn: true})
		if err != nil {
			t.Fatal(err)
		}
		return l.Savings
	}
	got := place(101) // three across need 98
	if len(got) != 1 || got[0].NarrowerMM != 3 || got[0].Across != 3 || math.Abs(got[0].RollMM-203) > 1e-6 {
		t.Errorf("%+v", got)
	}
	if got := place(98); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	if got := place(120); len(got) != 0 {
		t.Errorf("22 mm less is another work: %+v", got)
	}
}
