package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// checkMachine says what of the stock, the layout and the strokes the machine
// or the hold does not allow.
func (p *Plan) checkMachine(b *budget.Budget, strokes []artwork.Stroke, laid *layout.Layout, req Request) {
	s, m := req.Stock, req.Machine
	values := finding.Values{"stock": finding.Text(s.Name), "machine": finding.Text(m.Name)}
	if m.MaxCaliperUM > 0 && s.CaliperUM > m.MaxCaliperUM {
		p.find(finding.CaliperOverMachine, values, finding.Values{"caliper_um": finding.Num(s.CaliperUM), "limit_um": finding.Num(m.MaxCaliperUM)})
	}
	if span := widestSpan(b, laid); m.WidthMM > 0 && span > m.WidthMM+1e-6 {
		p.find(finding.WiderThanMachine, values, finding.Values{"span_mm": finding.Num(span), "limit_mm": finding.Num(m.WidthMM)})
	}
	if s.Hold == workshop.Rollers {
		var places []finding.Place
		for _, part := range partsOf(laid, strokes) {
			for _, one := range part {
				if one.Operation == artwork.ThroughCut {
					b.Spend(len(one.Path.Segments))
					places = append(places, placeOf(one))
				}
			}
		}
		if len(places) > 0 {
			p.Findings = append(p.Findings, finding.New(finding.ThroughWithoutMat, len(places), values, places...))
		}
	}
	p.checkGrain(b, strokes, laid, s)
}

func placeOf(s artwork.Stroke) finding.Place {
	pl := finding.Place{Box: s.Path.Bounds(), Layer: s.Layer}
	if len(s.Sources) > 0 {
		pl.Source = s.Sources[0].String()
	}
	return pl
}

func widestSpan(b *budget.Budget, laid *layout.Layout) float64 {
	widest := 0.0
	for _, load := range laid.Loads {
		box := geometry.EmptyBox()
		for _, at := range load.Placements {
			b.Step()
			box = box.Union(at.Bounds)
		}
		widest = math.Max(widest, box.Width())
	}
	return widest
}

// checkGrain looks for scores that run more across the grain than along it, on
// the copies as they lie, and whether they would lie better turned.
func (p *Plan) checkGrain(b *budget.Budget, strokes []artwork.Stroke, laid *layout.Layout, s workshop.Stock) {
	if !s.FoldsMindGrain() {
		return
	}
	total, turnedOn := 0.0, 0.0
	var places []finding.Place
	for part, strokes := range partsOf(laid, strokes) {
		turns := turnsOf(b, laid, part)
		for _, one := range strokes {
			if one.Operation != artwork.Score {
				continue
			}
			cracks := false
			for _, turn := range turns {
				b.Spend(2 * len(one.Path.Segments))
				path := one.Path.Transform(turn.Transform)
				turnedOn += path.LengthAcross(*s.GrainDeg+90) * float64(turn.copies)
				if mm := path.LengthAcross(*s.GrainDeg); mm > 0.5 {
					total += mm * float64(turn.copies)
					cracks = true
				}
			}
			if cracks {
				places = append(places, placeOf(one))
			}
		}
	}
	if len(places) == 0 {
		return
	}
	p.Findings = append(p.Findings, finding.New(finding.ScoreAcrossGrain, len(places),
		finding.Values{"stock": finding.Text(s.Name), "across_mm": finding.Num(total), "advice": finding.Text(grainAdvice(turnedOn < total))}, places...))
}

// grainAdvice says what helps against folds across the grain. The layout turns a
// piece where that helps and fits, so what would lie better turned did not fit.
func grainAdvice(betterTurned bool) string {
	if betterTurned {
		return "turned by 90° they would crack less, but that does not fit, so choose a larger sheet, or have the folds scored twice"
	}
	return "turning the drawing does not help, so have the folds scored twice, and fold slowly"
}

// turned is one way in which copies lie, and how many of them.
type turned struct {
	Transform geometry.Affine
	copies    int
}

// turnsOf lists the ways copies of a part lie, by its number among partsOf, without where.
func turnsOf(b *budget.Budget, laid *layout.Layout, part int) []turned {
	var all []turned
	for _, load := range laid.Loads {
		if max(0, load.Map-1) != part {
			continue
		}
	next:
		for _, at := range load.Placements {
			b.Spend(1 + len(all))
			m := at.Transform
			m.E, m.F = 0, 0
			for i := range all {
				if all[i].Transform == m {
					all[i].copies++
					continue next
				}
			}
			all = append(all, turned{Transform: m, copies: 1})
		}
	}
	return all
}
