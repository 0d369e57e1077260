package view

import (
	"math"
	"strconv"

	"codeberg.org/go-pdf/fpdf"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// picture prints a picture in lines and letters of grey, its upper left corner at x
// and y in mm, smaller than its own size where it is higher than that.
func (s *pen) picture(p *figure.Picture, x, y, height float64) error {
	scale := math.Min(figure.PrintMM, height/p.Height)
	to := &press{Fpdf: s.Fpdf, x: x, y: y, scale: scale}
	err := p.Send(s.ctx, to)
	s.SetDrawColor(0, 0, 0)
	s.SetFillColor(0, 0, 0)
	s.SetTextColor(0, 0, 0)
	s.SetDashPattern(nil, 0)
	return err
}

// press prints the figures of a picture on a page.
type press struct {
	*fpdf.Fpdf
	x, y, scale float64 // of the picture's upper left corner in mm, and mm for a pixel
	clipped     bool
}

func (p *press) at(q geometry.Point) (x, y float64) { return p.x + q.X*p.scale, p.y + q.Y*p.scale }

// Clip hides what follows outside of the box.
func (p *press) Clip(box *geometry.Box) {
	if p.clipped {
		p.ClipEnd()
	}
	if p.clipped = box != nil; p.clipped {
		x, y := p.at(box.Min)
		p.ClipRect(x, y, box.Width()*p.scale, box.Height()*p.scale, false)
	}
}

// Ink draws polylines in grey.
func (p *press) Ink(lines [][]geometry.Point, s figure.Style) {
	how := ""
	if s.Stroke != "" {
		g := grey(s.Stroke)
		p.SetDrawColor(g, g, g)
		p.SetLineWidth(s.Width * p.scale)
		p.SetLineCapStyle("round")
		p.SetLineJoinStyle("round")
		dash := make([]float64, len(s.Dash))
		for i, d := range s.Dash {
			dash[i] = d * p.scale
		}
		p.SetDashPattern(dash, 0)
		how = "D"
	}
	if s.Fill != "" {
		g := grey(s.Fill)
		p.SetFillColor(g, g, g)
		how = "F" + how + "*"
	}
	drawn := false
	for _, l := range lines {
		if len(l) < 2 {
			continue
		}
		drawn = true
		p.MoveTo(p.at(l[0]))
		for _, q := range l[1:] {
			p.LineTo(p.at(q))
		}
		if len(l) > 2 && l[0] == l[len(l)-1] {
			p.ClosePath()
		}
	}
	if drawn {
		p.DrawPath(how)
	}
}

// Write writes a text in grey.
func (p *press) Write(at geometry.Point, size float64, bold, centred bool, ink, text string) {
	weight := ""
	if bold {
		weight = "B"
	}
	p.SetFont("go", weight, 0)
	p.SetFontUnitSize(size * p.scale)
	g := grey(ink)
	p.SetTextColor(g, g, g)
	x, y := p.at(at)
	text = written(text)
	if centred {
		x -= p.GetStringWidth(text) / 2
	}
	p.Text(x, y, text)
}

// grey returns the lightness of #rrggbb as a paper print has it, 0 to 255, by the
// weights of ITU-R BT.709.
func grey(hex string) int {
	v, _ := strconv.ParseUint(hex[1:], 16, 24) // all inks are part of the program
	return int(math.Round(0.2126*float64(v>>16) + 0.7152*float64(v>>8&255) + 0.0722*float64(v&255)))
}
