package reading_test

import (
	"math"
	"testing"

	"knifedesk/jobs/size/reading"
)

// Two lengths may have a unit at the end: an inch is 25.4 mm (ISO 80000-3), a point a 72nd and a pixel a
// 96th of it (CSS Values 4, section 6.2). What is a size of the list is called by its name, whichever side
// comes first.
func TestDeclaredLengths(t *testing.T) {
	a4 := reading.Named{Name: "A4", Short: 210, Long: 297}
	letter := reading.Named{Name: "215.9×279.4", Short: 215.9, Long: 279.4}
	plate := reading.Named{Name: "200×300", Short: 200, Long: 300}
	for text, want := range map[string]reading.Named{
		"a4": a4, "210x297": a4, "297 × 210 mm": a4, "21x29.7cm": a4, " 210x297mm ": a4,
		"300x200": plate, "30x20cm": plate, "8.5x11in": letter,
		"8.5x11 inch": letter, "8.5x11inches": letter, `8.5x11"`: letter,
		"612x792pt": letter, "816x1056px": letter,
	} {
		got, ok := reading.Declared(text, []reading.Named{a4})
		if !ok || got.Name != want.Name || math.Abs(got.Short-want.Short) > 1e-9 || math.Abs(got.Long-want.Long) > 1e-9 {
			t.Errorf("%q is %q %v × %v (%v), want %q %v × %v", text, got.Name, got.Short, got.Long, ok, want.Name, want.Short, want.Long)
		}
	}
	for _, text := range []string{"", "A", "210", "210x", "210x297x3", "0x297", "-210x297", "ax297", "infx297", "210x297yd"} {
		if got, ok := reading.Declared(text, []reading.Named{a4}); ok {
			t.Errorf("%q is taken for %+v", text, got)
		}
	}
}
