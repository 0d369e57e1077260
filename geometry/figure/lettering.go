package figure

import (
	"image"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"knifedesk/geometry/budget"
)

// fonts are the regular and the bold font, parsed once. They may be used by
// many pictures at a time, each with faces of its own.
var fonts = sync.OnceValue(func() [2]*opentype.Font {
	var parsed [2]*opentype.Font
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			panic("figure: the fonts do not parse: " + err.Error()) // they are part of the program
		}
		parsed[i] = f
	}
	return parsed
})

// Writes reports whether the regular font has a glyph for a letter.
func Writes(r rune) bool {
	at, err := fonts()[0].GlyphIndex(nil, r)
	return err == nil && at != 0
}

// lettering holds the faces of the PNG, by size and weight. All text is laid
// out by them; the SVG asks for any sans serif and gets room to spare.
type lettering struct {
	b     *budget.Budget
	faces map[faceKey]font.Face
}

type faceKey struct {
	size float64
	bold bool
}

func newLettering(b *budget.Budget) *lettering {
	return &lettering{b: b, faces: map[faceKey]font.Face{}}
}

func (l *lettering) face(size float64, bold bool) (font.Face, error) {
	key := faceKey{size, bold}
	if face, ok := l.faces[key]; ok {
		return face, nil
	}
	parsed := fonts()[0]
	if bold {
		parsed = fonts()[1]
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72})
	if err == nil {
		l.faces[key] = face
	}
	return face, err
}

// width returns how long a line of text is, in pixels.
func (l *lettering) width(text string, size float64, bold bool) float64 {
	l.b.Spend(1 + len(text))
	face, err := l.face(size, bold)
	if err != nil {
		return size * float64(len(text))
	}
	return float64(font.MeasureString(face, text)) / 64
}

// spare is the share of a line that is left empty, since other faces run
// wider than the one that is measured, and spareBold that of a bold line: bold faces
// that are read on screens run wider by up to a quarter.
const (
	spare     = 0.12
	spareBold = 0.22
)

// used is the share of a line's room that is written in, by the face that is measured.
func used(bold bool) float64 {
	if bold {
		return 1 - spareBold
	}
	return 1 - spare
}

// wrap breaks text into lines of at most width pixels. Words that are longer
// than a line are broken too.
func (l *lettering) wrap(text string, size, width float64) []string {
	return l.wrapIn(text, size, width, false)
}

// wrapIn is wrap for the regular or the bold face.
func (l *lettering) wrapIn(text string, size, width float64, bold bool) []string {
	room := width * used(bold)
	fits := func(s string) bool { return l.width(s, size, bold) <= room }
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && !fits(next) {
			lines, next = append(lines, line), word
		}
		for !fits(next) {
			head := l.head(next, size, room, bold)
			lines, next = append(lines, head), next[len(head):]
		}
		line = next
	}
	return append(lines, line)
}

// head returns as much of the text as fits, at least one letter.
func (l *lettering) head(text string, size, width float64, bold bool) string {
	last := 0
	for i := range text {
		if i > 0 && l.width(text[:i], size, bold) > width {
			break
		}
		last = i
	}
	if last == 0 {
		for i := range text {
			if i > 0 {
				return text[:i]
			}
		}
		return text
	}
	return text[:last]
}

func (c *canvas) text(f figure) error {
	face, err := c.letters.face(f.size*c.scale, f.bold)
	if err != nil {
		return err
	}
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(colour(f.style.Fill, f.style.Opacity)), Face: face}
	width := d.MeasureString(f.text)
	x := fixed.Int26_6(f.at.X * c.scale * 64)
	if f.align == middle {
		x -= width / 2
	}
	d.Dot = fixed.Point26_6{X: x, Y: fixed.Int26_6(f.at.Y * c.scale * 64)}
	d.DrawString(f.text)
	return nil
}

// mostText bounds a text on a page, in bytes.
const mostText = 900

// shorten cuts a text that is too long for a page.
func shorten(text string) string {
	if len(text) <= mostText {
		return text
	}
	end := mostText
	for !utf8.RuneStart(text[end]) {
		end--
	}
	return text[:end] + " …"
}
