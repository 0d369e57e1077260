package lesson

import (
	"fmt"
	"strings"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// The stocks of the college that the examples are cut from.
func onCard() plan.Choices    { return plan.Choices{Stock: "card-220-a4"} }
func onFilm() plan.Choices    { return plan.Choices{Stock: "film-removable-610"} }
func onHeat() plan.Choices    { return plan.Choices{Stock: "film-heat-500"} }
func onStencil() plan.Choices { return plan.Choices{Stock: "stencil-a3"} }

// answered returns choices with one answer given.
func answered(c plan.Choices, question, answer string) plan.Choices {
	c.Replies = ask.Replies{question: {Answer: answer}}
	return c
}

// inUnit returns choices with the unit of the file given.
func inUnit(c plan.Choices, unit string) plan.Choices {
	c.Size.Unit = unit
	return c
}

// frameGiven returns choices with the size of the frame given.
func frameGiven(c plan.Choices, frame string) plan.Choices {
	c.Size.Frame = frame
	return c
}

// card, film and stencil are examples of path data on the layer for cutting.
func card(says string, paths ...string) Example { return of(onCard(), says, cutting(paths...)) }
func film(says string, paths ...string) Example { return of(onFilm(), says, cutting(paths...)) }

func of(on plan.Choices, says, file string) Example { return Example{Says: says, File: file, On: on} }

// drawn is a file on card.
func drawn(says, file string) Example { return of(onCard(), says, file) }

// with returns the example in a college whose data is changed.
func (e Example) with(change func(*workshop.Data)) Example {
	e.Change = change
	return e
}

// onPage is an SVG file of a page of 180 × 180 mm, y down.
func onPage(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="180mm" viewBox="0 0 180 180">` + body + `</svg>`
}

// toCut is a page on which body is on the layer for cutting, in thin lines.
func toCut(body string) string {
	return onPage(`<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1">` + body + `</g>`)
}

func cutting(paths ...string) string {
	var b strings.Builder
	for _, d := range paths {
		fmt.Fprintf(&b, `<path d="%s"/>`, d)
	}
	return toCut(b.String())
}

// layer is a group on a layer, in a colour.
func layer(name, colour, path string) string {
	return fmt.Sprintf(`<g id="%s" fill="none" stroke="%s" stroke-width="0.1"><path d="%s"/></g>`, name, colour, path)
}

// Shapes that many examples are made of.
const (
	box    = "M10 10h40v30h-40z"
	second = `<path d="M60 10h20v20h-20z"/>`
	first  = `<path d="M10 10h40v30h-40z"/>`
	teal   = "#007c91"
	violet = "#7a3eb1"
)

func cutBox() string { return layer("CUT", teal, box) }

// plate is a plate of 60 × 40 mm with more in it.
func plate(more string) string { return "M0 0h60v40h-60z" + more }

// groups writes "LINE 8=CUT 10=0" as the groups 0 LINE, 8 CUT, 10 0 of a DXF file. A
// space in a value is written ~.
func groups(text string) string {
	var b strings.Builder
	for _, word := range strings.Fields(text) {
		code, value, ok := strings.Cut(word, "=")
		if !ok {
			code, value = "0", word
		}
		fmt.Fprintf(&b, "%s\n%s\n", code, strings.ReplaceAll(value, "~", " "))
	}
	return b.String()
}

// dxf is a DXF file in a unit, as the header counts them, of these entities, with layers
// that are off and locked, and with blocks.
func dxf(unit int, entities string) string {
	const layers = " TABLE 2=LAYER LAYER 2=CUT 70=0 62=4 LAYER 2=OFF 70=0 62=-4 LAYER 2=KEY 70=4 62=4 LAYER 2=PAGE 70=0 62=7 ENDTAB"
	const blocks = " BLOCK 2=PART 70=0 10=0 20=0 " + square + " ENDBLK" +
		" BLOCK 2=OUTSIDE 70=4 10=0 20=0 1=other.dxf ENDBLK" +
		" BLOCK 2=ITSELF 70=0 10=0 20=0 INSERT 8=CUT 2=ITSELF 10=30 20=0 ENDBLK"
	header := fmt.Sprintf("SECTION 2=HEADER 9=$ACADVER 1=AC1015 9=$INSUNITS 70=%d ENDSEC SECTION 2=TABLES", unit)
	return groups(header + layers + " ENDSEC SECTION 2=BLOCKS" + blocks + " ENDSEC SECTION 2=ENTITIES " + entities + " ENDSEC EOF")
}

// inMM is a DXF file in mm.
func inMM(entities string) string { return dxf(4, entities) }

// square is 20 × 20 mm on the layer for cutting, and beside a line 20 mm long to its
// right.
const (
	square = "LWPOLYLINE 8=CUT 90=4 70=1 10=0 20=0 10=20 20=0 10=20 20=20 10=0 20=20 "
	beside = "LINE 8=CUT 10=30 20=0 11=50 21=0 "
)

// rect is a rectangle of a DXF file, all numbers times k.
func rect(layer string, x, y, w, h, k float64) string {
	return fmt.Sprintf("LWPOLYLINE 8=%s 90=4 70=1 10=%g 20=%g 10=%g 20=%[3]g 10=%[4]g 20=%[5]g 10=%[2]g 20=%[5]g ", layer, x*k, y*k, (x+w)*k, (y+h)*k)
}

// framed is a plate of 137 × 62 mm with a window in a frame, all numbers times k.
func framed(w, h, k float64) string {
	return rect("CUT", 30, 40, 137, 62, k) + rect("CUT", 60, 60, 20, 20, k) + rect("PAGE", 0, 0, w, h, k)
}

// inMMWith is a DXF file in mm with a text between two of its entities.
func inMMWith(before, text, after string) string {
	whole := inMM(before + after)
	return strings.Replace(whole, groups(after), text+groups(after), 1)
}
