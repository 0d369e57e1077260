package view_test

import (
	"bytes"
	"encoding/xml"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/view"
)

// word is a word of a page as poppler finds it, in points from the upper left.
type word struct {
	X1   float64 `xml:"xMin,attr"`
	Y1   float64 `xml:"yMin,attr"`
	X2   float64 `xml:"xMax,attr"`
	Y2   float64 `xml:"yMax,attr"`
	Text string  `xml:",chardata"`
}

// printed is a worksheet as poppler reads it.
type printed struct {
	file  []byte
	pages []page
}

// page is the text of one page.
type page struct {
	raw   string   // in the order in which it is written
	words []word   // in the same order
	rows  [][]word // from the top, each from the left
}

// made is the date on the worksheets of these tests.
var made = time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC)

// printOf writes a worksheet and reads its pages with an independent program.
func printOf(t *testing.T, p *planned) printed {
	t.Helper()
	var file bytes.Buffer
	about := view.About{Plan: "b2c1-77", Reference: "bay 4", Link: "https://cutters.example/#b2c1-77", Made: made, Request: p.request}
	if err := p.Worksheet(t.Context(), &file, about); err != nil {
		t.Fatal(err)
	}
	return readPrint(t, file.Bytes())
}

func readPrint(t *testing.T, file []byte) printed {
	t.Helper()
	var doc struct {
		Pages []struct {
			Words []word `xml:"word"`
		} `xml:"body>doc>page"`
	}
	tool := reference.Tool(t, "pdftotext")
	text := run(t, tool, file, "-raw", "-bbox", "-", "-")
	text = text[strings.Index(text, "<html"):] // the document type before it is not XML's
	if err := xml.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	out := printed{file: file}
	raw := strings.Split(run(t, tool, file, "-raw", "-", "-"), "\f")
	for i, p := range doc.Pages {
		out.pages = append(out.pages, page{raw[i], p.Words, rowsOf(slices.Clone(p.Words))})
	}
	return out
}

// rowsOf groups words whose middles lie within 3 points of each other.
func rowsOf(words []word) [][]word {
	middle := func(w word) float64 { return (w.Y1 + w.Y2) / 2 }
	slices.SortStableFunc(words, func(a, b word) int { return int(math.Copysign(1, middle(a)-middle(b))) })
	var rows [][]word
	for _, w := range words {
		if n := len(rows); n == 0 || middle(w)-middle(rows[n-1][0]) > 3 {
			rows = append(rows, nil)
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], w)
	}
	for _, r := range rows {
		slices.SortStableFunc(r, func(a, b word) int { return int(math.Copysign(1, a.X1-b.X1)) })
	}
	return rows
}

func joined(words []word) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = w.Text
	}
	return strings.Join(all, " ")
}

// text is all pages, a line a row.
func (p printed) text() string {
	var b strings.Builder
	for _, page := range p.pages {
		for _, r := range page.rows {
			b.WriteString(joined(r) + "\n")
		}
	}
	return b.String()
}

// fact returns what stands beside a label of the first page, in the order in which it
// is written.
func (p printed) fact(t *testing.T, label string) string {
	t.Helper()
	for _, l := range strings.Split(p.pages[0].raw, "\n") {
		if text, ok := strings.CutPrefix(l, label+" "); ok {
			return text
		}
	}
	t.Errorf("there is no %s on the page:\n%s", label, p.pages[0].raw)
	return ""
}

var numeral = regexp.MustCompile(`\d+(\.\d+)?`)

// numbers lists the numbers of a text.
func numbers(text string) (all []float64) {
	for _, n := range numeral.FindAllString(text, -1) {
		v, _ := strconv.ParseFloat(n, 64)
		all = append(all, v)
	}
	return all
}
