package picture_test

import (
	"encoding/xml"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// letters is a text of a picture.
type letters struct {
	X      float64 `xml:"x,attr"`
	Y      float64 `xml:"y,attr"`
	Size   float64 `xml:"font-size,attr"`
	Anchor string  `xml:"text-anchor,attr"`
	Weight string  `xml:"font-weight,attr"`
	Text   string  `xml:",chardata"`
}

// fonts are those in which texts are measured, parsed once.
var fonts = sync.OnceValues(func() (regular, bold *opentype.Font) {
	return must(opentype.Parse(goregular.TTF)), must(opentype.Parse(gobold.TTF))
})

// Faces that screens show for sans serif run wider than those of the PNG: the digits of one
// that is often met by a quarter where bold, and by an eighth where regular (measured).
const (
	widerBold = 1.25
	wider     = 1.13
)

// box is where the ink of a text lies at most, on any screen: digits and capitals are
// about 0.72 of the size high.
func (l *letters) box(t *testing.T) geometry.Box {
	t.Helper()
	regular, bold := fonts()
	parsed, most := regular, wider
	if l.Weight == "bold" {
		parsed, most = bold, widerBold
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: l.Size, DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	w := most * float64(font.MeasureString(face, l.Text)) / 64
	x := l.X
	if l.Anchor == "middle" {
		x -= w / 2
	}
	return geometry.BoxAround(geometry.Pt(x, l.Y-0.72*l.Size), geometry.Pt(x+w, l.Y))
}

// In every kind of picture no two texts overlap and none leaves the page, laid out for
// a desk and for a phone; none is under 2.3 mm in print, which is more than 11 pixels on a
// phone (the bounds are those of the workshop's own style, from memory).
func TestTextsAreApartAndLegible(t *testing.T) {
	for _, width := range []float64{1000, 340} {
		all := goldens(figure.Onto(t.Context(), figure.Screen(width)))
		for _, name := range slices.Sorted(maps.Keys(all)) {
			var boxes []geometry.Box
			var texts []letters
			for d := xml.NewDecoder(strings.NewReader(string(svgOf(t, all[name])))); ; {
				token, err := d.Token()
				if err != nil {
					break
				}
				if start, ok := token.(xml.StartElement); ok && start.Name.Local == "text" {
					var l letters
					if err := d.DecodeElement(&l, &start); err != nil {
						t.Fatal(err)
					}
					texts, boxes = append(texts, l), append(boxes, l.box(t))
				}
			}
			for i, b := range boxes {
				if texts[i].Size*figure.PrintMM < 2.3 {
					t.Errorf("%s at %g: %q is %g pixels high", name, width, texts[i].Text, texts[i].Size)
				}
				if b.Min.X < 0 || b.Max.X > width {
					t.Errorf("%s at %g: %q leaves the page", name, width, texts[i].Text)
				}
				for k := range i {
					if b.Overlaps(boxes[k]) {
						t.Errorf("%s at %g: %q lies on %q", name, width, texts[i].Text, texts[k].Text)
					}
				}
			}
		}
	}
}
