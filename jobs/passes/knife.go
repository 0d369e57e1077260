package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// leastDashes is how many times the offset of the blade a dash should be at
// least (common practice, no source).
const leastDashes = 4

// checkKnife says what the knife will not cut cleanly.
func (p *Plan) checkKnife(b *budget.Budget, strokes []artwork.Stroke, steps []step, stock workshop.Stock) {
	for _, st := range steps {
		offset := st.rule.OffsetMM
		if offset <= 0 {
			continue
		}
		values := finding.Values{"offset_mm": finding.Num(offset), "blade": finding.Text(st.blade)}
		if least := leastDashes * offset; st.rule.DashMM > 0 && st.rule.DashMM < least-1e-9 {
			p.find(finding.ShortDash, values, finding.Values{"dash_mm": finding.Num(st.rule.DashMM), "least_mm": finding.Num(least)})
		}
		p.checkCurves(b, strokes, &st, values)
		p.checkCorners(b, strokes, &st, stock)
	}
}

// thickUM is the caliper from which a blade that is dragged round a sharp corner tears
// the material instead of bending it aside (common practice, no source).
const thickUM = 250

// checkCorners looks for corners in thick stock that are sharper than the angle of the
// setting, and at which nothing lifts and turns the blade.
func (p *Plan) checkCorners(b *budget.Budget, strokes []artwork.Stroke, st *step, stock workshop.Stock) {
	below := st.set.LiftBelowDeg
	if st.set.Operation != artwork.ThroughCut || stock.CaliperUM < thickUM || below <= 0 || st.rule.LiftBelowDeg > 0 {
		return
	}
	var places []finding.Place
	least := below
	for _, i := range st.members {
		for _, k := range knife.Sharp(b, strokes[i].Path, below) {
			least = math.Min(least, k.Deg)
			place := placeOf(strokes[i])
			place.Box = geometry.BoxAround(k.At).Grow(1)
			places = append(places, place)
		}
	}
	if len(places) > 0 {
		p.Findings = append(p.Findings, finding.New(finding.SharpCorner, len(places), finding.Values{
			"below_deg": finding.Num(below), "least_deg": finding.Num(math.Round(least)), "stock": finding.Text(stock.Name), "caliper_um": finding.Num(stock.CaliperUM),
		}, places...))
	}
}

// checkCurves looks for curves that are tighter than the blade trails.
func (p *Plan) checkCurves(b *budget.Budget, strokes []artwork.Stroke, st *step, values finding.Values) {
	var places []finding.Place
	least := math.Inf(1)
	for _, i := range st.members {
		radius, at := knife.Tightest(b, strokes[i].Path)
		if radius >= st.rule.OffsetMM-1e-6 {
			continue
		}
		least = math.Min(least, radius)
		place := placeOf(strokes[i])
		place.Box = geometry.BoxAround(at).Grow(st.rule.OffsetMM)
		places = append(places, place)
	}
	if len(places) > 0 {
		values["least_mm"] = finding.Num(math.Round(least*1e3) / 1e3)
		p.Findings = append(p.Findings, finding.New(finding.TightCurve, len(places), values, places...))
	}
}

// tellLeadIns says where a blade cannot be turned in waste.
func (p *Plan) tellLeadIns() {
	for _, load := range p.Loads {
		for _, pass := range load.Passes {
			if pass.Rule.InFile().OffsetMM > 0 && pass.LeadIn == nil && pass.LeadInAlone == nil {
				p.find(finding.NoLeadIn, nil, finding.Values{
					"load": finding.Num(float64(load.Number)), "pass": finding.Num(float64(pass.Number)), "length_mm": finding.Num(toolpath.LeadInLength(pass.Rule.OffsetMM)),
				})
				return
			}
		}
	}
}
