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

// printed is the text of a worksheet.
type printed struct {
	file []byte
	rows [][]word // from the top, each from the left
}

// made is the date on the worksheets of these tests.
var made = time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC)

// printOf writes a worksheet and reads its page with an independent program.
func printOf(t *testing.T, p *planned) printed {
	t.Helper()
	var file bytes.Buffer
	about := view.About{Plan: "b2c1", Drawing: "plate.svg", Reference: "bay 4", Made: made, Request: p.request}
	if err := p.Worksheet(t.Context(), &file, about); err != nil {
		t.Fatal(err)
	}
	var page struct {
		Words []word `xml:"body>doc>page>word"`
	}
	text := run(t, reference.Tool(t, "pdftotext"), file.Bytes(), "-bbox", "-", "-")
	text = text[strings.Index(text, "<html"):] // the document type before it is not XML's
	if err := xml.Unmarshal([]byte(text), &page); err != nil {
		t.Fatal(err)
	}
	return printed{file.Bytes(), rowsOf(page.Words)}
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

// text is the whole page, a line a row.
func (p printed) text() string {
	var b strings.Builder
	for _, r := range p.rows {
		b.WriteString(joined(r) + "\n")
	}
	return b.String()
}

// fact returns what stands beside a label at the left edge.
func (p printed) fact(t *testing.T, label string) string {
	t.Helper()
	for _, r := range p.rows {
		if r[0].Text == label {
			return joined(r[1:])
		}
	}
	t.Errorf("there is no %s on the page:\n%s", label, p.text())
	return ""
}

// table returns the cells below a row of titles, down to the first row that
// does not begin with a number. Its columns meet midway between the titles'
// neighbouring ends, as their texts are centred.
func (p printed) table(t *testing.T, titles ...string) [][]string {
	t.Helper()
	for i, r := range p.rows {
		if joined(r) != strings.Join(titles, " ") {
			continue
		}
		centres := centresOf(r, titles)
		var rows [][]string
		for _, r := range p.rows[i+1:] {
			if _, err := strconv.Atoi(r[0].Text); err != nil {
				break
			}
			rows = append(rows, cells(r, centres))
		}
		return rows
	}
	t.Errorf("there is no table %v on the page:\n%s", titles, p.text())
	return nil
}

// centresOf returns where the middle of each title lies; one may have several words.
func centresOf(header []word, titles []string) []float64 {
	var centres []float64
	for _, title := range titles {
		n := len(strings.Fields(title))
		centres = append(centres, (header[0].X1+header[n-1].X2)/2)
		header = header[n:]
	}
	return centres
}

// cells puts the words of a row together where they stand a space apart, and
// under the title that their middle is nearest to.
func cells(row []word, centres []float64) []string {
	out := make([]string, len(centres))
	for len(row) > 0 {
		n := 1
		for n < len(row) && row[n].X1-row[n-1].X2 < 3 {
			n++
		}
		middle, at := (row[0].X1+row[n-1].X2)/2, 0
		for i, c := range centres {
			if math.Abs(c-middle) < math.Abs(centres[at]-middle) {
				at = i
			}
		}
		out[at] += joined(row[:n])
		row = row[n:]
	}
	return out
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
