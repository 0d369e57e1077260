package class

import (
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/workshop"
)

// Group is what lies on common loads of one stock: the digest of the results that
// say how. Members are named in it by their codes.
type Group struct {
	Stock       string            `json:"stock"` // its ID
	StockName   string            `json:"stock_name"`
	Form        workshop.Form     `json:"form"`
	Machine     string            `json:"machine"` // its ID
	Hold        workshop.Hold     `json:"hold"`
	Mats        int               `json:"mats"` // of the machine that hold the stock, 1 without
	Loads       []GroupLoad       `json:"loads"`
	Left        []string          `json:"left,omitempty"` // codes of members that fit on no sheet
	Findings    []finding.Finding `json:"findings,omitempty"`
	Currency    string            `json:"currency"`
	MinorDigits int32             `json:"minor_digits"`
	Nested      *layout.Nested    `json:"nested,omitempty"` // where nesting was asked for
}

// GroupLoad is one load of a group.
type GroupLoad struct {
	Number    int               `json:"number"` // in the group, from 1
	Sheets    int               `json:"sheets,omitempty"`
	RollMM    float64           `json:"roll_mm,omitempty"`
	Placed    []Placed          `json:"placed"`
	Time      estimate.LoadTime `json:"time"`
	CostMinor int64             `json:"cost_minor"` // of all that lies on it
}

// Placed is what a load holds of one member, and what that costs.
type Placed struct {
	Code      string `json:"code"`
	Copies    int    `json:"copies"`
	CostMinor int64  `json:"cost_minor"`
}

// GroupOf gathers a group from its results. The cost of the whole is divided among the
// loads, and that of a load among what lies on it, by area; each sums exactly. p and e
// are nil where nothing was laid.
func GroupOf(r *plan.Request, s *share.Share, p *passes.Plan, e *estimate.Estimate) *Group {
	g := &Group{Stock: r.Stock.ID, StockName: r.Stock.Name, Form: r.Stock.Form, Machine: r.Machine.ID, Hold: r.Stock.Hold, Mats: matsFor(r), Loads: []GroupLoad{}, Findings: s.Findings, Nested: s.Nested}
	for _, portion := range s.Shares {
		if portion.Left {
			g.Left = append(g.Left, portion.Code)
		}
	}
	if p == nil || e == nil {
		return g
	}
	g.Currency, g.MinorDigits = e.Currency, e.MinorDigits
	g.Findings = append(append(g.Findings, p.Findings...), e.Findings...)
	areas := make([]int64, len(s.Loads))
	for i := range s.Loads {
		for _, at := range s.Loads[i].Places {
			areas[i] += areaOf(at)
		}
	}
	costs := share.Divide(e.TotalMinor, areas)
	for i := range s.Loads {
		l := GroupLoad{Number: s.Loads[i].Number, Placed: placedOn(&s.Loads[i], costs[i]), CostMinor: costs[i], Time: e.Loads[i]}
		if g.Form == workshop.Roll {
			l.RollMM = s.Loads[i].LengthMM
		} else {
			l.Sheets = max(1, len(s.Loads[i].Sheets))
		}
		g.Loads = append(g.Loads, l)
	}
	return g
}

// areaOf is what a copy takes of a load, in hundredths of mm².
func areaOf(at layout.MemberPlace) int64 {
	return int64(100*at.Bounds.Width()*at.Bounds.Height() + 0.5)
}

// placedOn adds up what a load holds of each member, in the order of their codes as
// they lie.
func placedOn(l *layout.Load, cost int64) []Placed {
	var all []Placed
	var areas []int64
	at := map[string]int{}
	for _, p := range l.Places {
		i, ok := at[p.Code]
		if !ok {
			i = len(all)
			at[p.Code] = i
			all, areas = append(all, Placed{Code: p.Code}), append(areas, 0)
		}
		all[i].Copies++
		areas[i] += areaOf(p)
	}
	for i, c := range share.Divide(cost, areas) {
		all[i].CostMinor = c
	}
	return all
}

// matsFor is how many mats of the machine take the stock, 1 where it has none for it.
func matsFor(r *plan.Request) int {
	n := 0
	for _, mat := range r.Machine.Mats {
		if r.Stock.Hold == workshop.Mat && mat.Tack == r.Stock.MatTack {
			n++
		}
	}
	return max(1, n)
}

// LoadsOf lists the loads that hold something of a member.
func (g *Group) LoadsOf(code string) []int {
	var loads []int
	for _, l := range g.Loads {
		for _, p := range l.Placed {
			if p.Code == code {
				loads = append(loads, l.Number)
			}
		}
	}
	return loads
}
