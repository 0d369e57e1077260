package local_test

import (
	"strings"

	"knifedesk/jobs/finding"
)

// good is a square of 20 × 20 mm that is cut.
const good = `<path d="M10 10h20v20h-20z"/>`

// readFaults are about what a drawing is made of.
func readFaults() []fault {
	warns := func(name string, code finding.Code, with, near, at string) fault {
		return fault{name: name, with: sheet(good + with), near: sheet(good + near), choices: onCard,
			code: code, severity: finding.Warn, count: 1, at: at}
	}
	layered := func(name, with, near string) fault {
		return fault{name: name, with: entities(square + with), near: entities(square + near), choices: onCard,
			code: finding.HiddenGeometry, severity: finding.Warn, count: 1, at: "40 0 60 0"}
	}
	asks := func(name string, code finding.Code, with, near, at string) fault {
		return fault{name: name, with: sheet(with), near: sheet(near), choices: onCard,
			code: code, severity: finding.Ask, count: 1, at: at, asks: "read/" + string(code)}
	}
	return []fault{
		{name: "live text", with: sheet(good + `<text x="50" y="60" font-size="10">Hall</text>`), near: sheet(good + `<text x="50" y="60"> </text>`),
			choices: onCard, code: finding.LiveText, severity: finding.Block, count: 1, at: "50 120 50 120"},
		{name: "live text in DXF", with: entities(square + "TEXT 8=CUT 10=40 20=5 40=8 1=Hall"), near: entities(square + "TEXT 8=OFF 10=40 20=5 40=8 1=Hall"),
			choices: onCard, code: finding.LiveText, severity: finding.Block, count: 1, at: "40 5 48 13"},
		{name: "text on the layer for notes", with: entities(square + "TEXT 8=NOTES 10=40 20=5 40=8 1=Hall"), near: entities(square),
			choices: onCard, code: finding.NotesLeftOut, severity: finding.Warn, count: 1, at: "40 5 48 13"},
		{name: "text on the layer for notes and on that for cuts", with: sheet(good + `<g id="NOTES"><text x="9" y="9">Scale</text></g><text x="50" y="60" font-size="10">Hall</text>`), near: sheet(good + `<g id="NOTES"><text x="9" y="9">Scale</text></g>`),
			choices: onCard, code: finding.LiveText, severity: finding.Block, count: 1, at: "50 120 50 120"},
		warns("picture of pixels beside outlines", finding.RasterImage, `<image x="50" y="50" width="30" height="20" href="data:,"/>`, `<rect x="50" y="50" width="30" height="20"/>`, "50 110 80 130"),
		{name: "picture of pixels and nothing else", with: sheet(`<image x="50" y="50" width="30" height="20" href="data:,"/>`), near: cutting("M10 10h20v20h-20z"),
			choices: onCard, code: finding.RasterImage, severity: finding.Block, count: 1, at: "50 110 80 130"},
		warns("gradient", finding.PaintServerUsed, `<linearGradient id="g"><stop stop-color="#007c91"/></linearGradient><path d="M50 50h20v20h-20z" stroke="url(#g)"/>`, `<path d="M50 50h20v20h-20z" stroke="#007c91"/>`, "50 110 70 130"),
		warns("effect", finding.EffectUsed, `<path d="M50 50h20v20h-20z" filter="url(#blur)"/>`, `<path d="M50 50h20v20h-20z" filter="none"/>`, "50 110 70 130"),
		warns("dashed line", finding.DashedLine, `<path d="M50 50h20v20h-20z" stroke-dasharray="2 1"/>`, `<path d="M50 50h20v20h-20z" stroke-dasharray="none"/>`, "50 110 70 130"),
		warns("hidden shape", finding.HiddenGeometry, `<path d="M50 50h20v20h-20z" display="none"/>`, `<path d="M50 50h20v20h-20z" display="inline"/>`, "50 110 70 130"),
		layered("layer that is off", "LINE 8=OFF 10=40 20=0 11=60 21=0", "LINE 8=CUT 10=40 20=0 11=60 21=0"),
		layered("frozen layer", "LINE 8=ICE 10=40 20=0 11=60 21=0", "LINE 8=CUT 10=40 20=0 11=60 21=0"),
		{name: "locked layer", with: entities(square + "LINE 8=KEY 420=31889 10=40 20=0 11=60 21=0"), near: entities(square + "LINE 8=CUT 10=40 20=0 11=60 21=0"),
			choices: onCard, code: finding.LockedLayer, severity: finding.Ask, count: 1, at: "40 0 60 0", asks: "artwork/locked_layers"},
		asks("clipped shape", finding.ClipPathUsed,
			`<clipPath id="c"><rect width="40" height="60"/></clipPath><g clip-path="url(#c)"><path d="M10 10h60v20h-60z"/></g>`,
			`<clipPath id="c"><rect width="80" height="60"/></clipPath><g clip-path="url(#c)"><path d="M10 10h60v20h-60z"/></g>`, "10 150 70 170"),
		asks("masked shape", finding.MaskUsed, `<g mask="url(#m)"><path d="M10 10h60v20h-60z"/></g>`, `<g mask="none"><path d="M10 10h60v20h-60z"/></g>`, "10 150 70 170"),
		warns("shape with neither line nor fill", finding.UnpaintedGeometry, `<path d="M50 50h20v20h-20z" stroke="none"/>`, `<path d="M50 50h20v20h-20z"/>`, "50 110 70 130"),
		{name: "zero length in DXF", with: entities(square + "LINE 8=CUT 10=40 20=5 11=40 21=5"), near: entities(square + "LINE 8=CUT 10=40 20=5 11=41 21=5"),
			choices: onCard, code: finding.ZeroLength, severity: finding.Mended, count: 1, at: "40 5 40 5"},
		{name: "filled area in DXF", with: entities(square + "HATCH 8=CUT 10=0 20=0 2=SOLID 91=1 92=3 72=0 73=1 93=3 10=40 20=0 10=50 20=0 10=40 20=5 97=0 75=0"), near: entities(square),
			choices: onCard, code: finding.HatchListed, severity: finding.Ask, count: 1, at: "40 0 50 5", asks: "read/hatch_listed"},
	}
}

// hostileFaults are broken files and files that ask for endless work.
func hostileFaults() []fault {
	blocks := func(name string, code finding.Code, with, near, at string) fault {
		return fault{name: name, with: with, near: near, choices: onCard, code: code, severity: finding.Block, count: 1, at: at}
	}
	laughs := `<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("ha", 50) + `"><!ENTITY b "` + strings.Repeat("&a;", 300) + `"><!ENTITY c "` + strings.Repeat("&b;", 300) + `">]>`
	copies := `<g id="x0">` + good + `</g>`
	for i := range 30 {
		copies += `<g id="x` + string(rune('A'+i)) + `">` + strings.Repeat(`<use href="#x`+map[bool]string{true: "0", false: string(rune('A' + i - 1))}[i == 0]+`"/>`, 8) + `</g>`
	}
	return []fault{
		blocks("coordinate that is no number", finding.BadNumber, entities(square+"LINE 8=CUT 10=nan 20=0 11=5 21=5"), entities(square+"LINE 8=CUT 10=40 20=0 11=50 21=0"), "5 5 5 5"),
		blocks("coordinate beyond a kilometre in SVG", finding.OutOfRange, cutting("M10 10h20v20h-20z", "M0 0h1e12v5"), cutting("M10 10h20v20h-20z", "M50 0h10v5"), "0 180 0 180"),
		blocks("entities that grow", finding.LimitReached, laughs+sheet(good+"<desc>&c;</desc>"), `<!DOCTYPE svg [<!ENTITY a "ha">]>`+sheet(good+"<desc>&a;</desc>"), ""),
		blocks("copies of copies", finding.LimitReached, sheet(copies), sheet(`<g id="x0">`+good+`</g><use href="#x0" x="40"/>`), ""),
		blocks("array of blocks without end", finding.LimitReached, entities(square+"INSERT 8=CUT 2=PART 10=0 20=0 70=30000 71=30000 44=30 45=30"), entities("INSERT 8=CUT 2=PART 10=0 20=0 70=2 71=3 44=30 45=30"), ""),
		blocks("part of another file", finding.ExternalReference, sheet(good+`<use href="other.svg#x" x="40" y="30"/>`), sheet(`<g id="x">`+good+`</g><use href="#x" x="40"/>`), "40 150 40 150"),
		blocks("part of another file in DXF", finding.ExternalReference, entities(square+"INSERT 8=CUT 2=OUTSIDE 10=40 20=0"), entities(square+"INSERT 8=CUT 2=PART 10=40 20=0"), "40 0 40 0"),
		blocks("copy of itself", finding.CircularReference, sheet(good+`<g id="x"><use href="#x" x="40" y="30"/></g>`), sheet(`<g id="x">`+good+`</g><use href="#x" x="40"/>`), "40 150 40 150"),
		blocks("block in itself", finding.CircularReference, entities(square+"INSERT 8=CUT 2=ITSELF 10=40 20=0"), entities(square+"INSERT 8=CUT 2=PART 10=40 20=0"), "41 1 41 1"),
		blocks("file cut short", finding.Truncated, strings.TrimSuffix(entities(square+square), "0\nENDSEC\n0\nEOF\n"), entities(square), ""),
		blocks("no drawing at all", finding.UnknownFormat, "Dear workshop, please find my drawing enclosed.", entities(square), ""),
		blocks("damaged file", finding.Unreadable, "%PDF-1.4\nrubbish", entities(square), ""),
		blocks("nothing drawn", finding.EmptyDrawing, page(`<g id="CUT"/>`), cutting("M10 10h20v20h-20z"), ""),
	}
}
