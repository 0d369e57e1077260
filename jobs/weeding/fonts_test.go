package weeding_test

import (
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
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
		m := chart(t, f.lettering(t, "", string(r)), weeding.Request{Purpose: weeding.Lettering, Stock: film, Weld: true})
		n := classes(m)
		pieces := 1
		if r == 'i' || r == 'j' {
			pieces = 2
		}
		if n[weeding.Kept] != pieces {
			t.Errorf("%s %c: %d pieces, want %d", name, r, n[weeding.Kept], pieces)
		}
		if u := unionOf(t, f.lettering(t, "", string(r))); n[weeding.Kept] != u.pieces || n[weeding.Counter] != u.counters {
			t.Errorf("%s %c: %d pieces and %d counters, the union of its contours %d and %d", name, r, n[weeding.Kept], n[weeding.Counter], u.pieces, u.counters)
		}
		want := counters[r]
		if want == nil {
			want = []int{0}
		}
		fits := false
		for _, w := range want {
			fits = fits || n[weeding.Counter] == w
		}
		if !fits || n[weeding.Ground] > 0 {
			t.Errorf("%s %c: %d counters, want %v", name, r, n[weeding.Counter], want)
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
	for _, pkg := range []string{"fonts-dejavu-core", "fonts-liberation"} {
		n := 0
		for _, file := range packageFonts(t, pkg) {
			if !strings.Contains(file.name, "Mono") {
				n++
				checkGlyphs(t, file.name, file.data)
			}
		}
		if n == 0 {
			t.Errorf("%s holds no font", pkg)
		}
	}
}

type fontFile struct {
	name string
	data []byte
}

// packageFonts reads the outline fonts of a Debian package.
func packageFonts(t *testing.T, pkg string) (fonts []fontFile) {
	t.Helper()
	list, err := exec.Command(reference.Tool(t, "dpkg"), "-L", pkg).Output()
	if err != nil {
		reference.Tool(t, pkg+" (Debian package)")
	}
	for line := range strings.Lines(string(list)) {
		path := strings.TrimSpace(line)
		if ext := filepath.Ext(path); ext != ".ttf" && ext != ".otf" {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		fonts = append(fonts, fontFile{filepath.Base(path), data})
	}
	return fonts
}

// A word whose letters run into each other, as in a script face, welds into
// one piece that keeps its counters, drawn as outlines or filled: as many
// pieces, counters and mm² as the union of its letters has by the kernel.
func TestOverlappingLettersWeldIntoOnePiece(t *testing.T) {
	f := newFace(t, goregular.TTF, 40)
	for _, fill := range []drawing.FillRule{"", drawing.NonZero, drawing.EvenOdd} {
		a := &artwork.Artwork{}
		end := 0.0
		for i, r := range "dune" {
			letter := f.lettering(t, fill, string(r))
			shift := geometry.Translate(end-3-letter.Bounds.Min.X, 0) // each begins 3 mm inside the one before
			for _, s := range letter.Strokes {
				s.Path, s.Shape = s.Path.Transform(shift), i
				a.Strokes = append(a.Strokes, s)
			}
			end += letter.Bounds.Width() - 3
		}
		a.Bounds = bounds(a)
		req := weeding.Request{Purpose: weeding.Lettering, Stock: film}
		m := chart(t, a, req)
		if question(m, weeding.QuestionWeld) == nil || classes(m)[weeding.Kept] == 1 {
			t.Fatalf("as drawn: %v", classes(m))
		}
		if n := checkWeld(t, "dune "+string(fill), a); n.pieces != 1 || n.counters < 2 {
			t.Errorf("fill %q: %+v, want one piece with the counters of d and e", fill, n)
		}
	}
}

// Words of a script face, whose letters overlap: one piece a word but for the
// dots of its letters, and the counters that the union has.
func TestScriptFaceWeldsIntoOnePieceAWord(t *testing.T) {
	for _, file := range packageFonts(t, "fonts-dancingscript") {
		f := newFace(t, file.data, 40)
		for word, pieces := range map[string]int{"board": 1, "harbour": 1, "lemon": 1, "tide": 2, "signal": 2} {
			if n := checkWeld(t, file.name+" "+word, f.lettering(t, drawing.NonZero, word)); n.pieces != pieces {
				t.Errorf("%s %s: %d pieces, want %d", file.name, word, n.pieces, pieces)
			}
		}
	}
}

// facts are what the union of some letters is made of.
type facts struct {
	pieces, counters int
	area             float64
}

// checkWeld welds the letters, each a shape of its own, and compares with their
// union by the kernel.
func checkWeld(t *testing.T, name string, a *artwork.Artwork) facts {
	t.Helper()
	m := chart(t, a, weeding.Request{Purpose: weeding.Lettering, Stock: film, Weld: true})
	n := classes(m)
	got := facts{pieces: n[weeding.Kept], counters: n[weeding.Counter] + n[weeding.Ground], area: keptArea(m)}
	want := unionOf(t, a)
	if got.pieces != want.pieces || got.counters != want.counters || math.Abs(got.area-want.area) > 1e-3 || question(m, weeding.QuestionWeld) != nil {
		t.Errorf("%s: welded %+v , %d questions, the union has %+v", name, got, len(m.Questions), want)
	}
	return got
}

// unionOf unites the shapes, each by its winding numbers.
func unionOf(t *testing.T, a *artwork.Artwork) facts {
	t.Helper()
	shapes := map[int]planar.Region{}
	for _, s := range a.Strokes {
		pts := s.Path.Flatten(geometry.DefaultChord)
		shapes[s.Shape] = planar.Region{Rule: planar.NonZero, Rings: append(shapes[s.Shape].Rings, pts[:len(pts)-1])}
	}
	union, err := planar.Union(nil, slices.Collect(maps.Values(shapes))...)
	if err != nil {
		t.Fatal(err)
	}
	f := facts{pieces: len(union), area: union.Area()}
	for _, p := range union {
		f.counters += len(p.Holes)
	}
	return f
}
