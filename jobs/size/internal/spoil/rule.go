package spoil

import (
	"fmt"
	"math"

	"knifedesk/jobs/workshop"
)

// The bounds of the decision rule, in mm at true size (design, "True size").
const (
	acceptMM = 0.05
	rivalMM  = 0.5
)

// named lists the factors in mm that have a name for a file that reads in mm
// per unit: the file's own, other units, and units taken for one another.
func named(mm float64) []float64 {
	all := []float64{mm, 1, inch, 10, 1000, point, pixel, old}
	for _, k := range [...]float64{inch, 10, 1000, point, pixel, 96.0 / 72, 96.0 / 90} {
		all = append(all, mm*k, mm/k)
	}
	return all
}

// hypothesis is a size and a factor that explain the frame.
type hypothesis struct {
	paper  string
	factor float64
	left   float64 // mm, on the worse axis
}

// hypotheses lists what explains the frame by a named cause within mm.
func (m *maker) hypotheses(within float64) []hypothesis {
	w, h := m.page.w*m.sx/m.mmPer, m.page.h*m.sy/m.mmPer
	short, long := math.Min(w, h), math.Max(w, h)
	var out []hypothesis
	for _, p := range papers {
		for _, k := range named(m.c.Drawing.Unit.MM) {
			left := math.Max(math.Abs(short*k-p.w), math.Abs(long*k-p.h))
			if left <= within && !known(out, k) {
				out = append(out, hypothesis{p.name, k, left})
			}
		}
	}
	return out
}

func known(all []hypothesis, k float64) bool {
	for _, h := range all {
		if math.Abs(h.factor/k-1) < 1e-9 {
			return true
		}
	}
	return false
}

// judge writes down whether the evidence allows only one reading. A declared
// frame does, as long as no other size fits by a named cause; any other frame
// does where one named cause leaves at most acceptMM, no other rivalMM, and the
// page fits the stock.
func (m *maker) judge() {
	t := &m.c.Truth
	if !t.Framed || !t.Intact {
		t.Rule = "no intact frame"
		return
	}
	sure, all := m.hypotheses(acceptMM), m.hypotheses(rivalMM)
	if t.Declared {
		t.Unambiguous = true
		for _, h := range sure {
			if h.paper != m.page.name && !known(m.ownHypotheses(sure), m.mmPer) {
				t.Unambiguous = false
			}
		}
		t.Rule = fmt.Sprintf("declared %s; by named causes it fits %v", m.page.name, sure)
		return
	}
	t.Unambiguous = len(sure) == 1 && len(all) == 1 && m.onStock()
	t.Rule = fmt.Sprintf("within %g mm by named causes: %v; within %g mm: %v; on the stock: %v", acceptMM, sure, rivalMM, all, m.onStock())
}

// ownHypotheses keeps those of the page's own size.
func (m *maker) ownHypotheses(all []hypothesis) []hypothesis {
	var out []hypothesis
	for _, h := range all {
		if h.paper == m.page.name {
			out = append(out, h)
		}
	}
	return out
}

func (m *maker) onStock() bool {
	s := m.c.Request.Stock
	short, long := math.Min(m.page.w, m.page.h), math.Max(m.page.w, m.page.h)
	if s.Form == workshop.Roll {
		return short <= s.WidthMM
	}
	return short <= s.WidthMM && long <= s.LengthMM
}
