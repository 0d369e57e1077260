package picture_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/view/picture"
)

// element is one element of an SVG document.
type element struct {
	name  string
	zone  string // class of the group it is in
	attrs map[string]string
	text  string
}

func (e element) number(t testing.TB, attr string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attrs[attr], 64)
	if err != nil {
		t.Fatalf("%s of %s: %v", attr, e.name, err)
	}
	return v
}

// paths returns the geometry of a path element.
func (e element) paths(t testing.TB) []geometry.Path {
	t.Helper()
	paths, err := geometry.ParsePathData(e.attrs["d"])
	if err != nil {
		t.Fatal(err)
	}
	return paths
}

// parse reads the elements of an SVG document and fails where it is not well
// formed.
func parse(t testing.TB, svg []byte) []element {
	t.Helper()
	var out []element
	var open []int
	zone := ""
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attrs: map[string]string{}}
			for _, a := range token.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			if e.name == "g" {
				zone = e.attrs["class"]
			}
			e.zone = zone
			open = append(open, len(out))
			out = append(out, e)
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(token)
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.ProcInst, xml.Directive, xml.Comment:
			t.Fatalf("unexpected %T", token)
		}
	}
}

// texts returns the lines of text in a zone.
func texts(all []element, zone string) []string {
	var out []string
	for _, e := range all {
		if e.name == "text" && e.zone == zone {
			out = append(out, e.text)
		}
	}
	return out
}

// What a picture may consist of: nothing that runs, loads or refers.
var allowed = map[string][]string{
	"svg":   {"xmlns", "width", "height", "viewBox", "role", "font-family", "x", "y"},
	"title": {},
	"rect":  {"width", "height", "fill"},
	"g":     {"class"},
	"path":  {"d", "fill", "fill-rule", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin", "stroke-dasharray", "opacity"},
	"text":  {"x", "y", "font-size", "text-anchor", "font-weight", "fill"},
}

func TestSVGIsPlain(t *testing.T) {
	eachPicture(t, func(name string, p *figure.Picture) {
		all := parse(t, svgOf(t, p))
		if all[0].name != "svg" || all[1].name != "title" || all[1].text == "" {
			t.Errorf("%s: does not start with a title", name)
		}
		for _, e := range all {
			attrs, ok := allowed[e.name]
			if !ok {
				t.Errorf("%s: element %s", name, e.name)
			}
			for attr, value := range e.attrs {
				if !slices.Contains(attrs, attr) || strings.Contains(value, "url(") || attr != "xmlns" && strings.Contains(value, ":") {
					t.Errorf("%s: %s has %s=%q", name, e.name, attr, value)
				}
			}
		}
	})
}

func TestPicturesAreDeterministic(t *testing.T) {
	for _, name := range []string{"ring-sign", "ornament", "class-tag"} {
		once, again := example(t, name).pictures(t), example(t, name).pictures(t)
		for stage, p := range once {
			if !bytes.Equal(svgOf(t, p), svgOf(t, again[stage])) {
				t.Errorf("%s/%s: two SVGs differ", name, stage)
			}
			a, err := p.PNG(t.Context(), 0.5)
			if err != nil {
				t.Fatal(err)
			}
			if b, _ := again[stage].PNG(t.Context(), 0.5); !bytes.Equal(a, b) {
				t.Errorf("%s/%s: two PNGs differ", name, stage)
			}
		}
	}
}

// Texts of a drawing come out as letters, whatever they are.
func TestHostileText(t *testing.T) {
	hostile := `</text><script>alert(1)</script>&#x0; "quoted" ` + "\x00\x1b\u202e" + strings.Repeat("W", 3000)
	a := example(t, "box-net").artwork
	a.Findings = []finding.Finding{{Code: "x", Severity: finding.Warn, Count: 1, Hint: hostile}}
	p := must(picture.Artwork(t.Context(), &a))
	all := parse(t, svgOf(t, p))
	legend := strings.Join(texts(all, "legend"), " ")
	if !strings.Contains(legend, "<script>alert(1)</script>") {
		t.Error("the text is not shown as it is")
	}
	for _, e := range all {
		if e.name == "script" {
			t.Fatal("a script came through")
		}
	}
	if p.Height > 2000 {
		t.Errorf("the page grew to %.0f pixels", p.Height)
	}
	if _, err := p.PNG(t.Context(), 0.5); err != nil {
		t.Error(err)
	}
}
