package estimate_test

import (
	"testing"

	"knifedesk/jobs/estimate"
)

// Each line says what is charged, in which unit and at which rate: that of the
// price list. The quantities are those of the worked example of the design notes,
// tape also by its area, where the list has a price for that.
func TestLinesSayWhatIsCharged(t *testing.T) {
	in := workedExample(t)
	in.Prices.Minimum = dec("20")
	want := [][4]string{
		{"material", "0.35", "m", "4.2"}, {"tape", "1.2", "m", "1.1"}, {"machine", "12.25", "min", "0.2"}, {"labour", "23.87", "min", "0.3"},
		{"blade", "18", "m", "0.02"}, {"minimum", "1", "", "20"}, {"tax", "20", "%", "20"},
	}
	hold(t, in, want)
	in.Prices.TapeArea = dec("5")
	want[1] = [4]string{"tape", "0.144", "m²", "5"}
	hold(t, in, want)
}

func hold(t *testing.T, in estimate.Input, want [][4]string) {
	t.Helper()
	e := estimate.Make(in)
	if len(e.Lines) != len(want) {
		t.Fatalf("%d lines, want %d", len(e.Lines), len(want))
	}
	for i, l := range e.Lines {
		if got := [4]string{string(l.Code), l.Quantity.String(), l.Unit, l.Rate.String()}; got != want[i] {
			t.Errorf("line %d is %q, want %q", i, got, want[i])
		}
	}
	if e.Currency != "credit" || e.MinorDigits != 2 {
		t.Errorf("in %s with %d digits", e.Currency, e.MinorDigits)
	}
}

// What is not used has no line: no tape, and no least charge that is reached.
func TestNoLineForNothing(t *testing.T) {
	in := workedExample(t)
	in.Usage.TapeM, in.Usage.TapeMM2 = 0, 0
	for _, l := range estimate.Make(in).Lines {
		if l.Minor == 0 || l.Code == estimate.Tape || l.Code == estimate.Minimum {
			t.Errorf("there is a line %+v", l)
		}
	}
}

// Without a grid, and on one of a minute, whole minutes are booked.
func TestSlotOfWholeMinutes(t *testing.T) {
	for grid := range 2 {
		if got := estimate.Slot(6.2, dec("1"), dec("0"), grid); got != 7 {
			t.Errorf("grid %d: %d minutes, want 7", grid, got)
		}
	}
}

// By hand, with the words of the rule: minutes, factor, time to change over, what
// is over the last whole step, and what is booked.
func TestSlotWhy(t *testing.T) {
	for _, c := range []struct {
		minutes            float64
		factor, changeover string
		grid               int
		want               string
	}{
		{15.7, "1", "0", 15, "15.7 min, which is 0.7 over 15: book 30"},
		{12.25, "1.15", "5", 15, "12.25 min × 1.15 + 5 min to change over = 19.0875 min, which is 4.0875 over 15: book 30"},
		{10, "1", "5", 15, "10 min + 5 min to change over = 15 min: book 15"},
		{7.2, "1", "0", 15, "7.2 min: book 15"},
		{0, "1.15", "0", 15, "0 min × 1.15 = 0 min: book 0"},
	} {
		if got := estimate.SlotWhy(c.minutes, dec(c.factor), dec(c.changeover), c.grid); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// By hand: two changes of tool of a minute each make 12.25 minutes 14.25, and with
// −20 % and +50 % the ends 12.03 and 18.88.
func TestChangesOfToolAreCharged(t *testing.T) {
	in := workedExample(t)
	in.Time.PauseS = 120
	e := estimate.Make(in)
	if want := (estimate.Range{Low: 12.03, Likely: 14.25, High: 18.88}); e.CutterMin != want {
		t.Errorf("%+v minutes, want %+v", e.CutterMin, want)
	}
	if e.Basis.HandlingS != 480 { // with loading, test and unloading of 360
		t.Errorf("counted by %g s of handling", e.Basis.HandlingS)
	}
	if machine := e.Lines[2]; machine.Code != estimate.Machine || machine.Quantity.String() != "14.25" || machine.Minor != 285 {
		t.Errorf("charged is %+v", machine)
	}
}

// By hand: quantities are of whole mm and mm²; a least charge lacks one minor unit;
// taping goes with the minutes of the price list and, by three parts in four, with
// the length of the tape; ranges are those that the workshop has learned.
func TestSmallDifferences(t *testing.T) {
	in := workedExample(t)
	in.Usage.RollMM, in.Usage.TapeMM2, in.Prices.TapeArea = 350.4, 144000.4, dec("5")
	if l := estimate.Make(in).Lines; l[0].Quantity.String() != "0.35" || l[1].Quantity.String() != "0.144" {
		t.Errorf("charged are %s m and %s m²", l[0].Quantity, l[1].Quantity)
	}
	in = workedExample(t)
	in.Prices.Minimum = dec("12.77")
	if e := estimate.Make(in); e.NetMinor != 1277 || e.Lines[5].Code != estimate.Minimum || e.Lines[5].Minor != 1 {
		t.Errorf("net %d, lines %+v", e.NetMinor, e.Lines)
	}
	in = workedExample(t)
	in.Prices.TapingMin = dec("2")
	if e := estimate.Make(in); e.BenchMin.Likely != 29.87 {
		t.Errorf("two minutes a copy: %v min, want 29.87", e.BenchMin.Likely)
	}
	in = workedExample(t)
	in.Usage.TapeMM2 /= 2
	if e := estimate.Make(in); e.BenchMin.Likely != 23.12 {
		t.Errorf("on tape of half the width: %v min, want 23.12", e.BenchMin.Likely)
	}
	in = workedExample(t)
	in.Spread = &estimate.Spread{Motion: estimate.Factors{Low: 1, High: 1}, Handling: estimate.Factors{Low: 1, High: 1}, Bench: estimate.Factors{Low: 1, High: 2}}
	if e := estimate.Make(in); e.CutterMin != (estimate.Range{Low: 12.25, Likely: 12.25, High: 12.25}) || e.BenchMin != (estimate.Range{Low: 23.87, Likely: 23.87, High: 47.74}) {
		t.Errorf("as learned: %+v and %+v", e.CutterMin, e.BenchMin)
	}
	delete(in.Prices.PerMetre, in.Stock.ID)
	if f := estimate.Make(in).Findings; len(f) != 1 || f[0].Count != 1 {
		t.Errorf("findings %+v", f)
	}
}
