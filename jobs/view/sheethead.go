package view

import (
	"fmt"
	"strings"

	"github.com/boombuler/barcode/qr"
)

// codeSide is how large the square code is, in mm.
const codeSide = 25.0

// head names the load, the stock and the plan.
func (s *sheet) head(load int) error {
	r := s.about.Request
	s.y = sheetMargin
	s.text(19, true)
	const right = 60.0
	s.line(sheetMargin, column-right, 8.5, titleOf(s, load))
	s.text(13, true)
	s.line(sheetMargin, column-right, 6.5, legible(r.Stock.Name, r.Stock.ID))
	s.text(11, false)
	s.line(sheetMargin, column-right, 5.5, s.name())
	y := s.y
	s.y = sheetMargin
	edge := sheetEndX
	if s.about.Link != "" {
		if err := s.code(sheetEndX-codeSide, sheetMargin, s.about.Link); err != nil {
			return err
		}
		edge -= codeSide + 3
	}
	s.text(smallSize, false)
	for i, l := range []string{"plan", s.shortCode(), s.date()} {
		s.text(smallSize, false)
		if i == 1 {
			s.text(14, true)
		}
		height := []float64{4, 6.5, 4}[i]
		s.SetXY(edge-right+codeSide, s.y)
		s.CellFormat(right-codeSide, height, l, "", 0, "R", false, 0, "")
		s.y += height
	}
	s.y = max(y, sheetMargin+codeSide-1.5)
	return nil
}

// titleOf names the load, its panel and its film.
func titleOf(s *sheet, load int) string {
	title := "Worksheet"
	if n := len(s.view.Passes.Loads); n > 1 {
		title = fmt.Sprintf("Worksheet: load %d of %d", load+1, n)
	} else if s.about.Load > 0 {
		title = fmt.Sprintf("Worksheet: load %d", s.about.Load)
	}
	if p := s.view.Layout.PanelOf(&s.view.Layout.Loads[load]); p != nil {
		title += ", panel " + p.Code
	}
	if of := stackOf(s.view); of != nil {
		title += fmt.Sprintf(", film %d of %d", of.Place, len(of.Films))
	}
	return title
}

// name is what the client calls the work, or what the plan is called where that
// cannot be printed.
func (s *sheet) name() string {
	if n := legible(s.about.Reference); n != "" {
		return "for " + n
	}
	return "plan " + s.about.Plan
}

// shortCode is the plan's name as far as people say it.
func (s *sheet) shortCode() string {
	code, _, _ := strings.Cut(s.about.Plan, "-")
	return code
}

func (s *sheet) date() string {
	if s.about.Made.IsZero() {
		return ""
	}
	return s.about.Made.UTC().Format("2 January 2006")
}

// code draws the square code of an address (ISO/IEC 18004), with room for a fold or a
// stain: a seventh of it may be lost.
func (s *pen) code(x, y float64, address string) error {
	square, err := qr.Encode(address, qr.M, qr.Auto)
	if err != nil {
		return fmt.Errorf("view: an address as a code: %w", err)
	}
	n := square.Bounds().Dx()
	side := codeSide / float64(n)
	s.SetFillColor(0, 0, 0)
	for row := range n {
		for from := 0; from < n; from++ {
			to := from
			for to < n && isBlack(square.At(to, row).RGBA()) {
				to++
			}
			if to > from {
				s.Rect(x+float64(from)*side, y+float64(row)*side, float64(to-from)*side, side, "F")
				from = to
			}
		}
	}
	return nil
}

func isBlack(r, _, _, _ uint32) bool { return r < 0x8000 }
