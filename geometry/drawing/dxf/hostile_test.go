package dxf_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/cost"
)

const megabyte = 1 << 20

// fill repeats text until it is about a megabyte; %d in it is the number of
// the repetition.
func fill(text string) string {
	var b strings.Builder
	text = groups(text)
	for i := 0; b.Len()+len(text) < megabyte-4096; i++ {
		if strings.Contains(text, "%d") {
			fmt.Fprintf(&b, text, i)
		} else {
			b.WriteString(text)
		}
	}
	return b.String()
}

// around puts groups that are already lines between the two ends of a file.
func around(blocks, entities string) string {
	return groups("SECTION 2=HEADER 9=$ACADVER 1=AC1015 ENDSEC SECTION 2=BLOCKS") + blocks +
		groups("ENDSEC SECTION 2=ENTITIES") + entities + groups("ENDSEC EOF")
}

// bombs are files of at most a megabyte that ask for as much work as they can.
func bombs() map[string]string {
	line := groups("LINE 8=0 10=0 20=0 11=1 21=1")
	block := func(name, content string) string {
		return groups("BLOCK 2="+name+" 10=0 20=0") + content + groups("ENDBLK")
	}
	insert := func(name, more string) string { return groups("INSERT 8=0 2=" + name + " 10=1 20=0 " + more) }
	var tower, doubling strings.Builder
	tower.WriteString(block("B0", line))
	doubling.WriteString(block("D0", line))
	for i := 1; i < 60; i++ {
		tower.WriteString(block(fmt.Sprintf("B%d", i), insert(fmt.Sprintf("B%d", i-1), "")))
		twice := insert(fmt.Sprintf("D%d", i-1), "")
		doubling.WriteString(block(fmt.Sprintf("D%d", i), twice+twice))
	}
	spline := func(more, each string) string { return groups("SPLINE 8=0 "+more) + fill(each) }
	knots := func(degree, points, wild int) string {
		var b strings.Builder
		fmt.Fprintf(&b, "SPLINE 8=0 71=%d ", degree)
		for i := range points + degree + 1 {
			fmt.Fprintf(&b, "40=%d ", i)
		}
		for i := range points {
			fmt.Fprintf(&b, "10=%d 20=%d ", i%7*1000, i%5)
			if wild != 0 {
				fmt.Fprintf(&b, "41=1e%d ", i*5%(2*wild)-wild)
			}
		}
		return groups(b.String())
	}
	const array = " 70=32000 71=32000 44=1 45=1"
	return map[string]string{
		"array of lines":             around(block("A", line), insert("A", array)),
		"array of nothing":           around(block("A", ""), insert("A", array)),
		"array of arrays of nothing": around(block("A", "")+block("B", insert("A", array)), insert("B", array)),
		"array of texts":             around(block("A", groups("TEXT 8=0 10=0 20=0")), insert("A", array)),
		"array of hidden lines":      around(block("A", groups("LINE 8=0 60=1 10=0 20=0 11=1 21=1")), insert("A", array)),
		"array of circles, squeezed": around(block("A", groups("CIRCLE 8=0 10=0 20=0 40=1")), insert("A", "41=2"+array)),
		"tower":                      around(tower.String(), insert("B59", "")),
		"doubling":                   around(doubling.String(), insert("D30", "")),
		"recursion":                  around(block("A", strings.Repeat(insert("B", ""), 3000))+block("B", strings.Repeat(insert("A", ""), 3000)), fill("INSERT 8=0 2=A 10=0 20=0")),
		"array of a long polyline":   around(block("A", groups("LWPOLYLINE 8=0")+fill("10=%d 20=0")), insert("A", array)),
		"array of a long standstill": around(block("A", groups("LWPOLYLINE 8=0")+fill("10=0 20=0")), insert("A", array)),
		"array of a broken spline":   around(block("A", spline("71=3", "40=%d 10=0 20=0")), insert("A", array)),
		"long polyline of bulges":    around("", groups("LWPOLYLINE 8=0")+fill("10=%d 20=0 42=3")),
		"rational spline":            around("", knots(3, 40000, 1)),
		"wild weights, high degree":  around("", knots(15, 40000, 3)),
		"wild weights":               around("", knots(3, 40000, 6)),
		"spline of high degree":      around("", knots(15, 50000, 0)),
		"fit points":                 around("", spline("71=3", "11=%d 21=0")),
		"many layers":                around("", fill("LINE 8=L%d 10=0 20=0 11=1 21=1")),
		"many kinds":                 around("", fill("K%d")),
		"many short lines":           around("", fill("LINE 10=0 20=0 11=1 21=0")),
		"many circles":               around("", fill("CIRCLE 10=0 20=0 40=1")),
		"many blocks":                around(fill("BLOCK 2=B%d LINE 10=0 20=0 11=1 21=0 ENDBLK"), insert("B7", "")),
		"many missing blocks":        around("", fill("INSERT 2=M%d 10=0 20=0")),
		"many vertices":              around("", groups("POLYLINE")+fill("VERTEX 10=%d 20=0")),
		"many true colours":          around("", fill("LINE 420=%d 10=0 20=0 11=1 21=0")),
		"one endless line":           groups("SECTION 2=ENTITIES") + strings.Repeat("x", 3*megabyte),
		"blank lines":                groups("SECTION 2=ENTITIES") + strings.Repeat("\n", megabyte),
		"zeroes":                     groups("SECTION 2=ENTITIES") + strings.Repeat("0\n", megabyte/2),
		"braces":                     around("", groups("LINE")+fill("102={A")),
	}
}

// TestBombs reads each bomb within 2 s and 256 MB. One that asks for more than
// a limit allows must be told which.
func TestBombs(t *testing.T) {
	exploding := map[string]string{
		"array of lines": "block copies", "array of texts": "block copies", "tower": "nested inserts",
		"doubling": "block copies", "array of hidden lines": "block copies", "array of a long polyline": "segments",
		"array of a long standstill": "segments", "array of a broken spline": "segments", "one endless line": "bytes in a line",
	}
	names := map[string]string{} // by content
	all := bombs()
	for name, text := range all {
		names[text] = name
	}
	cost.Bound(t, all, func(text string) string {
		d := read(t, text, dxf.Options{})
		limit := ""
		f := found(d, drawing.LimitReached)
		if f != nil {
			limit = f.Limit
		}
		if want := exploding[names[text]]; want != "" && limit != want {
			t.Errorf("%s: limit %q, want %q", names[text], limit, want)
		}
		return fmt.Sprintf("%d shapes, limit %q", len(d.Shapes), limit)
	})
}

// TestReferenceFilesAreCheap holds every file of the reference material to the
// bounds of the bombs.
func TestReferenceFilesAreCheap(t *testing.T) {
	files := map[string]string{}
	for name := range refFiles(t) {
		files[name] = string(refData(t, name))
	}
	cost.Bound(t, files, func(text string) string {
		return fmt.Sprintf("%d shapes", len(read(t, text, dxf.Options{}).Shapes))
	})
}
