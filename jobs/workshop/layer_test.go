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

// A frame's layer may say behind its name how large the frame is, in whole mm; that
// of other layers means nothing.
func TestFrameSize(t *testing.T) {
	for layer, want := range map[string]string{
		"PAGE_590x500": "PAGE 590x500", workshop.SizedLayer("my page", 61, 7): "my page 61x7", "PAGE 590X500": "PAGE 590x500",
		"PAGE": "", "_590x500": "", "PAGE_590": "", "PAGE_0x500": "", "PAGE_+5x5": "", "PAGE_x5": "", "PAGE_5.5x5": "", "PAGE_5x5x5": "", "PAGE_70000x5": "",
	} {
		got := ""
		if name, size, ok := workshop.FrameSize(layer); ok {
			got = name + " " + size
		}
		if got != want {
			t.Errorf("%q is %q, want %q", layer, got, want)
		}
	}
	for layer, want := range map[string]bool{"page_590x500": true, "PAGE": true, "PAGES_590x500": false, "PAGE_590": false} {
		if got := workshop.OnFrameLayer("PAGE", layer); got != want {
			t.Errorf("%q is a layer of the frame: %v", layer, got)
		}
	}
}
