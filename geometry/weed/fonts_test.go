package weed_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry"
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/internal/reference"
	"knifedesk/geometry/weed"
)

// counters are the enclosed spaces of each letter (check values, row 44, from
// memory there; seen in any Latin type). Others have none. g has one or two
// and 4 one or none by the face; a zero may be slashed or dotted.
var counters = map[rune][]int{
	'A': {1}, 'B': {2}, 'D': {1}, 'O': {1}, 'P': {1}, 'Q': {1, 2}, 'R': {1}, 'a': {1}, 'b': {1}, 'd': {1}, 'e': {1},
	'g': {1, 2}, 'o': {1}, 'p': {1}, 'q': {1}, '0': {1, 2}, '4': {1, 0}, '6': {1}, '8': {2}, '9': {1},
}

// checkGlyphs charts every letter and digit of a font and compares the number
// of kept pieces and of counters.
func checkGlyphs(t *testing.T, name string, data []byte) {
	f := newFace(t, data, 40)
	const all = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
	for _, r := range all {
		m := chart(t, f.lettering(t, "", string(r)), weed.Request{Purpose: weed.Lettering, Stock: film, Weld: true})
		n := classes(m)
		pieces := 1
		if r == 'i' || r == 'j' {
			pieces = 2
		}
		if n[weed.Kept] != pieces {
			t.Errorf("%s %c: %d pieces, want %d", name, r, n[weed.Kept], pieces)
		}
		want := counters[r]
		if want == nil {
			want = []int{0}
		}
		fits := false
		for _, w := range want {
			fits = fits || n[weed.Counter] == w
		}
		if !fits || n[weed.Ground] > 0 {
			t.Errorf("%s %c: %d counters, want %v", name, r, n[weed.Counter], want)
		}
	}
}

func TestGlyphsOfTheGoFonts(t *testing.T) {
	for name, data := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF} {
		checkGlyphs(t, name, data)
	}
}

// The same for the proportional upright faces of two Debian font packages.
func TestGlyphsOfInstalledFonts(t *testing.T) {
	dpkg := reference.Tool(t, "dpkg")
	for _, pkg := range []string{"fonts-dejavu-core", "fonts-liberation"} {
		list, err := exec.Command(dpkg, "-L", pkg).Output()
		if err != nil {
			reference.Tool(t, pkg+" (Debian package)")
		}
		n := 0
		for line := range strings.Lines(string(list)) {
			path := strings.TrimSpace(line)
			base := filepath.Base(path)
			if filepath.Ext(path) != ".ttf" || strings.Contains(base, "Mono") {
				continue
			}
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if bytes.HasPrefix(data, []byte{0, 1, 0, 0}) {
				n++
				checkGlyphs(t, base, data)
			}
		}
		if n == 0 {
			t.Errorf("%s holds no font", pkg)
		}
	}
}

// A word whose letters run into each other, as in a script face, welds into
// one piece that keeps its counters.
func TestOverlappingLettersWeldIntoOnePiece(t *testing.T) {
	f := newFace(t, goregular.TTF, 40)
	a := &artwork.Artwork{}
	end := 0.0
	for i, r := range "dune" {
		paths, _ := f.word(t, string(r), geometry.Point{})
		box := geometry.EmptyBox()
		for _, p := range paths {
			box = box.Union(p.Bounds())
		}
		shift := geometry.Translate(end-3-box.Min.X, 0) // each begins 3 mm inside the one before
		for _, p := range paths {
			a.Strokes = append(a.Strokes, artwork.Stroke{Path: p.Transform(shift), Operation: artwork.KissCut, Shape: i})
		}
		end += box.Width() - 3
	}
	a.Bounds = bounds(a)
	req := weed.Request{Purpose: weed.Lettering, Stock: film}
	m := chart(t, a, req)
	if question(m, weed.QuestionWeld) == nil || classes(m)[weed.Kept] == 1 {
		t.Fatalf("as drawn: %v", classes(m))
	}
	req.Weld = true
	m = chart(t, a, req)
	if n := classes(m); n[weed.Kept] != 1 || n[weed.Counter] < 2 || len(m.Questions) > 0 {
		t.Errorf("welded: %v, %d questions; want one piece with the counters of d and e", n, len(m.Questions))
	}
}
