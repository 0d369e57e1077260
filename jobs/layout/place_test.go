package layout_test

import (
	"errors"
	"maps"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// piece returns a rectangle of w by h away from the origin.
func piece(w, h float64) layout.Piece {
	return layout.Piece{
		Bounds: geometry.Box{Min: geometry.Pt(3, -2), Max: geometry.Pt(3+w, -2+h)},
		NetMM2: w * h / 2, FootMM2: w * h,
	}
}

// on returns a request for copies on a stock of the example workshop.
func on(t testing.TB, stock, machine string, copies int) layout.Request {
	t.Helper()
	d := workshop.Example()
	s, ok := d.Stock(stock)
	m, ok2 := d.Machine(machine)
	if !ok || !ok2 {
		t.Fatalf("no stock %s or machine %s", stock, machine)
	}
	return layout.Request{Stock: s, Machine: m, Copies: copies}
}

// onA4 returns a request on a sheet of A4 with margins of 10 mm all round, as in the
// check values and the cases worked out by hand.
func onA4(t testing.TB, stock string, copies int) layout.Request {
	t.Helper()
	req := on(t, stock, "wide-610", copies)
	req.Stock.UsableWidthMM, req.Stock.MarginMM, req.Stock.LeastMarginMM = 190, 10, 0
	return req
}

func place(t testing.TB, p layout.Piece, req layout.Request) *layout.Layout {
	t.Helper()
	l, err := layout.Place(t.Context(), p, req)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Check values, row 50 (derived by hand): tags 90 × 55 on A4, margin 10, gap 4.
func TestTagsOnA4(t *testing.T) {
	for _, c := range []struct {
		name          string
		oneTurn       bool
		first, sheets int
	}{
		{"one turn for all", true, 8, 5},
		{"mixed turns", false, 9, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			req := onA4(t, "card-160-a4", 33)
			req.OneTurn = c.oneTurn
			l := place(t, piece(90, 55), req)
			if got := len(l.Loads[0].Placements); got != c.first || l.Usage.Sheets != c.sheets {
				t.Errorf("%d on the first sheet, %d sheets; want %d and %d", got, l.Usage.Sheets, c.first, c.sheets)
			}
		})
	}
}

// Check values, row 50: turned by 90° all alike, a sheet takes six. The
// sheet's grain keeps a 55 × 90 piece from being turned back.
func TestTagsTurnedOnA4(t *testing.T) {
	p := piece(55, 90)
	p.TurnedMM = 100
	l := place(t, p, onA4(t, "card-160-a4", 33))
	if got := len(l.Loads[0].Placements); got != 6 {
		t.Errorf("%d on the first sheet, want 6", got)
	}
	for _, load := range l.Loads {
		for _, at := range load.Placements {
			if at.TurnDeg != 0 {
				t.Fatalf("copy %d is turned across the grain", at.Copy)
			}
		}
	}
}

// The worked example of the design notes: three across, two rows, 350 mm.
func TestSixLabelsOnARoll(t *testing.T) {
	l := place(t, piece(180, 120), on(t, "film-removable-610", "wide-610", 6))
	rows := map[float64]int{}
	for _, at := range l.Loads[0].Placements {
		rows[at.Bounds.Min.Y]++
	}
	if diff := cmp.Diff(map[float64]int{50: 3, 180: 3}, rows); diff != "" {
		t.Error("copies by row:", diff)
	}
	u := l.Usage
	if u.RollMM != 350 || u.TapeTack != workshop.LowTack {
		t.Errorf("roll %g mm, tape of %s tack; want 350, low", u.RollMM, u.TapeTack)
	}
	// By hand: the used box is 560 × 250, half of each label is kept. Six plates with
	// half a gap round each need 6·190·130 mm² of a width of 600, less the last gap.
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"nest waste", u.NestWaste, 1 - 6*21600.0/(560*250)},
		{"art waste", u.ArtWaste, 1 - 6*10800.0/(560*250)},
		{"process waste", u.ProcessWaste, 1 - 6*10800.0/(610*350)},
		{"area bound", u.AreaBound, 100 + 6*190*130/600.0 - 10},
	} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s %g, want %g", c.name, c.got, c.want)
		}
	}
}

func TestMirrorFollowsTheStockOrTheCaller(t *testing.T) {
	yes, no := true, false
	for _, c := range []struct {
		name   string
		stock  string
		mirror *bool
		want   bool
		code   finding.Code
	}{
		{"film is not mirrored", "film-removable-610", nil, false, ""},
		{"film on request", "film-removable-610", &yes, true, ""},
		{"heat film is mirrored", "film-heat-500", nil, true, ""},
		{"heat film, asked for as well", "film-heat-500", &yes, true, ""},
		{"heat film, switched off", "film-heat-500", &no, false, finding.MirrorAgainstRule},
	} {
		t.Run(c.name, func(t *testing.T) {
			req := on(t, c.stock, "wide-610", 1)
			req.Mirror = c.mirror
			l := place(t, piece(40, 30), req)
			if det := l.Loads[0].Placements[0].Transform.Det(); l.Mirrored != c.want || (det < 0) != c.want {
				t.Errorf("mirrored %v, determinant %g; want %v", l.Mirrored, det, c.want)
			}
			expectCode(t, l, c.code)
		})
	}
}

func expectCode(t *testing.T, l *layout.Layout, code finding.Code) {
	t.Helper()
	got, _ := l.Outcome()
	switch {
	case code == "" && len(got) > 0:
		t.Errorf("unexpected finding: %+v", got)
	case code != "" && (len(got) != 1 || got[0].Code != code):
		t.Errorf("findings %+v, want one %s", got, code)
	}
}

func TestFindings(t *testing.T) {
	narrow := func(req *layout.Request) { req.Machine.WidthMM = 150 }
	for _, c := range []struct {
		name   string
		piece  layout.Piece
		stock  string
		copies int
		change func(*layout.Request)
		code   finding.Code
		values finding.Values
	}{
		{"banner needs panels", piece(1740, 900), "film-removable-610", 1, nil, finding.OffTheStock,
			finding.Values{"panels_across": finding.Int(2), "panels_along": finding.Int(1), "panels": finding.Int(2), "overlap_mm": finding.Num(10)}},
		{"banner fits lengthwise", piece(1740, 400), "film-removable-610", 1, nil, "", nil},
		{"panels on sheets both ways", piece(400, 500), "card-160-a4", 1, nil, finding.OffTheStock,
			finding.Values{"panels_across": finding.Int(3), "panels_along": finding.Int(2), "panels": finding.Int(6)}},
		{"roll too short", piece(500, 400), "film-removable-610", 4,
			func(r *layout.Request) { r.Stock.LengthMM = 1400 }, finding.RollTooShort,
			finding.Values{"need_mm": finding.Num(1730.0), "fit": finding.Int(3)}},
		{"machine narrower than the roll", piece(140, 20), "film-permanent-300", 1, narrow, finding.MachineNarrower, nil},
		{"no mat at all", piece(50, 50), "card-160-a4", 1,
			func(r *layout.Request) { r.Machine.Mats = nil }, finding.NoMat, nil},
		{"no mat of that tack", piece(50, 50), "stencil-a3", 1,
			func(r *layout.Request) { r.Stock.MatTack = workshop.HighTack }, finding.MatTackMissing,
			finding.Values{"mat": finding.Text("mat-medium")}},
		{"sheet larger than the mat", piece(50, 50), "card-160-a3", 1,
			func(r *layout.Request) { r.Machine.Mats[0].LengthMM, r.Machine.Mats[1].LengthMM = 300, 290 }, finding.SheetOverMat,
			finding.Values{"mat": finding.Text("mat-light")}},
		{"unknown roll length", piece(500, 400), "film-removable-610", 90,
			func(r *layout.Request) { r.Stock.LengthMM = 0 }, "", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			req := on(t, c.stock, "wide-610", c.copies)
			if req.Stock.Form == workshop.Sheet {
				req.Stock.UsableWidthMM, req.Stock.MarginMM, req.Stock.LeastMarginMM = req.Stock.WidthMM-20, 10, 0
			}
			if c.change != nil {
				c.change(&req)
			}
			l := place(t, c.piece, req)
			expectCode(t, l, c.code)
			for key, want := range c.values {
				if got := l.Findings[0].Values[key]; got != want {
					t.Errorf("%s = %v, want %v", key, got, want)
				}
			}
		})
	}
}

func TestGrainIsAskedBeforeAPieceIsTurned(t *testing.T) {
	p := piece(250, 150) // fits A4 only turned
	p.TurnedMM = 100
	for _, c := range []struct {
		reply string
		code  finding.Code
		loads int
	}{{"", finding.FitsAcrossGrain, 0}, {"keep", finding.OffTheStock, 0}, {"turn", "", 1}} {
		req := onA4(t, "card-160-a4", 1)
		req.Replies = ask.Replies{"layout/grain": {Answer: c.reply}}
		l := place(t, p, req)
		expectCode(t, l, c.code)
		if len(l.Loads) != c.loads {
			t.Errorf("reply %q: %d loads, want %d", c.reply, len(l.Loads), c.loads)
		}
	}
	p.TurnedMM = 0
	expectCode(t, place(t, p, onA4(t, "card-160-a4", 1)), "")
}

// Where both turns fit, the one with less of its folds across the grain is taken
// for all copies, also where it takes more sheets; folds both ways alike leave the
// turn to the stock. By hand, as in row 50: 8 tags to a sheet lying, 6 upright, 9
// in mixed turns.
func TestGrainTurnsAllCopiesAlike(t *testing.T) {
	for _, c := range []struct {
		name             string
		straight, turned float64
		first            int
		turns            map[float64]bool
	}{
		{"better as drawn", 10, 55, 8, map[float64]bool{0: true}},
		{"better turned", 55, 10, 6, map[float64]bool{90: true}},
		{"the same both ways", 40, 40.4, 9, map[float64]bool{0: true, 90: true}},
	} {
		p := piece(90, 55)
		p.AcrossMM, p.TurnedMM = c.straight, c.turned
		l := place(t, p, onA4(t, "card-220-a4", 33))
		turns := map[float64]bool{}
		for _, load := range l.Loads {
			for _, at := range load.Placements {
				turns[at.TurnDeg] = true
			}
		}
		if got := len(l.Loads[0].Placements); got != c.first || !maps.Equal(turns, c.turns) {
			t.Errorf("%s: %d on the first sheet, turns %v; want %d, %v", c.name, got, turns, c.first, c.turns)
		}
	}
}

// By hand: one 90 × 55 tag in the corner of an A4 sheet with margin 10 and gap
// 4 leaves 210 × (297 − 69) above it.
func TestOffcut(t *testing.T) {
	l := place(t, piece(90, 55), onA4(t, "card-160-a4", 1))
	want := geometry.Box{Min: geometry.Pt(0, 69), Max: geometry.Pt(210, 297)}
	if l.Usage.Offcut == nil || *l.Usage.Offcut != want {
		t.Errorf("offcut %+v, want %+v", l.Usage.Offcut, want)
	}
	full := place(t, piece(190, 277), onA4(t, "card-160-a4", 1))
	if full.Usage.Offcut != nil {
		t.Errorf("offcut %+v of a full sheet", full.Usage.Offcut)
	}
}

func TestRequestsThatMakeNoSense(t *testing.T) {
	good := onA4(t, "card-160-a4", 1)
	for field, change := range map[string]func(*layout.Piece, *layout.Request){
		"copies":                func(_ *layout.Piece, r *layout.Request) { r.Copies = 0 },
		"piece.bounds.width":    func(p *layout.Piece, _ *layout.Request) { p.Bounds = geometry.EmptyBox() },
		"piece.bounds.height":   func(p *layout.Piece, _ *layout.Request) { p.Bounds.Max.Y = math.NaN() },
		"stock.usable_width_mm": func(_ *layout.Piece, r *layout.Request) { r.Stock.UsableWidthMM = 300 },
		"stock.length_mm":       func(_ *layout.Piece, r *layout.Request) { r.Stock.LengthMM = 20 },
		"stock.gap_mm":          func(_ *layout.Piece, r *layout.Request) { r.Stock.GapMM = -1 },
	} {
		p, req := piece(10, 10), good
		change(&p, &req)
		_, err := layout.Place(t.Context(), p, req)
		var bad *layout.RequestError
		if !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("%s: error %v", field, err)
		}
	}
}
