package finding_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
)

// What is written as JSON is a number, a string or a boolean, and what is read
// back equals what was written.
func TestValueAsJSON(t *testing.T) {
	for _, tt := range []struct {
		value finding.Value
		json  string
	}{
		{finding.Int(0), "0"},
		{finding.Int(-7), "-7"},
		{finding.Int(1 << 53), "9007199254740992"},
		{finding.Num(7), "7"},
		{finding.Num(0.1), "0.1"},
		{finding.Num(-12.3456789), "-12.3456789"},
		{finding.Num(1e-9), "1e-9"},
		{finding.Num(1e21), "1e+21"},
		{finding.Num(math.MaxFloat64), "1.7976931348623157e+308"},
		{finding.Text(""), `""`},
		{finding.Text("7"), `"7"`},
		{finding.Text("true"), `"true"`},
		{finding.Text("a \"b\" <c> é"), `"a \"b\" \u003cc\u003e é"`},
		{finding.Truth(true), "true"},
		{finding.Truth(false), "false"},
	} {
		text, err := json.Marshal(tt.value)
		if err != nil || string(text) != tt.json {
			t.Errorf("%v is written %s, want %s (%v)", tt.value, text, tt.json, err)
		}
		back := finding.Text("of before")
		if err := json.Unmarshal([]byte(tt.json), &back); err != nil || !back.Equal(tt.value) {
			t.Errorf("%s is read %#v, want %#v (%v)", tt.json, back, tt.value, err)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		if text, err := json.Marshal(finding.Num(x)); err == nil {
			t.Errorf("%v is written %s", x, text)
		}
	}
	for _, text := range []string{"null", "[1]", "{}", "1e999"} {
		if err := json.Unmarshal([]byte(text), new(finding.Value)); err == nil {
			t.Errorf("%s is read", text)
		}
	}
}

func TestFindingAsJSON(t *testing.T) {
	want := finding.New(finding.OffTheStock, 2, finding.Values{
		"width_mm": finding.Num(1740), "overlap_mm": finding.Num(12.5), "panels": finding.Int(2), "turned": finding.Truth(true), "stock": finding.Text("film"),
	}, finding.Place{Box: geometry.Box{Max: geometry.Point{X: 1740, Y: 900}}, Layer: "CUT"}).
		WithMend(finding.Mend{ID: "layout.panels", Effect: "nothing"})
	text, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got finding.Finding
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("written (-) and read (+) differ:\n%s", diff)
	}
	again, err := json.Marshal(got)
	if err != nil || string(again) != string(text) {
		t.Errorf("written again it is\n%s, not\n%s (%v)", again, text, err)
	}
}

// What is missing, or of another kind, reads as nothing.
func TestValuesByName(t *testing.T) {
	v := finding.Values{"n": finding.Int(3), "x": finding.Num(2.5), "s": finding.Text("film"), "b": finding.Truth(true)}
	for name, want := range map[string]struct {
		whole int
		num   float64
		text  string
	}{"n": {3, 3, ""}, "x": {0, 2.5, ""}, "s": {0, 0, "film"}, "b": {}, "missing": {}} {
		if whole, num, text := v.Int(name), v.Num(name), v.Text(name); whole != want.whole || num != want.num || text != want.text {
			t.Errorf("%s reads %d, %v, %q, want %v", name, whole, num, text, want)
		}
	}
}
