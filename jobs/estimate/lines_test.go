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

// By hand: two changes of tool of a minute each make 12.25 minutes 14.25, and with
// −20 % and +50 % the ends 12.03 and 18.88.
func TestChangesOfToolAreCharged(t *testing.T) {
	in := workedExample(t)
	in.Time.PauseS = 120
	e := estimate.Make(in)
	if want := (estimate.Range{Low: 12.03, Likely: 14.25, High: 18.88}); e.CutterMin != want {
		t.Errorf("%+v minutes, want %+v", e.CutterMin, want)
	}
	if machine := e.Lines[2]; machine.Code != estimate.Machine || machine.Quantity.String() != "14.25" || machine.Minor != 285 {
		t.Errorf("charged is %+v", machine)
	}
}
