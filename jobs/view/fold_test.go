package view

import (
	"strings"
	"testing"

	"knifedesk/jobs/artwork"
)

// Where folds are scored the plan says which side lies up and which way to fold,
// and nothing where none are.
func TestFoldText(t *testing.T) {
	cut, score := Pass{Operation: artwork.ThroughCut}, Pass{Operation: artwork.Score}
	for _, c := range []struct {
		passes   []Pass
		mirrored bool
		says     string
	}{
		{[]Pass{cut}, false, ""},
		{[]Pass{score, cut}, false, "the side you drew lies up"},
		{[]Pass{score, cut}, true, "the back lies up"},
	} {
		got := foldText(c.passes, c.mirrored)
		if (got == "") != (c.says == "") || !strings.Contains(got, c.says) || got != "" && !strings.Contains(got, "fold away from a knife score") {
			t.Errorf("%v, mirrored %v: %q, want %q", c.passes, c.mirrored, got, c.says)
		}
	}
}
