package finding_test

import (
	"testing"

	"knifedesk/jobs/finding"
)

// Numbers read as a person would write them, and words agree with them.
func TestFill(t *testing.T) {
	tests := []struct {
		text   string
		values map[string]any
		want   string
	}{
		{"no placeholder", nil, "no placeholder"},
		{"{count} {count:line is|lines are} open", map[string]any{"count": 1}, "1 line is open"},
		{"{count} {count:line is|lines are} open", map[string]any{"count": 2}, "2 lines are open"},
		{"{count} {count:line|lines}", map[string]any{"count": 0}, "0 lines"},
		{"{count} {count:line|lines}", map[string]any{"count": 11}, "11 lines"},
		{"{mm} {mm:millimetre|millimetres}", map[string]any{"mm": 1.001}, "1 millimetre"},
		{"{mm} {mm:millimetre|millimetres}", map[string]any{"mm": 1.5}, "1.5 millimetres"},
		{"point{count:|s}", map[string]any{"count": 1}, "point"},
		{"point{count:|s}", map[string]any{"count": 3}, "points"},
		{"{a}{b}", map[string]any{"a": 100.0, "b": 0.05125}, "1000.05125"},
		{"{a}", map[string]any{"a": -12.3456}, "-12.35"},
		{"{a}", map[string]any{"a": 0.0123456}, "0.01235"},
		{"{a}", map[string]any{"a": 0.0}, "0"},
		{"{a}", map[string]any{"a": "text with {b}", "b": 1}, "text with {b}"},
		{"{missing} {missing:one|many}", map[string]any{"a": 1}, "{missing} {missing:one|many}"},
		{"{a:no choice}", map[string]any{"a": 1}, "{a:no choice}"},
		{"left {open", map[string]any{"open": 1}, "left {open"},
		{"{}", map[string]any{"": 1}, "1"},
	}
	for _, tt := range tests {
		if got := finding.Fill(tt.text, tt.values); got != tt.want {
			t.Errorf("%q with %v: %q, want %q", tt.text, tt.values, got, tt.want)
		}
	}
}
