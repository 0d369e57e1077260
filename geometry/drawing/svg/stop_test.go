package svg_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/stop"
)

// large are files whose reading takes long in one place each: in a text, a
// list or a style that has no parts to stop between.
func large() map[string]string {
	long := func(s string, n int) string { return strings.Repeat(s, n/len(s)) }
	var declared strings.Builder
	for i := range 40_000 {
		fmt.Fprintf(&declared, `<!ENTITY a%d "&#35;&#102;">`, i)
	}
	return map[string]string{
		"long path":        head + `<path d="M0 0h` + long("1 ", 4<<20) + `"/></svg>`,
		"long text":        head + `<text>` + long("a ", 12<<20) + `</text></svg>`,
		"long latin text":  head + `<text>` + long("\xe9 ", 12<<20) + `</text></svg>`,
		"long points":      head + `<polygon points="` + long("1,2 ", 4<<20) + `"/></svg>`,
		"long transform":   head + `<g transform="` + long("scale(1) ", 2<<20) + `"/></svg>`,
		"long sheet":       head + `<style>` + long(".a{fill:red}", 3<<20) + `</style></svg>`,
		"long style":       head + `<path style="` + long("fill:red;", 3<<20) + `" d="M0 0h9v9"/></svg>`,
		"long selectors":   head + `<style>` + long("a,", 2<<20) + `b{fill:red}</style></svg>`,
		"long value":       head + `<style>a{fill:` + long("b c ", 2<<20) + `}</style></svg>`,
		"long style value": head + `<path style="fill:` + long("b c ", 2<<20) + `" d="M0 0h9v9"/></svg>`,
		"many entities":    `<!DOCTYPE svg [` + declared.String() + `]>` + head + `<text>&a1;</text></svg>`,
		"many references":  `<!DOCTYPE svg [<!ENTITY b "">]>` + head + `<text>` + long("&b;", 2<<20) + `</text></svg>`,
		"words in uses":    head + `<text id="t">` + strings.Repeat("<tspan/>", 2000) + `</text>` + strings.Repeat(`<use href="#t"/>`, 4000) + `</svg>`,
	}
}

// A reading that nobody waits for any more ends soon, wherever it is.
func TestStop(t *testing.T) {
	for _, files := range []map[string]string{hostile(), large()} {
		for name, file := range files {
			t.Run(name, func(t *testing.T) {
				stop.Check(t, func(ctx context.Context) error {
					_, err := svg.Read(ctx, strings.NewReader(file), svg.Options{})
					if parse := new(svg.ParseError); errors.As(err, &parse) {
						return nil // what is refused is read to its end as well
					}
					return err
				})
			})
		}
	}
}
