package estimate_test

import (
	"encoding/json"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/motion"
	"knifedesk/jobs"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

// workedExample is the example of the design notes (time and money): six labels
// on the wide cutter. Layout and effort come from their jobs; motion is
// added up from runs and travels as the notes do.
func workedExample(t testing.TB) estimate.Input {
	t.Helper()
	d := workshop.Example()
	stock, _ := d.Stock("film-removable-610")
	m, _ := d.Machine("wide-610")
	prices, _ := d.PriceList("orrin")
	label := layout.Piece{Bounds: geometry.Box{Max: geometry.Pt(180, 120)}}
	layout, err := layout.Place(t.Context(), label, layout.Request{Stock: stock, Machine: m, Copies: 6})
	if err != nil {
		t.Fatal(err)
	}
	layout.Usage.TapeM, layout.Usage.TapeMM2 = 6*0.2, 6*200*120 // the notes tape label by label
	effort := weeding.DefaultTimes().Weigh(weeding.Effort{KeptContourM: 2.4, Counters: 18, Fragile: 5, LeastHeightMM: 10}, false)
	return estimate.Input{
		Stock: stock, Copies: 6, Loads: len(layout.Loads), Usage: layout.Usage, CutMM: 6 * 3000,
		Time: passes.Time{
			LoadS: m.LoadS, TestS: m.TestS, UnloadS: m.UnloadS,
			CutS:    6 * 100 * motion.MoveTime(30, 100, m.AccelMMS2),
			TravelS: 270 * motion.MoveTime(40, m.TravelMMS, m.AccelMMS2),
			LiftS:   270 * m.LiftS,
		},
		Effort: effort, Staff: effort, Prices: prices,
	}
}

func TestWorkedExample(t *testing.T) {
	in := workedExample(t)
	e := estimate.Make(in)
	if s := in.Time.CutS + in.Time.TravelS + in.Time.LiftS; math.Abs(s-375) > 1e-9 {
		t.Errorf("motion %g s, want 375", s)
	}
	if s := in.Effort.Seconds(6); math.Abs(s-1072.2) > 1e-9 {
		t.Errorf("weeding %g s, want 1072.2", s)
	}
	if e.CutterMin.Likely != 12.25 || e.BenchMin.Likely != 23.87 {
		t.Errorf("minutes %g and %g, want 12.25 and 23.87", e.CutterMin.Likely, e.BenchMin.Likely)
	}
	if e.CutterSlotMin != 30 || e.BenchSlotMin != 30 {
		t.Errorf("slots %d and %d, want 30 and 30", e.CutterSlotMin, e.BenchSlotMin)
	}
	got := map[estimate.LineCode]int64{}
	for _, l := range e.Lines {
		got[l.Code] = l.Minor
	}
	want := map[estimate.LineCode]int64{
		estimate.Material: 147, estimate.Tape: 132, estimate.Machine: 245, estimate.Labour: 716, estimate.Blade: 36, estimate.Tax: 255,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error("lines:", diff)
	}
	if e.NetMinor != 1276 || e.TotalMinor != 1531 || e.TotalText != "15.31 credit" {
		t.Errorf("net %d, total %d (%s), want 1276, 1531", e.NetMinor, e.TotalMinor, e.TotalText)
	}
	if e.PriceList != "orrin" || e.PriceListVersion != 1 || e.ValidDays != 14 {
		t.Errorf("quote by list %s, version %d, for %d days", e.PriceList, e.PriceListVersion, e.ValidDays)
	}
	if found, asked := e.Outcome(); len(found) > 0 || len(asked) > 0 {
		t.Errorf("outcome %v, %v", found, asked)
	}
}

// The ends by hand: motion 375 s by ±10 %, handling 360 s by −20 and +50 %,
// bench 1432.2 s by −30 and +60 %.
func TestLowAndHigh(t *testing.T) {
	e := estimate.Make(workedExample(t))
	want := []estimate.Range{{Low: 10.43, Likely: 12.25, High: 15.88}, {Low: 16.71, Likely: 23.87, High: 38.19}}
	if diff := cmp.Diff(want, []estimate.Range{e.CutterMin, e.BenchMin}); diff != "" {
		t.Error(diff)
	}
}

func TestSlot(t *testing.T) {
	for _, c := range []struct {
		minutes            float64
		factor, changeover string
		grid, want         int
	}{
		{12.25, "1.15", "5", 15, 30},
		{23.87, "1.15", "0", 15, 30},
		{10, "1", "5", 15, 15}, // on the grid: not one more
		{10.01, "1", "5", 15, 30},
		{0, "1.15", "0", 15, 0},
		{7.2, "1", "0", 0, 8},
	} {
		if got := estimate.Slot(c.minutes, dec(c.factor), dec(c.changeover), c.grid); got != c.want {
			t.Errorf("Slot(%g, %s, %s, %d) = %d, want %d", c.minutes, c.factor, c.changeover, c.grid, got, c.want)
		}
	}
}

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// By hand: one line at a time.
func TestLines(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*estimate.Input)
		code   estimate.LineCode
		want   int64
		total  int64
	}{
		{"half a minor unit goes up", func(in *estimate.Input) { in.Prices.BladeMetre = dec("0.0425") }, estimate.Blade, 77, 1580}, // 0.765
		{"just below half goes down", func(in *estimate.Input) { in.Prices.BladeMetre = dec("0.04249") }, estimate.Blade, 76, 1579},
		{"minimum before tax", func(in *estimate.Input) { in.Prices.Minimum = dec("20") }, estimate.Minimum, 724, 2400},
		{"minimum just reached", func(in *estimate.Input) { in.Prices.Minimum = dec("12.76") }, estimate.Minimum, 0, 1531},
		{"no tape", func(in *estimate.Input) { in.Usage.TapeM, in.Usage.TapeMM2 = 0, 0 }, estimate.Tape, 0, 1157}, // nor taping: net 1276 − 132 − 180
		{"sheets", func(in *estimate.Input) {
			d := workshop.Example()
			in.Stock, _ = d.Stock("card-220-a4")
			in.Usage.Sheets = 4
		}, estimate.Material, 88, 1460},
		{"an offcut is paid for", func(in *estimate.Input) { in.Stock.Form = workshop.Offcut }, estimate.Material, 0, 1355},
		{"no minor unit", func(in *estimate.Input) { in.Prices.MinorDigits = 0 }, estimate.Labour, 7, 13},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := workedExample(t)
			c.change(&in)
			e := estimate.Make(in)
			got := int64(0)
			for _, l := range e.Lines {
				if l.Code == c.code {
					got = l.Minor
				}
			}
			if got != c.want || e.TotalMinor != c.total {
				t.Errorf("%s %d of %d, want %d of %d", c.code, got, e.TotalMinor, c.want, c.total)
			}
		})
	}
}

func TestPriceMissing(t *testing.T) {
	in := workedExample(t)
	delete(in.Prices.PerMetre, in.Stock.ID)
	e := estimate.Make(in)
	if len(e.Findings) != 1 || e.Findings[0].Code != finding.PriceMissing || e.NetMinor != 1276-147 {
		t.Errorf("findings %+v, net %d", e.Findings, e.NetMinor)
	}
}

// The start-up of weeding counts once a load; heat film is pressed without
// tape, and card is neither taped nor pressed.
func TestBenchMinutes(t *testing.T) {
	in := workedExample(t)
	in.Loads = 3
	if e := estimate.Make(in); e.BenchMin.Likely != 24.87 {
		t.Errorf("three loads: %g min, want 24.87", e.BenchMin.Likely)
	}
	// Two strips over three labels each: 0.75·1.16/0.2 + 0.25·0.1392/0.024 = 5.8.
	in.Loads, in.Usage.TapeM, in.Usage.TapeMM2 = 1, 1.16, 139200
	if e := estimate.Make(in); e.BenchMin.Likely != 23.67 {
		t.Errorf("on two strips of tape: %g min, want 23.67", e.BenchMin.Likely)
	}
	in.Loads, in.Usage.TapeTack, in.Usage.TapeM, in.Usage.TapeMM2 = 1, "", 0, 0
	if e := estimate.Make(in); e.BenchMin.Likely != 17.87 {
		t.Errorf("without tape: %g min, want 17.87", e.BenchMin.Likely)
	}
	in.Stock.Family = workshop.HeatFilm
	if e := estimate.Make(in); e.BenchMin.Likely != 23.87 {
		t.Errorf("pressed: %g min, want 23.87", e.BenchMin.Likely)
	}
}

// A maker who is slow books more time at the bench and pays no more.
func TestSlownessIsNotPriced(t *testing.T) {
	in := workedExample(t)
	quick := estimate.Make(in)
	in.Effort = weeding.DefaultTimes().Weigh(in.Effort, true)
	slow := estimate.Make(in)
	if slow.BenchMin.Likely != 41.74 || slow.BenchSlotMin <= quick.BenchSlotMin { // 2·17.87 + 6
		t.Errorf("bench %g min, book %d, want 41.74", slow.BenchMin.Likely, slow.BenchSlotMin)
	}
	if diff := cmp.Diff(quick.Lines, slow.Lines); diff != "" || slow.TotalMinor != quick.TotalMinor {
		t.Errorf("a slow maker pays %d, a quick one %d:\n%s", slow.TotalMinor, quick.TotalMinor, diff)
	}
	of := estimate.Of(estimate.Request{Stock: in.Stock, Copies: in.Copies, Prices: in.Prices},
		&weeding.Map{Effort: in.Effort}, &layout.Layout{Loads: make([]layout.Load, 1), Usage: in.Usage}, &passes.Plan{Time: in.Time, CutMM: in.CutMM})
	if of.TotalMinor != 1531 || of.BenchMin != slow.BenchMin {
		t.Errorf("the job asks %d for %+v", of.TotalMinor, of.BenchMin)
	}
}

// Lines add up, more of anything never costs less, and low ≤ likely ≤ high.
func TestEstimateProperties(t *testing.T) {
	base := workedExample(t)
	property.Check(t, func(t *rapid.T) {
		in := base
		in.Usage.RollMM = rapid.Float64Range(0, 20000).Draw(t, "roll")
		in.CutMM = rapid.Float64Range(0, 1e6).Draw(t, "cut")
		in.Time.CutS = rapid.Float64Range(0, 1e5).Draw(t, "seconds")
		in.Copies = rapid.IntRange(1, 500).Draw(t, "copies")
		e := estimate.Make(in)
		net := int64(0)
		for _, l := range e.Lines {
			if l.Code != estimate.Tax {
				net += l.Minor
			}
		}
		if net != e.NetMinor || e.NetMinor+e.TaxMinor != e.TotalMinor {
			t.Fatalf("lines %+v do not add up to %d and %d", e.Lines, e.NetMinor, e.TotalMinor)
		}
		for _, r := range []estimate.Range{e.CutterMin, e.BenchMin} {
			if r.Low > r.Likely || r.Likely > r.High {
				t.Fatalf("range %+v", r)
			}
		}
		in.Time.CutS++
		in.Usage.RollMM++
		if more := estimate.Make(in); more.TotalMinor < e.TotalMinor || more.CutterSlotMin < e.CutterSlotMin {
			t.Fatalf("more work for less: %+v against %+v", more, e)
		}
	})
}

// The job reads the prices, and its result is what Make returns.
func TestJob(t *testing.T) {
	in := workedExample(t)
	row := jobs.NewList().Estimate.Row()
	request := &plan.Request{Stock: in.Stock, Copies: in.Copies, Prices: in.Prices}
	node := func() jobs.Node {
		n, err := jobs.NewNode(row, request, jobs.Sum{}, "weeding map", "layout", "passes")
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	before := node()
	_, body, err := before.Run(t.Context(), nil, []jobs.Result{
		&weeding.Map{Effort: in.Effort},
		&layout.Layout{Loads: make([]layout.Load, 1), Usage: in.Usage},
		&passes.Plan{Time: in.Time, CutMM: in.CutMM},
	})
	if err != nil {
		t.Fatal(err)
	}
	var got estimate.Estimate
	if err := json.Unmarshal(body, &got); err != nil {
		t.Fatal(err)
	}
	if got.TotalMinor != 1531 {
		t.Errorf("total %d, want 1531", got.TotalMinor)
	}
	request.Prices.Version++
	if after := node(); before.Key == after.Key {
		t.Error("a new version of the price list has the same key")
	}
}

// With a calibration minutes, their ends and the labour are those that are fitted, of a
// practised hand for the price; with none they are the start values, and the estimate
// says which. By hand: 360 + 2·375 s at the cutter; at the bench taping and half of all
// times of weeding.
func TestCalibratedMinutes(t *testing.T) {
	in := workedExample(t)
	in.Terms, in.Slower = weeding.DefaultTimes().TermsOf(in.Effort, 6).Plus(weeding.Terms{Starts: 1}), 1
	plain := estimate.Make(in)
	if plain.Calibration != "start values" || math.Abs(plain.Basis.MotionS-375) > 1e-9 || plain.Basis.HandlingS != 360 {
		t.Errorf("%q %+v", plain.Calibration, plain.Basis)
	}
	half := weeding.DefaultTimes().List()
	for i := range half {
		half[i] /= 2
	}
	fit := func(values ...float64) *calibration.Fit {
		f := &calibration.Fit{Values: values, Noise: 0.1, Reach: 2, Jobs: 23, Cov: make([][]float64, len(values))}
		for i := range f.Cov {
			f.Cov[i] = make([]float64, len(values))
		}
		return f
	}
	in.Calibration = &calibration.Calibration{Day: "2030-01-02", Cutter: fit(2), Bench: fit(half...)}
	in.Slower = 2
	got := estimate.Make(in)
	if got.Calibration != "fitted to 23 jobs on 2030-01-02" || got.CutterMin != (estimate.Range{Low: 14.8, Likely: 18.5, High: 22.2}) {
		t.Errorf("%q %+v", got.Calibration, got.CutterMin)
	}
	if want := 6 + 1072.2/60; math.Abs(got.BenchMin.Likely-want) > 0.006 { // a beginner takes twice the half
		t.Errorf("bench %v, want %v", got.BenchMin, want)
	}
	labour, before := got.Lines[3], plain.Lines[3]
	if want := 6 + 1072.2/120; labour.Code != estimate.Labour || math.Abs(labour.Quantity.InexactFloat64()-want) > 0.006 || before.Quantity.Equal(labour.Quantity) {
		t.Errorf("labour %v, want %v min", labour, want)
	}
}
