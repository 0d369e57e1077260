package meaning

import (
	"testing"

	"knifedesk/geometry/drawing"
)

// Colours are called as CSS Color 4, section 6.1, names them, or as people do whose
// name for it is in the second column (common practice, no source).
func TestColourNames(t *testing.T) {
	for _, tt := range []struct {
		css, want string
		r, g, b   uint8
	}{
		{"black", "black", 0, 0, 0}, {"white", "white", 255, 255, 255}, {"gray", "grey", 128, 128, 128},
		{"darkslategray", "greyish turquoise", 47, 79, 79}, {"lightgray", "light grey", 211, 211, 211}, {"dimgray", "grey", 105, 105, 105},
		{"slategray", "greyish blue", 112, 128, 144}, {"lavender", "light blue", 230, 230, 250},
		{"red", "red", 255, 0, 0}, {"darkred", "dark red", 139, 0, 0}, {"crimson", "red", 220, 20, 60}, {"pink", "pink", 255, 192, 203},
		{"hotpink", "pink", 255, 105, 180}, {"orange", "orange", 255, 165, 0}, {"darkorange", "orange", 255, 140, 0},
		{"saddlebrown", "brown", 139, 69, 19}, {"sienna", "brown", 160, 82, 45}, {"yellow", "yellow", 255, 255, 0}, {"gold", "yellow", 255, 215, 0},
		{"olive", "olive green", 128, 128, 0}, {"lightyellow", "light yellow", 255, 255, 200},
		{"lime", "green", 0, 255, 0}, {"green", "green", 0, 128, 0}, {"darkgreen", "dark green", 0, 100, 0}, {"lightgreen", "light green", 144, 238, 144},
		{"cyan", "turquoise", 0, 255, 255}, {"turquoise", "turquoise", 64, 224, 208}, {"teal", "turquoise", 0, 128, 128},
		{"blue", "blue", 0, 0, 255}, {"navy", "dark blue", 0, 0, 128}, {"darkblue", "dark blue", 0, 0, 139}, {"lightblue", "light blue", 173, 216, 230},
		{"royalblue", "blue", 65, 105, 225}, {"steelblue", "blue", 70, 130, 180},
		{"blueviolet", "violet", 138, 43, 226}, {"purple", "purple", 128, 0, 128}, {"magenta", "magenta", 255, 0, 255}, {"indigo", "dark violet", 75, 0, 130},
	} {
		if got := colourName(drawing.Colour{R: tt.r, G: tt.g, B: tt.b}); got != tt.want {
			t.Errorf("%s is called %q, want %q", tt.css, got, tt.want)
		}
	}
}
