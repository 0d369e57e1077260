package svg

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Document is a drawing at true size, to be written as a file to cut from.
type Document struct {
	Title       string  // may be empty
	Description string  // what whoever opens it has to know; may be empty
	Width       float64 // of the page, mm
	Height      float64 // of the page, mm
	Layers      []Layer // drawn in order
}

// Layer is one group of a Document. Its lines are stroked, never filled.
type Layer struct {
	Name        string
	Colour      drawing.Colour
	StrokeWidth float64         // mm; 0.1 where 0
	Paths       []geometry.Path // mm, y up from the lower edge of the page
}

// defaultStroke is the width in mm of lines whose layer names none.
const defaultStroke = 0.1

// perMM are the steps in a mm that coordinates are rounded to: nanometres,
// well below the 0.1 µm grid on which the jobs compute.
const perMM = 1e6

// Write writes doc with width and height in mm and one user unit to the mm, so
// that any program opens it at true size. Each layer is a group with an id.
// It fails on sizes and coordinates that are not ordinary numbers.
func Write(w io.Writer, doc Document) error {
	if !(doc.Width > 0 && doc.Height > 0) || math.IsInf(doc.Width+doc.Height, 0) {
		return fmt.Errorf("svg: a page of %g by %g mm cannot be written", doc.Width, doc.Height)
	}
	b := bufio.NewWriter(w)
	width, height := decimal(doc.Width), decimal(doc.Height)
	fmt.Fprintf(b, "<svg xmlns=%q version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n", svgSpace, width, height, width, height)
	if doc.Title != "" {
		fmt.Fprintf(b, "<title>%s</title>\n", escape(doc.Title))
	}
	if doc.Description != "" {
		fmt.Fprintf(b, "<desc>%s</desc>\n", escape(doc.Description))
	}
	ids := map[string]bool{}
	for _, l := range doc.Layers {
		if err := l.write(b, doc.Height, ids); err != nil {
			return err
		}
	}
	b.WriteString("</svg>\n")
	return b.Flush()
}

// write writes one group, turning y down from the upper edge of the page.
func (l Layer) write(b *bufio.Writer, height float64, ids map[string]bool) error {
	width := l.StrokeWidth
	if width == 0 {
		width = defaultStroke
	}
	id := freeID(l.Name, ids)
	fmt.Fprintf(b, "<g id=%q", id)
	if id != l.Name && l.Name != "" {
		fmt.Fprintf(b, " data-name=\"%s\"", escape(l.Name))
	}
	fmt.Fprintf(b, " fill=\"none\" stroke=\"%s\" stroke-width=\"%s\">\n", l.Colour, decimal(width))
	down := geometry.Affine{A: 1, D: -1, F: height}
	for i, p := range l.Paths {
		if p.Empty() {
			continue
		}
		text, err := rounded(p.Transform(down)).MarshalText()
		if err != nil {
			return fmt.Errorf("svg: layer %q, path %d: %w", l.Name, i, err)
		}
		fmt.Fprintf(b, "<path d=\"%s\"/>\n", text)
	}
	b.WriteString("</g>\n")
	return nil
}

// rounded returns p with its points on that grid.
func rounded(p geometry.Path) geometry.Path {
	snap := func(q geometry.Point) geometry.Point {
		return geometry.Pt(math.Round(q.X*perMM)/perMM, math.Round(q.Y*perMM)/perMM)
	}
	p.Start = snap(p.Start)
	for i := range p.Segments {
		s := &p.Segments[i]
		s.End, s.C1, s.C2 = snap(s.End), snap(s.C1), snap(s.C2)
	}
	return p
}

func decimal(v float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0"), ".")
}

func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder never fails
	return b.String()
}

// freeID makes a name into an id that is not taken yet.
func freeID(name string, taken map[string]bool) string {
	id := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '_'
	}, name)
	if id == "" || id[0] == '-' || id[0] >= '0' && id[0] <= '9' {
		id = "layer_" + id
	}
	for base, n := id, 2; taken[id]; n++ {
		id = fmt.Sprintf("%s_%d", base, n)
	}
	taken[id] = true
	return id
}
