package drawing_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Cases of one code are one note: all are counted, the first places and names
// are listed, each name once.
func TestNotes(t *testing.T) {
	var notes drawing.Notes
	for i := range 100 {
		name := fmt.Sprintf("layer %d", i/10)
		notes.Add(drawing.HiddenGeometry, name, &drawing.Place{Box: geometry.EmptyBox(), Layer: name})
		notes.Add(drawing.LiveText, "", nil)
	}
	all := notes.All()
	if len(all) != 2 || all[0].Code != drawing.HiddenGeometry || all[1].Code != drawing.LiveText {
		t.Fatalf("notes %+v", all)
	}
	hidden, text := all[0], all[1]
	if hidden.Count != 100 || len(hidden.Places) != drawing.MaxPlaces || hidden.Places[49].Layer != "layer 4" {
		t.Errorf("%d cases, %d places", hidden.Count, len(hidden.Places))
	}
	want := []string{"layer 0", "layer 1", "layer 2", "layer 3", "layer 4", "layer 5", "layer 6", "layer 7", "…"}
	if !slices.Equal(hidden.Names, want) {
		t.Errorf("names %q", hidden.Names)
	}
	if text.Count != 100 || text.Names != nil || text.Places != nil || notes.Of(drawing.MaskUsed) != nil {
		t.Errorf("text %+v", text)
	}
}

// Cases of one code that lie on layers of their own are a note a layer.
func TestNotesByLayer(t *testing.T) {
	var notes drawing.Notes
	for _, layer := range []string{"A", "B", "A"} {
		notes.AddOn(drawing.LiveText, layer, "text", &drawing.Place{Layer: layer})
	}
	notes.Add(drawing.LiveText, "", nil)
	told := ""
	for _, n := range notes.All() {
		told += fmt.Sprintf("%q %d %d; ", n.Layer, n.Count, len(n.Places))
	}
	if want := `"A" 2 2; "B" 1 1; "" 1 0; `; told != want || notes.Of(drawing.LiveText).Count != 1 {
		t.Errorf("%s, want %s", told, want)
	}
}

// The first limit that was reached is the one that is told.
func TestLimit(t *testing.T) {
	var notes drawing.Notes
	notes.Limit("segments", 7)
	notes.Limit("bytes", 9)
	if n := notes.Of(drawing.LimitReached); n.Count != 1 || n.Limit != "segments" || n.Allowed != 7 {
		t.Errorf("%+v", n)
	}
}

func TestShorten(t *testing.T) {
	for text, want := range map[string]string{
		" a\n\tb ": "a b", strings.Repeat("é", 60): strings.Repeat("é", 60), strings.Repeat("é", 61): strings.Repeat("é", 59) + "…",
		strings.Repeat("é", 1<<20): strings.Repeat("é", 59) + "…", strings.Repeat(" ", 4000) + "a": "a", strings.Repeat(" ", 1<<20) + "a": "",
	} {
		if got := drawing.Shorten(text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}
