package picture_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view/picture"
)

// grey is an image averaged over squares, 0 black to 255 white.
type grey struct {
	w, h int
	v    []float64
}

// greyOf averages the image over squares of the given side.
func greyOf(img image.Image, side int) grey {
	b := img.Bounds()
	luma := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(luma, luma.Bounds(), img, b.Min, draw.Src)
	g := grey{w: b.Dx() / side, h: b.Dy() / side}
	g.v = make([]float64, g.w*g.h)
	for y := range g.h * side {
		row := luma.Pix[y*luma.Stride:]
		for x := range g.w * side {
			g.v[y/side*g.w+x/side] += float64(row[x]) / float64(side*side)
		}
	}
	return g
}

// differ returns the mean and the largest difference.
func (g grey) differ(o grey) (mean, most float64) {
	for i := range g.v {
		d := math.Abs(g.v[i] - o.v[i])
		mean += d / float64(len(g.v))
		most = math.Max(most, d)
	}
	return mean, most
}

func decode(t testing.TB, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// rsvg renders SVG with librsvg, in the faces of our PNG where fonts names
// their folder.
type rsvg struct{ tool, fonts string }

func newRSVG(t testing.TB) rsvg {
	t.Helper()
	r := rsvg{tool: reference.Tool(t, "rsvg-convert"), fonts: t.TempDir()}
	conf := fmt.Sprintf(`<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>%s</dir><cachedir>%[1]s/cache</cachedir></fontconfig>`, r.fonts)
	for name, data := range map[string][]byte{"regular.ttf": goregular.TTF, "bold.ttf": gobold.TTF, "fonts.conf": []byte(conf)} {
		if err := os.WriteFile(filepath.Join(r.fonts, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

func (r rsvg) render(t testing.TB, svg []byte) image.Image {
	t.Helper()
	cmd := exec.Command(r.tool)
	if r.fonts != "" {
		cmd.Env = append(os.Environ(), "FONTCONFIG_FILE="+filepath.Join(r.fonts, "fonts.conf"))
	}
	cmd.Stdin = bytes.NewReader(svg)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("rsvg-convert: %v: %s", err, stderr.String())
	}
	return decode(t, out)
}

// How far our PNG may be from librsvg's image of our SVG, averaged over
// squares of 4 × 4 pixels, in steps of grey out of 255. Edges are smoothed
// differently; what is missing or moved by two pixels is beyond one of them
// (TestSpoiledPictureIsTold).
const (
	side      = 4
	mostMean  = 1.2
	mostApart = 40.0
)

// The PNG and the SVG are one picture: librsvg draws the SVG as we draw the
// PNG. All jobs of a sign and of a tag, and what is special in the others.
func TestPNGIsTheSVG(t *testing.T) {
	r := newRSVG(t)
	eachPicture(t, func(name string, p *figure.Picture) {
		plan, stage, _ := strings.Cut(name, "/")
		if plan != "ring-sign" && plan != "class-tag" && stage != "weeding" && name != "banner/layout" && name != "banner/passes" {
			return
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			mean, most := r.compare(t, p, svgOf(t, p))
			if mean > mostMean || most > mostApart {
				t.Errorf("the PNG is %.2f grey steps off the SVG on the mean, %.0f at worst", mean, most)
			}
			t.Logf("%.2f grey steps on the mean, %.0f at worst", mean, most)
		})
	})
}

func (r rsvg) compare(t *testing.T, p *figure.Picture, svg []byte) (mean, most float64) {
	t.Helper()
	ours, err := p.PNG(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	return greyOf(decode(t, ours), side).differ(greyOf(r.render(t, svg), side))
}

// The comparison can fail: a missing badge, a word, and lines moved by two
// pixels are told.
func TestSpoiledPictureIsTold(t *testing.T) {
	r := newRSVG(t)
	p := must(picture.Weeding(t.Context(), &example(t, "ring-sign").weeding))
	svg := svgOf(t, p)
	for name, pattern := range map[string]string{
		"a circle missing":  `<path d="M[^"]*A12.5 [^"]*"[^>]*/>`,
		"a number missing":  `<text[^>]*>7</text>`,
		"the first moved":   `<g class="drawing">`,
		"a relief missing":  `<path [^>]*stroke-dasharray="5 4.5"/>`,
		"a hatch missing":   `<path [^>]*stroke="#1f5f74"[^>]*/>`,
		"a heading missing": `<text[^>]*>How to peel</text>`,
	} {
		at := regexp.MustCompile(pattern).FindIndex(svg)
		if at == nil {
			t.Errorf("%s: nothing to spoil", name)
			continue
		}
		with := ""
		if name == "the first moved" {
			with = `<g class="drawing" transform="translate(2 0)">`
		}
		spoiled := slices.Concat(svg[:at[0]], []byte(with), svg[at[1]:])
		if mean, most := r.compare(t, p, spoiled); mean <= mostMean && most <= mostApart {
			t.Errorf("%s: not told, mean %.2f, most %.0f", name, mean, most)
		}
	}
}

// Text stays on the page in the wider faces of this machine too: the last
// pixels of every row are blank.
func TestTextStaysOnThePage(t *testing.T) {
	r := rsvg{tool: reference.Tool(t, "rsvg-convert")}
	long := example(t, "box-net").artwork
	long.Findings = []finding.Finding{{Severity: finding.Block, Hint: strings.Repeat("MW mm gf 0 ", 60)}}
	for name, p := range map[string]*figure.Picture{
		"long hint": must(picture.Artwork(t.Context(), &long)),
		"weeding":   must(picture.Weeding(t.Context(), &example(t, "tide-label").weeding)),
		"size":      must(picture.Size(t.Context(), &example(t, "box-net").drawing, &example(t, "box-net").size)),
	} {
		img := r.render(t, svgOf(t, p))
		b := img.Bounds()
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Max.X - 6; x < b.Max.X; x++ {
				if red, _, _, _ := img.At(x, y).RGBA(); red != 0xffff {
					t.Fatalf("%s: ink at %d, %d", name, x, y)
				}
			}
		}
	}
}
