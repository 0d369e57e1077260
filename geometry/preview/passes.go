package preview

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/geometry/pass"
	"knifedesk/geometry/weed"
)

// Passes draws one load with its passes in order: where the knife comes down,
// how it travels between, and the setting of each pass.
func Passes(pp *pass.Plan, l *nest.Layout, m *weed.Map, load int) (*Picture, error) {
	ld, err := pick(l, load)
	if err != nil {
		return nil, err
	}
	if load > len(pp.Loads) {
		return nil, fmt.Errorf("preview: load %d has no passes", load)
	}
	passes := pp.Loads[load-1].Passes
	stock := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(ld.WidthMM, ld.LengthMM))
	p := newPage("Passes", fmt.Sprintf("load %d of %d, %d passes in this order", load, len(l.Loads), len(passes)), stock)
	p.show(style{stroke: faint, width: 1}, stock.Path())
	place := map[int]geometry.Affine{}
	for _, pl := range ld.Placements {
		place[pl.Copy] = pl.Transform
	}
	for _, ps := range passes {
		st := strokeStyle(ps.Operation)
		var ends []geometry.Point
		for _, r := range ps.Runs {
			path := m.Strokes[r.Stroke].Path.Transform(place[r.Copy])
			p.show(thinner(st), path)
			ends = append(ends, r.At)
		}
		p.travel(ends)
	}
	all := p.runNumbers(passes)
	p.scaleBar()
	p.passLegend(passes, all)
	return p.finish(), nil
}

// travel draws the way of the lifted knife from start to start.
func (p *page) travel(starts []geometry.Point) {
	if len(starts) > 1 && len(starts) < 2000 {
		p.show(style{stroke: faint, width: 0.7, dash: []float64{1, 3}}, geometry.Polyline(starts...))
	}
}

// runNumbers marks where the knife comes down and numbers as many runs as stay
// readable, the first and the last of a pass before the others.
func (p *page) runNumbers(passes []pass.Pass) (all bool) {
	all = true
	n := 0
	for _, ps := range passes {
		ink := strokeStyle(ps.Operation).stroke
		number := func(i int) {
			q := p.view.Apply(ps.Runs[i].At)
			p.draw(style{fill: ink}, geometry.Circle(q, 2))
			if p.crowded(q) {
				all = false
				return
			}
			p.badge(ps.Runs[i].At, 0, n+i+1, style{stroke: ink, fill: paper})
		}
		last := len(ps.Runs) - 1
		for _, i := range []int{0, last} {
			if i >= 0 {
				number(i)
			}
		}
		for i := 1; i < last; i++ {
			number(i)
		}
		n += len(ps.Runs)
	}
	return all
}

// crowded reports whether a number at q would stand among others.
func (p *page) crowded(q geometry.Point) bool {
	near := geometry.BoxAround(q).Grow(26)
	for _, t := range p.taken {
		if near.Overlaps(t) {
			return true
		}
	}
	return false
}

func (p *page) passLegend(passes []pass.Pass, all bool) {
	n := 0
	for i, ps := range passes {
		first := n + 1
		n += len(ps.Runs)
		s := ps.Setting
		text := fmt.Sprintf("pass %d, %s (runs %d to %d): %s gf, %s mm/s, %d×; %s mm in %s s",
			i+1, operationName(ps.Operation), first, n, trim(s.ForceGF), trim(s.SpeedMMS), max(s.Passes, 1), trim(ps.CutMM), trim(ps.MotionS))
		p.legend(text, p.lineSwatch(strokeStyle(ps.Operation)))
	}
	p.legend("way of the lifted knife, from start to start", p.lineSwatch(style{stroke: faint, width: 0.9, dash: []float64{1, 3}}))
	if !all {
		p.paragraph(pageMargin, "A dot is where the knife comes down. Not every run has room for its number.")
	}
}
