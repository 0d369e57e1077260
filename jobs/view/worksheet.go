package view

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/workshop"
)

// About names the plan on its worksheet.
type About struct {
	Plan      string
	Drawing   string    // the file's name
	Reference string    // the client's
	Made      time.Time // zero: not shown
	Request   *plan.Request
}

// made is the date that the file bears. Where it is not known the library would
// ask the clock, and no two files would be alike.
func (a About) made() time.Time {
	if a.Made.IsZero() {
		return time.Unix(0, 0).UTC()
	}
	return a.Made.UTC()
}

// Measures of the worksheet in mm.
const (
	sheetWidth  = 210.0
	sheetHeight = 297.0
	sheetMargin = 12.0
	column      = sheetWidth - 2*sheetMargin
)

// mapScale is how many pixels the weeding map has for one of its page: enough
// for print.
const mapScale = 2

// Worksheet writes one A4 page for the bench as PDF, of work in panels one for each: what is cut from what, a
// checklist, the passes, the weeding map and the cautions. The same plan gives
// the same bytes. It fails before there are passes, and with the errors of w and
// ctx.
func (v *Results) Worksheet(ctx context.Context, w io.Writer, about About) error {
	if v.Weeding == nil || v.Passes == nil {
		return fmt.Errorf("view: a worksheet needs passes")
	}
	s := &sheet{Fpdf: fpdf.New("P", "mm", "A4", ""), view: v, about: about}
	s.SetCreationDate(about.made())
	s.SetModificationDate(about.made())
	s.SetCatalogSort(true)
	s.SetTitle("Worksheet "+about.Plan, true)
	s.AddUTF8FontFromBytes("go", "", goregular.TTF)
	s.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	s.SetMargins(sheetMargin, sheetMargin, sheetMargin)
	s.SetAutoPageBreak(false, 0)
	for _, panel := range v.panels() {
		s.panel = panel
		if err := s.page(ctx); err != nil {
			return err
		}
	}
	return s.Output(w)
}

type sheet struct {
	*fpdf.Fpdf
	view  *Results
	about About
	panel int // that the page is about, from 1; 0: the piece
}

// page writes the page of a panel, or of the piece.
func (s *sheet) page(ctx context.Context) error {
	weedingMap, err := picture.Weeding(ctx, s.weeding())
	if err != nil {
		return err
	}
	png, err := weedingMap.PNG(ctx, mapScale)
	if err != nil {
		return err
	}
	s.AddPage()
	s.head()
	s.facts()
	s.passes()
	s.checklist()
	cautions := s.cautionLines()
	s.picture(png, weedingMap.Width, weedingMap.Height, sheetHeight-sheetMargin-float64(len(cautions))*3.6-8)
	s.cautions(cautions)
	return nil
}

// CellFormat writes a text as far as the font and the cell have room for it:
// names come from outside, and the library fails on letters past U+FFFF.
func (s *sheet) CellFormat(w, h float64, text, border string, ln int, align string, fill bool, link int, linkText string) {
	s.Fpdf.CellFormat(w, h, s.fit(written(text), w), border, ln, align, fill, link, linkText)
}

// fit shortens a text to a width in mm.
func (s *sheet) fit(text string, width float64) string {
	room := width - 2*s.GetCellMargin()
	if s.GetStringWidth(text) <= room {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && s.GetStringWidth(string(runes)+"…") > room {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// written puts a question mark for each letter that the font lacks.
func written(text string) string {
	return strings.Map(func(r rune) rune {
		if !figure.Writes(r) || r > 0xffff {
			return '?'
		}
		return r
	}, text)
}

func (s *sheet) text(size float64, bold bool) {
	weight := ""
	if bold {
		weight = "B"
	}
	s.SetFont("go", weight, size)
}

func (s *sheet) head() {
	s.text(17, true)
	title := "Worksheet"
	if code := s.weeding().Panel; code != "" {
		title += ", panel " + code
	}
	s.CellFormat(column*0.6, 8, title, "", 0, "L", false, 0, "")
	s.text(8, false)
	s.CellFormat(column*0.4, 4, "plan "+s.about.Plan, "", 2, "R", false, 0, "")
	made := ""
	if !s.about.Made.IsZero() {
		made = s.about.Made.UTC().Format("2 January 2006")
	}
	s.CellFormat(column*0.4, 4, made, "", 1, "R", false, 0, "")
	s.text(10, false)
	name := s.about.Drawing
	if s.about.Reference != "" {
		name = strings.TrimPrefix(name+", "+s.about.Reference, ", ")
	}
	s.CellFormat(column, 5, name, "", 1, "L", false, 0, "")
	s.Ln(1)
}

func (s *sheet) facts() {
	r := s.about.Request
	rows := [][2]string{
		{"Stock", r.Stock.Name},
		{"Hold", holdText(r.Stock)},
		{"Machine", r.Machine.Name},
	}
	if z := OfSize(s.view.Size).Size; z != nil {
		rows = append(rows, [2]string{"Size", fmt.Sprintf("%s × %s mm, copies: %d, loads: %d", short(z.WidthMM), short(z.HeightMM), r.Copies, len(s.view.Layout.Loads))})
	}
	rows = append(rows, s.panelRows()...)
	if u := s.view.Layout.Usage; r.Stock.Form == workshop.Roll {
		issue := short(u.RollMM) + " mm of roll, no tape"
		if u.TapeM > 0 {
			issue = short(u.RollMM) + " mm of roll, " + tapeText(&u)
		}
		rows = append(rows, [2]string{"Issue", issue})
	} else {
		rows = append(rows, [2]string{"Issue", fmt.Sprintf("sheets: %d", u.Sheets)})
	}
	if e := s.view.Estimate; e != nil {
		rows = append(rows, [2]string{"Time", fmt.Sprintf("cutter %.0f min (%.0f to %.0f), bench %.0f min (%.0f to %.0f)",
			e.CutterMin.Likely, e.CutterMin.Low, e.CutterMin.High, e.BenchMin.Likely, e.BenchMin.Low, e.BenchMin.High)})
	}
	rows = append(rows, [2]string{"Files", filesText(s.view.Passes)})
	for _, row := range rows {
		s.text(9, true)
		s.CellFormat(20, 4.6, row[0], "", 0, "L", false, 0, "")
		s.text(9, false)
		s.CellFormat(column-20, 4.6, row[1], "", 1, "L", false, 0, "")
	}
	s.Ln(2)
}

func holdText(s workshop.Stock) string {
	if s.Hold == workshop.Mat {
		return fmt.Sprintf("on a mat of %s tack", s.MatTack)
	}
	return "straight in the rollers, both on the film"
}

// testText says what a good test cut looks like: on film the liner stays whole,
// and a material without one is cut through; only what is scored is folded.
func testText(stock workshop.Stock, p *passes.Plan) string {
	if stock.Liner {
		return "Test cut made and good: half-moon lifts, keyhole stays, liner marked and not cut"
	}
	text := "Test cut made and good: half-moon falls out without fibres, keyhole stays"
	for _, l := range p.Loads {
		for _, ps := range l.Passes {
			if ps.Operation == artwork.Score {
				return text + ", fold does not crack"
			}
		}
	}
	return text
}

// checklist says what to tick off, by how the stock is held.
func (s *sheet) checklist() {
	stock := s.about.Request.Stock
	items := []string{"Stock is the one above, clean, loaded square"}
	if stock.Hold == workshop.Rollers {
		items = append(items, "Both rollers on the film, slack off, space behind clear; runs over 1 m fed out and back dry")
	} else {
		items = append(items, "Pressed flat on the mat, no lifted corner")
	}
	items = append(items, testText(stock, s.view.Passes))
	if s.view.Layout.Mirrored {
		items = append(items, "Mirrored: text reads backwards on the screen")
	}
	if fold := foldText(OfPasses(s.view.Passes).Passes, s.view.Layout.Mirrored); fold != "" {
		items = append(items, fold)
	}
	items = append(items, toldItems(s.view.Passes.Loads)...)
	items = append(items, s.panelItems()...)
	if risk := s.view.Weeding.Risk; risk != "" {
		items = append(items, risk)
	}
	items = append(items, "Before unloading: one corner lifted in the waste; not through: cut again in place")
	s.text(8.5, false)
	for _, item := range items {
		y := s.GetY()
		s.Rect(sheetMargin, y+0.8, 3, 3, "D")
		s.SetX(sheetMargin + 5)
		s.CellFormat(column-5, 4.6, item, "", 1, "L", false, 0, "")
	}
	s.Ln(1.5)
}

// picture places a PNG of the given proportion as large as it fits above the
// line at bottom.
func (s *sheet) picture(png []byte, w, h, bottom float64) {
	name := fmt.Sprintf("map %d", s.panel)
	s.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "PNG"}, bytes.NewReader(png))
	width := math.Min(column, (bottom-s.GetY())*w/h)
	s.ImageOptions(name, sheetMargin+(column-width)/2, s.GetY(), width, 0, false, fpdf.ImageOptions{ImageType: "PNG"}, 0, "")
	s.SetY(bottom)
}

func (s *sheet) cautionLines() []string {
	s.text(7.5, false)
	return s.SplitText(strings.Join(Cautions(s.about.Request.Stock.Family), " "), column)
}

func (s *sheet) cautions(lines []string) {
	s.text(8, true)
	s.CellFormat(column, 4.5, "Cautions", "T", 1, "L", false, 0, "")
	s.text(7.5, false)
	for _, l := range lines {
		s.CellFormat(column, 3.6, l, "", 1, "L", false, 0, "")
	}
}
