package dxf

import (
	"fmt"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

func (o *writer) header(units Units, sheet Sheet, layers []Layer) {
	box := geometry.EmptyBox()
	for _, l := range layers {
		for _, p := range l.Paths {
			box = box.Union(p.Bounds())
		}
	}
	o.section("HEADER")
	o.text(9, "$ACADVER")
	o.text(1, "AC1015")
	o.text(9, "$DWGCODEPAGE")
	o.text(3, "ANSI_1252")
	o.text(9, "$INSUNITS")
	o.int(70, int(units))
	o.text(9, "$MEASUREMENT")
	o.int(70, btoi(units != Inches))
	if !box.Empty() {
		o.text(9, "$EXTMIN")
		o.point(10, box.Min)
		o.real(30, 0)
		o.text(9, "$EXTMAX")
		o.point(10, box.Max)
		o.real(30, 0)
	}
	if sheet.Box.Width() > 0 {
		o.text(9, "$LIMMIN")
		o.point(10, sheet.Box.Min)
		o.text(9, "$LIMMAX")
		o.point(10, sheet.Box.Max)
	}
	o.text(9, "$HANDSEED")
	o.text(5, "FFFFFF")
	o.text(0, "ENDSEC")
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (o *writer) tables(layers []Layer) {
	o.section("TABLES")
	o.table("LTYPE", "2", 3)
	for _, name := range []string{"ByBlock", "ByLayer", "Continuous"} {
		o.row("LTYPE", "2", "AcDbLinetypeTableRecord", name)
		o.text(3, "")
		o.int(72, 65)
		o.int(73, 0)
		o.real(40, 0)
	}
	o.text(0, "ENDTAB")
	known := map[string]bool{"0": true}
	rows := []Layer{{Name: "0"}}
	for _, l := range layers {
		name := cleanName(l.Name)
		if fold := strings.ToLower(name); !known[fold] {
			known[fold] = true
			rows = append(rows, Layer{Name: name, Colour: l.Colour})
		} else if fold == "0" && rows[0].Colour == nil {
			rows[0].Colour = l.Colour
		}
	}
	o.table("LAYER", "3", len(rows))
	for _, l := range rows {
		o.layer(l)
	}
	o.text(0, "ENDTAB")
	o.table("BLOCK_RECORD", "4", 2)
	for _, b := range [2][2]string{{modelHandle, "*Model_Space"}, {paperHandle, "*Paper_Space"}} {
		o.text(0, "BLOCK_RECORD")
		o.text(5, b[0])
		o.text(330, "4")
		o.text(100, "AcDbSymbolTableRecord")
		o.text(100, "AcDbBlockTableRecord")
		o.text(2, b[1])
	}
	o.text(0, "ENDTAB")
	o.text(0, "ENDSEC")
}

func (o *writer) table(name, handle string, rows int) {
	o.text(0, "TABLE")
	o.text(2, name)
	o.text(5, handle)
	o.text(330, "0")
	o.text(100, "AcDbSymbolTable")
	o.int(70, rows)
}

func (o *writer) row(name, table, subclass, entry string) {
	o.object(name, table, "AcDbSymbolTableRecord")
	o.text(100, subclass)
	o.text(2, entry)
	o.int(70, 0)
}

func (o *writer) layer(l Layer) {
	o.row("LAYER", "3", "AcDbLayerTableRecord", l.Name)
	if l.Colour == nil {
		o.int(62, 7)
	} else {
		o.int(62, nearestNumber(*l.Colour))
		o.int(420, int(l.Colour.R)<<16|int(l.Colour.G)<<8|int(l.Colour.B))
	}
	o.text(6, "Continuous")
}

// blocks writes the two empty blocks that stand for the model and the print
// layout.
func (o *writer) blocks() {
	o.section("BLOCKS")
	for _, b := range [2][2]string{{modelHandle, "*Model_Space"}, {paperHandle, "*Paper_Space"}} {
		o.object("BLOCK", b[0], "AcDbEntity")
		o.text(8, "0")
		o.text(100, "AcDbBlockBegin")
		o.text(2, b[1])
		o.int(70, 0)
		o.point(10, geometry.Point{})
		o.real(30, 0)
		o.text(3, b[1])
		o.text(1, "")
		o.object("ENDBLK", b[0], "AcDbEntity")
		o.text(8, "0")
		o.text(100, "AcDbBlockEnd")
	}
	o.text(0, "ENDSEC")
}

// nearestNumber returns the colour number that comes nearest to c in RGB, for
// readers that know no true colours.
func nearestNumber(c drawing.Colour) int {
	p := newPalette()
	best, least := 7, 1<<30
	for n := 1; n < byLayer; n++ {
		r, g, b := int(p[n].R)-int(c.R), int(p[n].G)-int(c.G), int(p[n].B)-int(c.B)
		if d := r*r + g*g + b*b; d < least {
			best, least = n, d
		}
	}
	return best
}

// cleanName returns name without the characters that table names must not
// have, and with those beyond ASCII escaped.
func cleanName(name string) string {
	if name = escaped(name, "<>/\\\":;?*|=`,"); name == "" {
		return "0"
	}
	return name
}

// escaped returns one line of text without the characters that must not be in it, and
// with those beyond ASCII escaped.
func escaped(text, without string) string {
	var b strings.Builder
	for _, r := range strings.TrimSpace(text) {
		switch {
		case r < ' ', strings.ContainsRune(without, r):
			b.WriteByte('_')
		case r < 0x7f:
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('_')
		}
	}
	return b.String()
}
