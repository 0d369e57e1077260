package passes_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/motion"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// job is a layout of copies of strokes on a stock of the example workshop.
type job struct {
	strokes []artwork.Stroke
	layout  *layout.Layout
	req     passes.Request
}

func jobOn(t testing.TB, stock string, copies int, strokes ...artwork.Stroke) job {
	t.Helper()
	d := workshop.Example()
	s, ok := d.Stock(stock)
	m, _ := d.Machine("wide-610")
	if !ok {
		t.Fatalf("no stock %s", stock)
	}
	box := geometry.EmptyBox()
	for _, one := range strokes {
		box = box.Union(one.Path.Bounds())
	}
	l, err := layout.Place(t.Context(), layout.Piece{Bounds: box}, layout.Request{Stock: s, Machine: m, Copies: copies})
	if err != nil || len(l.Findings) > 0 {
		t.Fatal(err, l.Findings)
	}
	return job{strokes, l, passes.Request{Stock: s, Machine: m, Settings: d.Settings}}
}

func (j job) order(t testing.TB) *passes.Plan {
	t.Helper()
	p, err := passes.Order(t.Context(), j.strokes, j.layout, j.req)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func path(t testing.TB, data string) geometry.Path {
	t.Helper()
	paths, err := geometry.ParsePathData(data)
	if err != nil || len(paths) != 1 {
		t.Fatalf("%q: %v, %d paths", data, err, len(paths))
	}
	return paths[0]
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6f, want %.6f within %g", what, got, want, tol)
	}
}

func stroke(t testing.TB, op artwork.Operation, data string) artwork.Stroke {
	return artwork.Stroke{Path: path(t, data), Operation: op}
}

func square(op artwork.Operation, x, y, side float64) artwork.Stroke {
	return artwork.Stroke{Path: geometry.Box{Min: geometry.Pt(x, y), Max: geometry.Pt(x+side, y+side)}.Path(), Operation: op}
}

// runOrder lists the strokes of a pass in the order in which they run.
func runOrder(p passes.Pass) []int {
	var order []int
	for _, r := range p.Runs {
		order = append(order, r.Stroke)
	}
	return order
}

func codes(t *testing.T, p *passes.Plan) []finding.Code {
	t.Helper()
	var all []finding.Code
	found, asked := p.Outcome()
	if len(asked) > 0 {
		t.Errorf("unexpected questions %v", asked)
	}
	for _, f := range found {
		all = append(all, f.Code)
	}
	return all
}

func TestPassesRunInTheFixedOrder(t *testing.T) {
	j := jobOn(t, "card-160-a4", 2,
		square(artwork.ThroughCut, 0, 0, 80), stroke(t, artwork.Score, "M40 0L40 80"),
		stroke(t, artwork.Pen, "M5 5L20 5"), stroke(t, artwork.Perforate, "M60 0L60 80"))
	p := j.order(t)
	var got []artwork.Operation
	pauses := 0.0
	for _, one := range p.Loads[0].Passes {
		got = append(got, one.Operation)
		pauses += one.PauseS
		if len(one.Runs) != 2 {
			t.Errorf("%s: %d runs for two copies", one.Operation, len(one.Runs))
		}
	}
	want := []artwork.Operation{artwork.Pen, artwork.Score, artwork.Perforate, artwork.ThroughCut}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	// Pen to blade, which scores at half its force, perforates and cuts.
	near(t, "pauses", pauses, j.req.Machine.ToolChangeS, 0)
	near(t, "pauses of the plan", p.Time.PauseS, pauses, 0)
	if c := codes(t, p); len(c) > 0 {
		t.Errorf("findings %v", c)
	}
}

// By hand: a counter in a letter in a plate, with a slit beside the letter.
func TestContainedStrokesComeFirst(t *testing.T) {
	for _, stock := range []string{"film-removable-610", "card-160-a3"} {
		op := artwork.KissCut
		if stock == "card-160-a3" {
			op = artwork.ThroughCut
		}
		p := jobOn(t, stock, 1, square(op, 0, 0, 100), square(op, 10, 10, 40), square(op, 20, 20, 10), stroke(t, op, "M60 20L90 20")).order(t)
		order := runOrder(p.Loads[0].Passes[0])
		at := func(s int) int { return slices.Index(order, s) }
		if at(2) > at(1) || at(1) > at(0) || at(3) > at(0) {
			t.Errorf("%s: order %v", stock, order)
		}
	}
}

// What lies in the opening of another copy is cut before it, though the way to the
// opening is shorter: it would lie in card that has come loose. Here each of two copies,
// one turned by a half, lies in the other with its smaller square.
func TestCopiesInOpeningsComeFirst(t *testing.T) {
	j := jobOn(t, "card-160-a3", 2, square(artwork.ThroughCut, 0, 0, 200), square(artwork.ThroughCut, 80, 205, 110))
	j.layout.Loads = j.layout.Loads[:1]
	j.layout.Loads[0].Placements = []layout.Placement{
		{Copy: 1, Transform: geometry.Translate(10, 5), Bounds: geometry.Box{Min: geometry.Pt(10, 5), Max: geometry.Pt(210, 320)}},
		{Copy: 2, TurnDeg: 180, Transform: geometry.Affine{A: -1, D: -1, E: 210, F: 405}, Bounds: geometry.Box{Min: geometry.Pt(10, 90), Max: geometry.Pt(210, 405)}},
	}
	order := map[[2]int]int{}
	for i, run := range j.order(t).Loads[0].Passes[0].Runs {
		order[[2]int{run.Copy, run.Stroke}] = i
	}
	if order[[2]int{1, 1}] > order[[2]int{2, 0}] || order[[2]int{2, 1}] > order[[2]int{1, 0}] {
		t.Errorf("order %v", order)
	}
}

// Card comes loose as it is cut through, so the whole load goes from small to
// large; film stays on its liner, and the shortest way wins.
func TestThroughCutsGoFromSmallToLarge(t *testing.T) {
	shapes := func(op artwork.Operation) []artwork.Stroke {
		return []artwork.Stroke{square(op, 0, 0, 60), square(op, 70, 0, 5), square(op, 80, 0, 60), square(op, 145, 0, 5)}
	}
	p := jobOn(t, "card-160-a3", 1, shapes(artwork.ThroughCut)...).order(t)
	order := runOrder(p.Loads[0].Passes[0])
	if max(slices.Index(order, 1), slices.Index(order, 3)) > min(slices.Index(order, 0), slices.Index(order, 2)) {
		t.Errorf("card: order %v", order)
	}
	p = jobOn(t, "film-removable-610", 1, shapes(artwork.KissCut)...).order(t)
	if diff := cmp.Diff([]int{0, 1, 2, 3}, runOrder(p.Loads[0].Passes[0])); diff != "" {
		t.Error("film:", diff)
	}
}

func TestReliefLinesComeBeforeTheirContoursAndBordersLast(t *testing.T) {
	relief := stroke(t, artwork.KissCut, "M50 50L90 50")
	relief.Added = artwork.Relief
	border := square(artwork.KissCut, -5, -5, 160)
	border.Added = artwork.Border
	j := jobOn(t, "film-removable-610", 3, border, square(artwork.KissCut, 10, 10, 40), square(artwork.KissCut, 90, 10, 50), relief, square(artwork.KissCut, 20, 20, 5))
	p := j.order(t)
	order := map[[2]int]int{}
	for i, r := range p.Loads[0].Passes[0].Runs {
		order[[2]int{r.Copy, r.Stroke}] = i
	}
	for c := 1; c <= 3; c++ {
		at := func(s int) int { return order[[2]int{c, s}] }
		if at(3) > at(1) || at(3) > at(2) || at(4) > at(1) || at(0) < at(1) || at(0) < at(2) {
			t.Errorf("copy %d: %v", c, order)
		}
	}
}

// The machine can do what is asked, or a finding says what it cannot.
func TestLimits(t *testing.T) {
	square60 := square(artwork.ThroughCut, 0, 0, 60)
	kiss := square(artwork.KissCut, 0, 0, 60)
	for _, c := range []struct {
		name   string
		stock  string
		stroke artwork.Stroke
		change func(*job)
		want   []finding.Code
	}{
		{"all is well", "card-220-a4", square60, func(*job) {}, nil},
		{"too much force", "card-220-a4", square60, func(j *job) { j.req.Machine.MaxForceGF = 200 }, []finding.Code{finding.ForceOverMachine}},
		{"just enough force", "card-220-a4", square60, func(j *job) { j.req.Machine.MaxForceGF = 210 }, nil},
		{"too fast", "card-220-a4", square60, func(j *job) { j.req.Machine.MaxSpeedMMS = 30 }, []finding.Code{finding.SpeedOverMachine}},
		{"too thick", "card-220-a4", square60, func(j *job) { j.req.Machine.MaxCaliperUM = 274 }, []finding.Code{finding.CaliperOverMachine}},
		{"just thin enough", "card-220-a4", square60, func(j *job) { j.req.Machine.MaxCaliperUM = 275 }, nil},
		{"too wide", "card-220-a4", square60, func(j *job) { j.req.Machine.WidthMM = 59 }, []finding.Code{finding.WiderThanMachine}},
		{"no such blade", "card-220-a4", square60, func(j *job) { j.req.Machine.Blades = nil }, []finding.Code{finding.BladeMissing}},
		{"no setting", "card-220-a4", square60, func(j *job) { j.req.Settings = nil }, []finding.Code{finding.SettingMissing}},
		{"through the liner in the rollers", "film-removable-610", square60, func(j *job) {
			j.req.Settings = append(j.req.Settings, workshop.Setting{ID: "x", Family: workshop.RemovableFilm, Operation: artwork.ThroughCut, SpeedMMS: 50, ForceGF: 150})
		}, []finding.Code{finding.ThroughWithoutMat}},
		{"kiss cut in the rollers", "film-removable-610", kiss, func(*job) {}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := jobOn(t, c.stock, 1, c.stroke)
			c.change(&j)
			if diff := cmp.Diff(c.want, codes(t, j.order(t))); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// The example's card has its grain along the feed. A fold each way cracks however
// the piece is turned; a lone one across would not, so that it did not fit.
func TestAdviceAboutTheGrain(t *testing.T) {
	across, along := stroke(t, artwork.Score, "M0 50L100 50"), stroke(t, artwork.Score, "M50 0L50 100")
	for says, folds := range map[string][]artwork.Stroke{
		"turning the drawing does not help": {across, along}, "but that does not fit": {across},
	} {
		p := jobOn(t, "card-220-a4", 1, append([]artwork.Stroke{square(artwork.ThroughCut, 0, 0, 100)}, folds...)...).order(t)
		if len(p.Findings) != 1 || !strings.Contains(p.Findings[0].Hint, says) {
			t.Errorf("findings %+v, want one that says %q", p.Findings, says)
		}
	}
	light := jobOn(t, "card-160-a4", 1, square(artwork.ThroughCut, 0, 0, 100), across)
	if p := light.order(t); len(p.Findings) > 0 {
		t.Errorf("light card: %+v", p.Findings)
	}
}

// The example's card has its grain along the feed.
func TestScoresAcrossTheGrain(t *testing.T) {
	j := jobOn(t, "card-220-a4", 1, square(artwork.ThroughCut, 0, 0, 100),
		stroke(t, artwork.Score, "M0 50L100 50"), stroke(t, artwork.Score, "M50 0L50 100"), stroke(t, artwork.Score, "M0 0L100 100"))
	p := j.order(t)
	if diff := cmp.Diff([]finding.Code{finding.ScoreAcrossGrain}, codes(t, p)); diff != "" {
		t.Fatal(diff)
	}
	f := p.Findings[0]
	if f.Count != 1 || f.Values.Num("across_mm") != 100 {
		t.Errorf("finding %+v", f)
	}
}

func TestSettingsSpecificBeforeGeneral(t *testing.T) {
	d := workshop.Example()
	s, _ := d.Stock("stencil-a3")
	wide, _ := d.Machine("wide-610")
	narrow, _ := d.Machine("narrow-305")
	family := func(id string) workshop.Setting {
		return workshop.Setting{ID: id, Family: workshop.StencilSheet, Operation: artwork.ThroughCut, SpeedMMS: 20}
	}
	tested, older, own, other := family("tested"), family("older"), family("own"), family("other")
	tested.TestedBy, tested.TestedOn = "A. Turner", "2026-03-02"
	older.TestedBy, older.TestedOn = "A. Turner", "2025-03-02"
	own.StockID = "stencil-a3"
	other.StockID = "another"
	for _, c := range []struct {
		name     string
		settings []workshop.Setting
		machine  workshop.Machine
		want     string
	}{
		{"for any machine", d.Settings, wide, "stencil_sheet-through_cut"},
		{"the machine's own", d.Settings, narrow, "stencil_sheet-through_cut-narrow"},
		{"tested before a start point", append(d.Settings, tested), wide, "tested"},
		{"tested last", []workshop.Setting{older, tested}, wide, "tested"},
		{"the stock's own", append(d.Settings, tested, own), narrow, "own"},
		{"another stock's", []workshop.Setting{other}, wide, ""},
	} {
		got, ok := passes.ChooseSetting(c.settings, s, c.machine, artwork.ThroughCut)
		if got.ID != c.want || ok != (c.want != "") {
			t.Errorf("%s: %q, %v; want %q", c.name, got.ID, ok, c.want)
		}
	}
}

// By hand: a 40 mm square, cut twice round with overcut, blade without offset.
func TestTimesAddUp(t *testing.T) {
	j := jobOn(t, "film-removable-610", 1, square(artwork.KissCut, 0, 0, 40))
	j.req.Settings = []workshop.Setting{{ID: "x", Family: workshop.RemovableFilm, Operation: artwork.KissCut, SpeedMMS: 100, Passes: 2}}
	j.req.Machine.Blade = workshop.Blade{ID: "x", OvercutMM: 1}
	p := j.order(t)
	one := p.Loads[0].Passes[0]
	near(t, "cut", one.CutMM, 2*160+1, 1e-9)
	near(t, "travel from the origin", one.TravelMM, math.Hypot(10+1, 50), 1e-9) // film is begun 1 mm off a corner
	near(t, "travel time", p.Time.TravelS, motion.MoveTime(50, 200, 1000), 1e-9)
	near(t, "motion", one.MotionS, one.CutS+one.TravelS+0.1, 1e-9)
	near(t, "all", p.Time.Total(), 180+120+60+one.MotionS, 1e-9)
	if one.Lifts != 1 || p.Lifts != 1 {
		t.Errorf("%d lifts", one.Lifts)
	}
}

func TestPerforationIsCutInDashes(t *testing.T) {
	j := jobOn(t, "card-160-a4", 1, stroke(t, artwork.Perforate, "M0 0L90 0"))
	one := j.order(t).Loads[0].Passes[0]
	// Dashes of 2 mm, ties of 1 mm: 30 dashes in 90 mm, and the lead-in before them.
	if one.Lifts != 31 || len(one.Runs) != 1 || one.LeadIn == nil {
		t.Fatalf("%d lifts, %d runs, lead-in %v", one.Lifts, len(one.Runs), one.LeadIn)
	}
	near(t, "cut", one.CutMM, 60+one.LeadIn.From.Dist(one.LeadIn.To), 1e-6)
}

func TestTraceFollowsTheRun(t *testing.T) {
	j := jobOn(t, "film-heat-500", 4, square(artwork.KissCut, 0, 0, 40), stroke(t, artwork.KissCut, "M50 0L60 20"))
	p := j.order(t)
	for _, r := range p.Loads[0].Passes[0].Runs {
		line := passes.Trace(r, j.strokes, j.layout)
		if line.Start.Dist(r.At) > 1e-9 {
			t.Errorf("run %+v starts at %v", r, line.Start)
		}
		if got, want := line.Length(), j.strokes[r.Stroke].Path.Length(); math.Abs(got-want) > 1e-9 {
			t.Errorf("run %+v is %g mm long, want %g", r, got, want)
		}
		if box := j.layout.Loads[0].Placements[r.Copy-1].Bounds; !box.Grow(1e-9).ContainsBox(line.Bounds()) {
			t.Errorf("run %+v leaves its copy %v", r, box)
		}
	}
	for _, r := range []passes.Run{{Copy: 0}, {Copy: 5}, {Copy: 1, Stroke: 2}, {Copy: 1, Stroke: -1}} {
		if !passes.Trace(r, j.strokes, j.layout).Empty() {
			t.Errorf("run %+v has a path", r)
		}
	}
}

func TestNumbersThatMakeNoSense(t *testing.T) {
	for field, change := range map[string]func(*job){
		"machine.accel_mm_s2": func(j *job) { j.req.Machine.AccelMMS2 = 0 },
		"machine.travel_mm_s": func(j *job) { j.req.Machine.TravelMMS = math.NaN() },
		"settings.passes":     func(j *job) { j.req.Settings[0].Passes = 1000 },
		"settings.dash_mm":    func(j *job) { j.req.Settings[0].DashMM = 1e-9 },
		"strokes.path":        func(j *job) { j.strokes[0].Path.Segments[1].End.X = math.NaN() },
		"layout.placements":   func(j *job) { j.layout.Loads[0].Placements[0].Transform.E = math.Inf(1) },
	} {
		j := jobOn(t, "card-160-a4", 1, square(artwork.ThroughCut, 0, 0, 40))
		change(&j)
		_, err := passes.Order(t.Context(), j.strokes, j.layout, j.req)
		var bad *passes.RequestError
		if !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("%s: error %v", field, err)
		}
	}
}

// Equal loads are planned alike, and every copy is run once.
func TestEqualLoads(t *testing.T) {
	j := jobOn(t, "card-160-a4", 33, square(artwork.ThroughCut, 20, 20, 10), stroke(t, artwork.ThroughCut, "M0 0L90 0L90 55L0 55Z"))
	p := j.order(t)
	if len(p.Loads) != 4 {
		t.Fatalf("%d loads", len(p.Loads))
	}
	seen := map[[2]int]bool{}
	for i, load := range p.Loads {
		if load.Number != i+1 {
			t.Errorf("load %d has number %d", i+1, load.Number)
		}
		for _, r := range load.Passes[0].Runs {
			key := [2]int{r.Copy, r.Stroke}
			if seen[key] {
				t.Errorf("copy %d, stroke %d is run twice", r.Copy, r.Stroke)
			}
			seen[key] = true
		}
	}
	if len(seen) != 66 {
		t.Errorf("%d runs", len(seen))
	}
	near(t, "cuts of equal loads", p.Loads[0].Passes[0].CutMM, p.Loads[1].Passes[0].CutMM, 0)
}

// Whatever the shapes: all are run once, nested ones first; the same input
// gives the same plan.
func TestOrderProperties(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		var strokes []artwork.Stroke
		var add func(x, y, side float64, depth int)
		add = func(x, y, side float64, depth int) {
			strokes = append(strokes, square(artwork.KissCut, x, y, side))
			for i := range rapid.IntRange(0, 3).Draw(t, "inside") {
				if depth > 0 {
					add(x+side*(0.05+0.3*float64(i)), y+side*rapid.Float64Range(0.1, 0.6).Draw(t, "up"), side*0.25, depth-1)
				}
			}
		}
		for i := range rapid.IntRange(1, 6).Draw(t, "outer") {
			add(float64(i)*60, rapid.Float64Range(0, 100).Draw(t, "y"), 50, 2)
		}
		strokes = rapid.Permutation(strokes).Draw(t, "order")
		laid := &layout.Layout{Loads: []layout.Load{{Number: 1, Placements: []layout.Placement{{Copy: 1, Transform: geometry.Identity}}}}}
		d := workshop.Example()
		s, _ := d.Stock("film-removable-610")
		m, _ := d.Machine("wide-610")
		req := passes.Request{Stock: s, Machine: m, Settings: d.Settings}
		p, err := passes.Order(t.Context(), strokes, laid, req)
		if err != nil {
			t.Fatal(err)
		}
		order := runOrder(p.Loads[0].Passes[0])
		sorted := slices.Sorted(slices.Values(order))
		for i, v := range sorted {
			if i != v || len(sorted) != len(strokes) {
				t.Fatalf("runs %v of %d strokes", sorted, len(strokes))
			}
		}
		for a := range strokes {
			for b := range strokes {
				if a != b && strokes[b].Path.Bounds().ContainsBox(strokes[a].Path.Bounds()) && slices.Index(order, a) > slices.Index(order, b) {
					t.Fatalf("stroke %d is held by %d and comes after it", a, b)
				}
			}
		}
		again, _ := passes.Order(t.Context(), strokes, laid, req)
		x, _ := json.Marshal(p)
		y, _ := json.Marshal(again)
		if string(x) != string(y) {
			t.Fatal("two plans for the same strokes")
		}
	})
}

// Any paths at all: no panic, and every stroke that is there is run once.
func FuzzOrder(f *testing.F) {
	f.Add("M0 0L10 0L10 10ZM2 2L3 3ZM1 1A1 1 0 0 1 5 5", uint8(2), false)
	f.Add("M0 0C1e3 0 0 0 0 0ZM5 5L5 5M1 1H1Z", uint8(1), true)
	f.Add("M-9 1Q4 4 8 1T20 1M0 0L1e5 1e5", uint8(3), true)
	f.Fuzz(func(t *testing.T, data string, copies uint8, through bool) {
		paths, err := geometry.ParsePathData(data)
		if err != nil || len(paths) > 40 || len(data) > 2000 {
			return
		}
		d := workshop.Example()
		s, _ := d.Stock("card-160-a3")
		m, _ := d.Machine("wide-610")
		op := artwork.Perforate
		if through {
			op = artwork.ThroughCut
		}
		var strokes []artwork.Stroke
		length := 0.0
		for _, p := range paths {
			if !p.Empty() {
				strokes = append(strokes, artwork.Stroke{Path: p, Operation: op})
				length += p.Length()
			}
		}
		if !(length < 1e5) {
			return
		}
		l := &layout.Layout{Loads: []layout.Load{{Number: 1}}}
		for c := range int(copies % 4) {
			l.Loads[0].Placements = append(l.Loads[0].Placements, layout.Placement{Copy: c + 1, Transform: geometry.Translate(float64(c)*50, 0)})
		}
		p, err := passes.Order(t.Context(), strokes, l, passes.Request{Stock: s, Machine: m, Settings: d.Settings})
		if err != nil || len(p.Loads) == 0 {
			return
		}
		for _, one := range p.Loads[0].Passes {
			if len(one.Runs) != len(strokes)*len(l.Loads[0].Placements) {
				t.Errorf("%d runs of %d strokes on %d copies", len(one.Runs), len(strokes), len(l.Loads[0].Placements))
			}
			if math.IsNaN(one.MotionS) || one.MotionS < 0 {
				t.Errorf("motion takes %g s", one.MotionS)
			}
		}
	})
}
