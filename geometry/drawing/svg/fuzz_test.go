package svg_test

import (
	"bytes"
	"errors"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
)

var seeds = []string{
	head + `<rect x="10" y="20" width="30mm" height="40%" rx="5"/></svg>`,
	head + `<style>g>rect.a,#b{stroke:#f80!important;fill:none}@media print{*{fill:red}}</style><g id="Cut"><rect class="a" width="9" height="9"/></g></svg>`,
	head + `<defs><symbol id="s" viewBox="0 0 10 10"><circle r="5"/></symbol></defs><use href="#s" x="1" width="20" transform="rotate(30 5 5)"/></svg>`,
	head + `<svg x="10" width="50%" viewBox="0 0 10 10" preserveAspectRatio="xMinYMax slice"><ellipse rx="3" ry="4"/></svg></svg>`,
	head + `<path d="M10.5.5.5.5-.5-1.5e0 1E1-2e+0zm1 1a5 3 30 0110 0s1 2 3 4q5 6 7 8t1 2h3v-4"/><polygon points="1,2 3,4 5"/></svg>`,
	head + `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height="1"/></clipPath><rect width="9" height="9" clip-path="url(#c)" mask="url(#m)"/></svg>`,
	head + `<g style="transform:translate(10px,20px) rotate(.25turn);transform-origin:left 5px"><line x2="9" stroke="hsl(120 50% 50%)" stroke-dasharray="1 2"/></g></svg>`,
	`<!DOCTYPE svg [<!ENTITY ns "http://www.w3.org/2000/svg"><!ENTITY a "&#35;f00">]><svg xmlns="&ns;"><path stroke="&a;" d="M0 0h9"/></svg>`,
	head + `<switch><g systemLanguage="de"/><use href="#x"/></switch><g id="x"><use href="#x"/><text>A</text><image width="9" height="9"/></g></svg>`,
	head + `<linearGradient id="l"><stop stop-color="red"/></linearGradient><rect fill="url(#l) blue" width="9" height="9" opacity=".5" filter="url(#f)"/></svg>`,
	"\xff\xfe<\x00s\x00v\x00g\x00/\x00>\x00",
	"\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03",
}

// FuzzRead: no input makes the reader panic, every coordinate it returns is an
// ordinary number, and what the writer makes of a drawing reads back the same.
func FuzzRead(f *testing.F) {
	for _, s := range seeds {
		f.Add([]byte(s))
	}
	reference.Seeds(f, "drawings", "svg")
	limits := svg.Limits{Bytes: 1 << 16, Unpacked: 1 << 18, Uses: 2000, Segments: 20_000, StyleSteps: 20_000, Repeats: 1 << 18}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := svg.Read(t.Context(), bytes.NewReader(data), svg.Options{Limits: limits, KeepHidden: true})
		if err != nil {
			var parse *svg.ParseError
			if !errors.As(err, &parse) {
				t.Fatalf("an untyped error: %v", err)
			}
			return
		}
		doc := svg.Document{Width: 100, Height: 50}
		for _, s := range d.Shapes {
			for _, p := range s.Paths {
				if !p.Finite() {
					t.Fatalf("%v: %v", s.Source, p)
				}
				p = p.Transform(geometry.Scale(d.Unit.MM, d.Unit.MM))
				if p.Length() < 1e-5 {
					continue // on the writer's grid it may become a point, which an arc cannot draw
				}
				if b := p.Bounds(); max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y) < 9e5 { // farther out, the shift of the page may pass the limit
					doc.Layers = append(doc.Layers, svg.Layer{Name: s.Layer, Paths: []geometry.Path{p}})
				}
			}
		}
		again(t, doc)
	})
}

// again writes doc, reads it back and compares.
func again(t *testing.T, doc svg.Document) {
	t.Helper()
	var file bytes.Buffer
	if err := svg.Write(&file, doc); err != nil {
		t.Fatal(err)
	}
	if !svg.Sniff(file.Bytes()[:min(512, file.Len())]) {
		t.Errorf("not recognised: %.80s", file.Bytes())
	}
	d, err := svg.Read(t.Context(), &file, svg.Options{})
	if err != nil {
		t.Fatalf("the written file: %v", err)
	}
	var paths []geometry.Path
	for _, s := range d.Shapes {
		paths = append(paths, s.Paths...)
	}
	i := 0
	for _, l := range doc.Layers {
		for _, want := range l.Paths {
			if want.Empty() {
				continue
			}
			if i >= len(paths) {
				t.Fatalf("%d paths came back of %d", len(paths), i+1)
			}
			got := paths[i].Transform(geometry.Scale(d.Unit.MM, d.Unit.MM))
			i++
			tol := 1e-9*want.Length() + 4e-6*float64(len(want.Segments)) + 1e-9*math.Hypot(want.Start.X, want.Start.Y)
			if math.Abs(got.Length()-want.Length()) > tol || got.Start.Dist(want.Start) > tol {
				t.Fatalf("length %v from %v, want %v from %v", got.Length(), got.Start, want.Length(), want.Start)
			}
		}
	}
	if i != len(paths) {
		t.Fatalf("%d paths came back, want %d", len(paths), i)
	}
}
