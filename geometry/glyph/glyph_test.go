package glyph_test

import (
	"testing"

	"golang.org/x/image/font/gofont/gobold"

	"knifedesk/geometry"
	"knifedesk/geometry/glyph"
)

// Counters by letter: check-values row 44 (from memory): B has two, O and A
// one, I none.
func TestContoursOfLetters(t *testing.T) {
	face, err := glyph.Parse(gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	paths, letter, err := face.Word("BOAI", 20)
	if err != nil {
		t.Fatal(err)
	}
	counts := map[int]int{}
	box := geometry.EmptyBox()
	for i, p := range paths {
		if !p.Closed {
			t.Errorf("contour %d is open", i)
		}
		counts[letter[i]]++
		box = box.Union(p.Bounds())
	}
	for i, want := range []int{3, 2, 2, 1} {
		if counts[i] != want {
			t.Errorf("letter %d has %d contours, want %d", i, counts[i], want)
		}
	}
	if box.Min.Y < -0.5 || box.Height() < 12 || box.Height() > 16 {
		t.Errorf("capitals at an em of 20 mm stand in %v", box)
	}
	if _, _, err := face.Word("\U0010fffd", 20); err == nil {
		t.Error("a letter that no font has was set")
	}
	if _, err := glyph.Parse([]byte("no font")); err == nil {
		t.Error("no font was parsed as one")
	}
}
