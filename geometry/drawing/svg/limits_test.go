package svg_test

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/cost"
)

const head = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm">`

// fill repeats s up to about a megabyte.
func fill(s string) string { return strings.Repeat(s, 1_000_000/len(s)) }

// packed returns a gzip file of begin, n times s, and the end of the drawing.
func packed(begin, s string, n int) string {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	io.WriteString(z, head+begin)
	for range n {
		io.WriteString(z, s)
	}
	io.WriteString(z, `</svg>`)
	z.Close()
	return b.String()
}

// useTree is a tree of references: each level draws the one below ten times.
func useTree(leaf string) string {
	var b strings.Builder
	b.WriteString(head + `<defs><g id="a0">` + leaf + `</g>`)
	for i := 1; i <= 9; i++ {
		fmt.Fprintf(&b, `<g id="a%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use href="#a%d"/>`, i-1), 10))
	}
	return b.String() + `</defs><use href="#a9"/></svg>`
}

// hostile are files of about 1 MB, or far less, that ask for much work.
func hostile() map[string]string {
	entities := `<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("x", 50_000) + `">]>`
	clips := strings.Repeat(`<g clip-path="url(#c)">`, 200)
	boxed := strings.Repeat(`<g style="transform-box:fill-box;transform:rotate(1deg)">`, 240)
	chain := ""
	for i := range 240 {
		chain += fmt.Sprintf(`<clipPath id="c%d" clip-path="url(#c%d)"><circle r="5"/></clipPath>`, i, i+1)
	}
	return map[string]string{
		"nesting":             head + fill(`<g>`),
		"elements":            head + fill(`<g/>`) + `</svg>`,
		"lines":               head + `<path fill="red" d="M0 0h` + fill("1 ") + `"/></svg>`,
		"elliptic arcs":       head + `<path d="M0 0` + fill("a1 2 0 1 1 3 4") + `"/></svg>`,
		"curves":              head + `<path transform="skewX(3)" d="M0 0c` + fill("1 2 3 4 5 6 ") + `"/></svg>`,
		"empty moves":         useTree(`<path d="` + fill("M0 0 ") + `"/>`),
		"uses":                useTree(`<path d="M0 0h9v9"/>`),
		"uses of a long path": useTree(`<path d="M0 0h` + strings.Repeat("1 ", 300_000) + `"/>`),
		"uses of text":        useTree(`<text style="` + fill("fill:red;") + `">a</text>`),
		"entity squares":      entities + head + `<text>` + strings.Repeat("&a;", 300_000) + `</text></svg>`,
		"entity circle":       `<!DOCTYPE svg [<!ENTITY a "&b;"><!ENTITY b "&a;">]>` + head + `<text>&a;</text></svg>`,
		"attributes":          head + `<path ` + fill(`a="" `) + `/></svg>`,
		"packed spaces":       packed("", strings.Repeat(" ", 1<<20), 40),
		"packed elements":     packed("", `<g a="" b=""/>`, 1_000_000),
		"packed attributes":   packed("", `<g `+strings.Repeat(`a="" `, 3000)+`/>`, 1000),
		"packed text":         packed(`<text/>`, strings.Repeat("a", 1<<20), 15),
		"descendants":         head + `<style>` + strings.Repeat("* ", 60) + `b{fill:red}</style>` + strings.Repeat("<g>", 200) + fill(`<b/>`),
		"rules":               head + `<style>` + strings.Repeat(`*{fill:red;stroke:blue}`, 20_000) + `</style>` + strings.Repeat(`<path d="M0 0h9v9"/>`, 30_000) + `</svg>`,
		"declarations":        head + `<style>*{` + strings.Repeat(`fill:red;`, 50_000) + `}</style>` + strings.Repeat(`<g/>`, 100_000) + `</svg>`,
		"classes":             head + `<style>` + strings.Repeat(`.a .b{fill:red}`, 20_000) + `</style><g class="` + strings.Repeat("b ", 300_000) + `"/></svg>`,
		"clips":               head + `<clipPath id="c"><circle r="9"/></clipPath>` + clips + fill(`<path d="M0 0h9v9"/>`),
		"clips of clips":      head + chain + strings.Repeat(`<path d="M0 0h9v9" clip-path="url(#c0)"/>`, 10_000) + `</svg>`,
		"boxes of groups":     head + boxed + fill(`<g/>`),
		"boxes of shapes":     head + boxed + fill(`<path d="M0 0h9v9"/>`),
		"many shapes":         head + fill(`<path d="M0 0h9v9"/>`) + `</svg>`,
		"gradients":           head + `<linearGradient id="g">` + strings.Repeat("<b/>", 100_000) + `</linearGradient>` + strings.Repeat(`<path fill="url(#g)" d="M0 0h9v9"/>`, 15_000) + `</svg>`,
		"transforms":          head + `<g transform="` + fill("scale(1) ") + `"><path d="M0 0h9v9"/></g></svg>`,
		"points":              head + `<polygon points="` + fill("1,2 ") + `"/></svg>`,
		"brackets":            head + `<style>` + fill("a{") + `</style></svg>`,
		"selectors":           head + `<style>` + fill("a,") + `b{fill:red}</style></svg>`,
		"unknown elements":    head + strings.Repeat(`<zz>`, 250) + fill(`<zz/>`),
		"foreign elements":    head + `<x:a xmlns:x="x">` + fill(`<x:b>`),
	}
}

// A limit that stopped the reading is named.
func TestHostileInput(t *testing.T) {
	files := hostile()
	cost.Bound(t, files, func(file string) string {
		d, err := svg.Read(t.Context(), strings.NewReader(file), svg.Options{})
		if err != nil {
			return err.Error()
		}
		for _, f := range d.Notes {
			if f.Code == drawing.LimitReached {
				return fmt.Sprintf("stopped at %d %s", f.Allowed, f.Limit)
			}
		}
		return fmt.Sprint(codes(d))
	})
}
