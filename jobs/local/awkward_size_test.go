package local_test

import (
	"fmt"
	"strings"

	"knifedesk/geometry/drawing/dxf"
	"knifedesk/jobs/plan"
)

// at returns path data with every number times k.
func at(k float64, data string) string {
	var b strings.Builder
	number := ""
	flush := func() {
		if number != "" {
			var v float64
			if _, err := fmt.Sscan(number, &v); err != nil {
				panic(err) // of path data written in this file
			}
			fmt.Fprintf(&b, "%.10g", v*k)
			number = ""
		}
	}
	for _, c := range data {
		if strings.ContainsRune("0123456789.", c) {
			number += string(c)
			continue
		}
		flush()
		b.WriteRune(c)
	}
	flush()
	return b.String()
}

// Work of the rows: a tag with a hole, and a door plate.
const (
	tag    = "M20 20H110V75H20Z M25 42H35V52H25Z"       // 90 × 55 mm
	door   = "M40 60H140V110H40Z M50 75H60V95H50Z"      // 100 × 50 mm
	poster = "M60 80H360V380H60Z M100 120H300V300H100Z" // 300 × 300 mm on A2
)

// awkwardSizes are drawings whose size is lost or may be read in several ways.
func awkwardSizes() []awkward {
	const (
		a2 = "M0 0H420V594H0Z"
		a5 = "M0 0H148V210H0Z"
	)
	plain := func(unit dxf.Units, k float64, layers ...layer) string {
		for i := range layers {
			layers[i].data = at(k, layers[i].data)
		}
		return drawn(unit, 1, 1, layers...)
	}
	cut := func(data string) layer { return layer{"CUT", data} }
	page := func(data string) layer { return layer{"PAGE", data} }
	onA3 := plan.Choices{Stock: "card-220-a3"}
	return []awkward{
		{name: "tag without a unit", file: plain(dxf.Unitless, 1, cut(tag)), choices: onCard, w: 90, h: 55,
			knows: "It is a luggage tag, 90 mm wide and 55 mm high, with a square hole for the string."},
		{name: "tag in points without a unit", file: plain(dxf.Unitless, 72/25.4, cut(tag)), choices: onCard, w: 90, h: 55,
			knows: "It is a luggage tag, a little larger than a bank card: 90 mm wide and 55 mm high."},
		{name: "tag in inches without a unit", file: plain(dxf.Unitless, 1/25.4, cut(tag)), choices: onCard, w: 90, h: 55,
			knows: "It is a luggage tag, 90 mm wide and 55 mm high."},
		{name: "tag that says inches", file: plain(dxf.Inches, 1, cut(tag)), choices: onCard, w: 90, h: 55,
			knows: "It is a luggage tag, 90 mm wide and 55 mm high."},
		{name: "page shrunk by a printer's margins", file: plain(dxf.Millimetres, 0.97, cut(door), page(a4)), choices: onCard, w: 100, h: 50,
			knows: "I drew it on an A4 page, with the page's outline round it. It is a door plate, 100 mm wide and 50 mm high."},
		{name: "A4 page for A3 card", file: plain(dxf.Millimetres, 0.97, cut(door), page(a4)), choices: onA3, w: 100, h: 50,
			knows: "I drew it on an A4 page. It is a door plate, 100 mm wide and 50 mm high. The card I chose is larger than my page."},
		{name: "A3 page shrunk on a roll", file: plain(dxf.Millimetres, 0.68, cut("M60 80H260V280H60Z"), page(a3)), choices: onFilm, w: 200, h: 200,
			knows: "It is a square sticker, 200 mm wide, drawn on an A3 page."},
		{name: "small card like a page", file: plain(dxf.Millimetres, 1, cut("M0 0H63V89.1H0Z M20 30H41V51H20Z")), choices: onCard, w: 63, h: 89.1,
			knows: "It is a playing card, 63 mm wide and 89 mm high, with a square window. All of its lines are cut."},
		{name: "A5 card on A4", file: plain(dxf.Millimetres, 1, cut(a5), cut("M40 50H108V160H40Z")), choices: onCard, w: 148, h: 210,
			knows: "It is a greeting card of A5 size with a window in it. The card's edge is cut, too."},
		{name: "plate that is a page in centimetres", file: plain(dxf.Millimetres, 1, cut("M0 0H42V59.4H0Z"), cut("M10 20H32V40H10Z")), choices: onCard, w: 42, h: 59.4,
			knows: "It is a small plate, 42 mm wide and 59 mm high, with a window."},
		{name: "poster drawn in centimetres", file: plain(dxf.Millimetres, 0.1, cut(poster), page(a2)), choices: onFilm, w: 300, h: 300,
			knows: "I drew it on an A2 page. It is a large square sticker with a square hole, 300 mm wide."},
		{name: "page of an unnamed size", file: plain(dxf.Millimetres, 0.3777, cut(door), page(a4)), choices: onCard, w: 100, h: 50,
			knows: "It is a door plate, 100 mm wide and 50 mm high, drawn on an A4 page. The outline of the page is not cut."},
		{name: "page pulled wide", file: drawn(dxf.Millimetres, 1.02, 1, cut(door), page(a4)), choices: onCard, w: 100, h: 50,
			knows: "I drew a door plate, 100 mm wide and 50 mm high, on an A4 page. I think I pulled at the drawing's side by mistake, and want it as it was."},
		{name: "page in pixels", file: plain(dxf.Unitless, 96/25.4, cut(door), page(a4)), choices: onCard, w: 100, h: 50,
			knows: "It is a door plate, 100 mm wide and 50 mm high, on an A4 page."},
		{name: "A1 page or A4 page", file: plain(dxf.Unitless, 1, cut("M100 100H400V300H100Z"), page("M0 0H594V841H0Z")), choices: onCard, w: 300 * 25.4 / 72, h: 200 * 25.4 / 72, // A1 in mm has nearly the numbers of A4 in points
			knows: "It is a bookmark about 106 mm wide and 71 mm high. I drew it on an A4 page."},
		{name: "border on the frame", file: plain(dxf.Millimetres, 1, cut(door), page(a5), cut(a5)), choices: onCard, w: 148, h: 210,
			knows: "It is a card of A5 size with a window in it; its edge is cut. The little rectangle in the window is left over. The same rectangle is there as my page, too.", right: map[string]string{"size/frame_border": "cut_border", "weeding/pieces_in_holes": "waste"}},
		{name: "svg of plain numbers", file: `<svg xmlns="http://www.w3.org/2000/svg"><path id="CUT" fill="none" stroke="#007c91" d="` + tag + `"/></svg>`, choices: onCard, w: 90, h: 55,
			knows: "It is a luggage tag, 90 mm wide and 55 mm high. I typed the numbers in mm."},
		{name: "two pages of one size", file: plain(dxf.Millimetres, 1, cut(door), page(a4), cut("M300 60H380V100H300Z"), page("M250 0H460V297H250Z")), choices: onCard, w: 80, h: 40,
			knows: "The file has two pages of A4. I want the right one now: a plain plate, 80 mm wide and 40 mm high."},
	}
}
