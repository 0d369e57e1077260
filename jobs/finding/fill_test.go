package finding_test

import (
	"testing"

	"knifedesk/jobs/finding"
)

// Numbers read as a person would write them, and words agree with them.
func TestFill(t *testing.T) {
	tests := []struct {
		text   string
		values finding.Values
		want   string
	}{
		{"no placeholder", nil, "no placeholder"},
		{"{count} {count:line is|lines are} open", finding.Values{"count": finding.Int(1)}, "1 line is open"},
		{"{count} {count:line is|lines are} open", finding.Values{"count": finding.Int(2)}, "2 lines are open"},
		{"{count} {count:line|lines}", finding.Values{"count": finding.Int(0)}, "0 lines"},
		{"{count} {count:line|lines}", finding.Values{"count": finding.Int(11)}, "11 lines"},
		{"{mm} {mm:millimetre|millimetres}", finding.Values{"mm": finding.Num(1.001)}, "1 millimetre"},
		{"{mm} {mm:millimetre|millimetres}", finding.Values{"mm": finding.Num(1.5)}, "1.5 millimetres"},
		{"point{count:|s}", finding.Values{"count": finding.Int(1)}, "point"},
		{"point{count:|s}", finding.Values{"count": finding.Int(3)}, "points"},
		{"{a}{b}", finding.Values{"a": finding.Num(100.0), "b": finding.Num(0.05125)}, "1000.05"},
		{"{a}", finding.Values{"a": finding.Num(-12.3456)}, "-12.3"},
		{"{a}", finding.Values{"a": finding.Num(0.0123456)}, "0.01"},
		{"{a}", finding.Values{"a": finding.Num(0.0)}, "0"},
		{"{a}", finding.Values{"a": finding.Text("text with {b}"), "b": finding.Int(1)}, "text with {b}"},
		{"{least_mm} or {most_mm}", finding.Values{"least_mm": finding.Num(1.46), "most_mm": finding.Num(1.41)}, "1.4 or 1.5"},
		{"{least_mm} or {most_mm}", finding.Values{"least_mm": finding.Num(2 - 1e-12), "most_mm": finding.Num(2 + 1e-12)}, "2 or 2"},
		{"{n:none|one|many}", finding.Values{"n": finding.Int(0)}, "none"},
		{"{n:none|one|many}", finding.Values{"n": finding.Int(1)}, "one"},
		{"{n:none|one|many}", finding.Values{"n": finding.Int(2)}, "many"},
		{"{n:a|b|c|d}", finding.Values{"n": finding.Int(2)}, "{n:a|b|c|d}"},
		{"{missing} {missing:one|many}", finding.Values{"a": finding.Int(1)}, "{missing} {missing:one|many}"},
		{"{a:no choice}", finding.Values{"a": finding.Int(1)}, "{a:no choice}"},
		{"left {open", finding.Values{"open": finding.Int(1)}, "left {open"},
		{"{a}", finding.Values{"a": finding.Truth(true)}, "true"},
		{"{}", finding.Values{"": finding.Int(1)}, "1"},
	}
	for _, tt := range tests {
		if got := finding.Fill(tt.text, tt.values); got != tt.want {
			t.Errorf("%q with %v: %q, want %q", tt.text, tt.values, got, tt.want)
		}
	}
}
