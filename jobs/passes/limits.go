package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// checkMachine says what of the stock, the layout and the strokes the machine
// or the hold does not allow.
func (p *Plan) checkMachine(strokes []artwork.Stroke, laid *layout.Layout, req Request) {
	s, m := req.Stock, req.Machine
	values := map[string]any{"stock": s.Name, "machine": m.Name}
	if m.MaxCaliperUM > 0 && s.CaliperUM > m.MaxCaliperUM {
		p.find(finding.CaliperOverMachine, values, map[string]any{"caliper_um": s.CaliperUM, "limit_um": m.MaxCaliperUM})
	}
	if span := widestSpan(laid); m.WidthMM > 0 && span > m.WidthMM+1e-6 {
		p.find(finding.WiderThanMachine, values, map[string]any{"span_mm": span, "limit_mm": m.WidthMM})
	}
	if s.Hold == workshop.Rollers {
		var places []finding.Place
		for _, one := range strokes {
			if one.Operation == artwork.ThroughCut {
				places = append(places, placeOf(one))
			}
		}
		if len(places) > 0 {
			p.Findings = append(p.Findings, finding.New(finding.ThroughWithoutMat, len(places), values, places...))
		}
	}
	p.checkGrain(strokes, laid, s)
}

func placeOf(s artwork.Stroke) finding.Place {
	pl := finding.Place{Box: s.Path.Bounds(), Layer: s.Layer}
	if len(s.Sources) > 0 {
		pl.Source = s.Sources[0].String()
	}
	return pl
}

func widestSpan(laid *layout.Layout) float64 {
	widest := 0.0
	for _, load := range laid.Loads {
		box := geometry.EmptyBox()
		for _, at := range load.Placements {
			box = box.Union(at.Bounds)
		}
		widest = math.Max(widest, box.Width())
	}
	return widest
}

// checkGrain looks for scores that run more across the grain than along it, on
// the copies as they lie.
func (p *Plan) checkGrain(strokes []artwork.Stroke, laid *layout.Layout, s workshop.Stock) {
	if s.GrainDeg == nil {
		return
	}
	total, cracking := 0.0, map[int]bool{}
	for _, turn := range turnsOf(laid) {
		for i, one := range strokes {
			if one.Operation != artwork.Score {
				continue
			}
			if mm := AcrossGrain(one.Path.Transform(turn.Transform), *s.GrainDeg); mm > 0.5 {
				total += mm * float64(turn.copies)
				cracking[i] = true
			}
		}
	}
	if len(cracking) == 0 {
		return
	}
	var places []finding.Place
	for i := range strokes {
		if cracking[i] {
			places = append(places, placeOf(strokes[i]))
		}
	}
	p.Findings = append(p.Findings, finding.New(finding.ScoreAcrossGrain, len(places),
		map[string]any{"stock": s.Name, "across_mm": total}, places...))
}

// turned is one way in which copies lie, and how many of them.
type turned struct {
	Transform geometry.Affine
	copies    int
}

// turnsOf lists the ways copies lie, without where.
func turnsOf(laid *layout.Layout) []turned {
	var all []turned
	for _, load := range laid.Loads {
	next:
		for _, at := range load.Placements {
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

// AcrossGrain returns the length of path, in mm, that lies more than 45° off
// the direction of the grain, which is in degrees from the x axis.
func AcrossGrain(path geometry.Path, grainDeg float64) float64 {
	sin, cos := math.Sincos(grainDeg * math.Pi / 180)
	grain := geometry.Pt(cos, sin)
	pts := path.Flatten(0.1)
	total := 0.0
	for i := 1; i < len(pts); i++ {
		d := pts[i].Sub(pts[i-1])
		if math.Abs(d.Cross(grain)) > math.Abs(d.Dot(grain))*(1+1e-9) {
			total += d.Norm()
		}
	}
	return total
}
