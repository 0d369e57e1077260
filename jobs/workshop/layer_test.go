package workshop_test

import (
	"testing"

	"knifedesk/jobs/workshop"
)

func TestOnLayer(t *testing.T) {
	for _, tt := range []struct {
		pattern, layer string
		want           bool
	}{
		{"CUT", "cut", true},
		{"cut", "CUTS", false},
		{"Page*", "PAGE 2", true},
		{"die?", "die", false},
		{"die?", "die7", true},
		{"[ab]", "b", true},
		{"[", "[", true}, // malformed: stands for itself
		{"[A", "[a", true},
		{"[a", "a", false},
		{"", "", true},
		{"", "cut", false},
	} {
		if got := workshop.OnLayer(tt.pattern, tt.layer); got != tt.want {
			t.Errorf("pattern %q, layer %q: %v", tt.pattern, tt.layer, got)
		}
	}
}
