package share

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
)

// portion says what each member takes, and names those that are left out.
func (s *Share) portion(r Request, joint *layout.Joint, batches []layout.Batch) {
	s.Shares = make([]Portion, len(r.Members))
	for i, m := range r.Members {
		s.Shares[i].Member = m
	}
	for i, of := range joint.Of {
		for k, batch := range of {
			p := &s.Shares[batch]
			b := joint.Loads[i].Placements[k].Bounds
			p.AreaMM2 += b.Width() * b.Height()
			if n := joint.Loads[i].Number; len(p.Loads) == 0 || p.Loads[len(p.Loads)-1] != n {
				p.Loads = append(p.Loads, n)
			}
		}
	}
	areas := make([]int64, len(s.Shares))
	for i, p := range s.Shares {
		areas[i] = int64(math.Round(p.AreaMM2 * 100))
	}
	for i, n := range Divide(1_000_000, areas) {
		s.Shares[i].Millionths = n
	}
	for _, i := range joint.Left {
		s.Shares[i].Left = true
		s.leave(r, r.Members[i].Code, batches[i].Piece.Bounds)
	}
}

// leave says that a member fits on no sheet.
func (s *Share) leave(r Request, code string, box geometry.Box) {
	s.Findings = append(s.Findings, finding.New(finding.MemberLeftOut, 1, finding.Values{
		"code": finding.Text(code), "width_mm": finding.Num(box.Width()), "height_mm": finding.Num(box.Height()), "stock": finding.Text(r.Layout.Stock.Name),
		"advice": finding.Text(layout.Advice(box, r.Layout)),
	}))
}
