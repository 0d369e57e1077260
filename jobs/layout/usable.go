package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// endless is the usable length of a roll, in mm: longer than any layout.
const endless = 1e6

// area is where copies may lie, in the coordinates of a load.
type area struct {
	box   geometry.Box
	roll  bool
	mat   workshop.MatSize
	whole bool // the mat carries the whole sheet
	notes []finding.Finding
}

// usable returns where copies of a piece may lie: the stock less its margins, lead
// and lanes, narrowed to what the machine cuts and the mat carries. A piece that the
// margins leave no room for may come nearer to the edges, where the stock lets it.
func (l *Layout) usable(piece Piece, req Request) area {
	a := within(req)
	if s := req.Stock; s.Form != workshop.Roll && s.LeastMarginMM > 0 && !a.holds(piece.Bounds) {
		near := req
		near.Stock.UsableWidthMM = math.Max(s.UsableWidthMM, s.WidthMM-2*s.LeastMarginMM)
		near.Stock.MarginMM = math.Min(s.MarginMM, s.LeastMarginMM)
		if b := within(near); b.holds(piece.Bounds) {
			a = b
			a.note(finding.NearEdge, finding.Values{
				"stock": finding.Text(s.Name), "margin_mm": finding.Num(s.MarginMM), "least_mm": finding.Num(s.LeastMarginMM),
			})
		}
	}
	l.Findings = append(l.Findings, a.notes...)
	return a
}

func (a *area) note(code finding.Code, values finding.Values) {
	a.notes = append(a.notes, finding.New(code, 1, values))
}

// fitSlack is how much larger than the area a piece may be, in mm: sizes are taken
// to the nearest µm.
const fitSlack = 0.0005

// takes reports whether a rectangle fits as it is turned.
func (a area) takes(width, length float64) bool {
	return width <= a.box.Width()+fitSlack && length <= a.box.Height()+fitSlack
}

// holds reports whether a box fits in either turn.
func (a area) holds(b geometry.Box) bool {
	return a.takes(b.Width(), b.Height()) || a.takes(b.Height(), b.Width())
}

// within returns the stock less its margins, lead and lanes, narrowed to what the
// machine cuts and the mat carries.
func within(req Request) area {
	s, m := req.Stock, req.Machine
	side := (s.WidthMM - s.UsableWidthMM) / 2
	a := area{roll: s.Form == workshop.Roll}
	a.box = geometry.Box{
		Min: geometry.Pt(side, s.MarginMM),
		Max: geometry.Pt(side+s.UsableWidthMM, s.LengthMM-s.MarginMM),
	}
	if a.roll {
		length := endless
		if s.LongestRunMM > 0 {
			length = math.Max(0, s.LongestRunMM-s.LeadMM-s.TailMM)
		}
		a.box.Min.Y, a.box.Max.Y = s.LeadMM, s.LeadMM+length
	}
	if m.WidthMM > 0 && m.WidthMM < a.box.Width() {
		a.note(finding.MachineNarrower, finding.Values{
			"stock": finding.Text(s.Name), "usable_mm": finding.Num(s.UsableWidthMM), "machine": finding.Text(m.Name), "machine_mm": finding.Num(m.WidthMM),
		})
		a.narrow(s.WidthMM, m.WidthMM)
	}
	if s.Hold == workshop.Mat {
		a.onMat(req)
	}
	return a
}

// narrow keeps the middle of the stock, width mm of it.
func (a *area) narrow(stock, width float64) {
	a.box.Min.X = math.Max(a.box.Min.X, (stock-width)/2)
	a.box.Max.X = math.Min(a.box.Max.X, (stock+width)/2)
}
