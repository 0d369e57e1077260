package size

import (
	"context"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
)

// Repair recovers the true size of d, or asks one question about it.
//
// It never changes d. A size is accepted without asking only where a frame and
// a named cause leave at most 0.05 mm on both axes at the far corner, every
// rival leaves more than 0.5 mm or has no named cause, and the work fits the
// stock; where the frame was declared and both axes agree within 0.05 mm, unless
// it has the round measures of a piece and only the convention declares it;
// where the caller gave the unit, the scale or a length; or where there is no
// frame and the file states its unit, which comes with a warning. Otherwise
// the result holds a question, and the file's own reading until it is answered.
//
// The error is a *RequestError for a request that cannot be used, or that of
// ctx where it has ended; what is wrong with the drawing is a finding.
func Repair(ctx context.Context, d *drawing.Drawing, req Request) (res *Result, err error) {
	stopped := budget.Run(ctx, func(b *budget.Budget) {
		var j *judge
		if j, err = newJudge(b, d, req); err == nil {
			res = j.repair()
		}
	})
	if stopped != nil {
		return nil, stopped
	}
	return res, err
}

func (j *judge) repair() *Result {
	if !j.drawn() {
		return j.nothing()
	}
	var f *framed
	if !j.req.unframed() {
		f = j.certain(j.pick())
	}
	if f != nil {
		j.border(f)
	}
	v := j.replied(j.settle(f), f)
	return j.result(v, f)
}

// drawn reports whether any path has a length.
func (j *judge) drawn() bool {
	return slices.ContainsFunc(j.items, func(it item) bool { return it.box.Min != it.box.Max })
}

// nothing is the result for a drawing without a line in it.
func (j *judge) nothing() *Result {
	return &Result{
		Transform: geometry.Scale(j.file.mm, j.file.mm), X: j.file.mm, Y: j.file.mm, Cause: Unsettled,
		Why:      "There is nothing drawn that could be measured.",
		Findings: []finding.Finding{finding.New(finding.NothingDrawn, 1, nil)},
	}
}

// certain drops a rectangle that is only suspected of being the frame where
// what the caller gave shows that it is a part of the work: at the factor that
// follows it has no named size.
func (j *judge) certain(f *framed) *framed {
	given := j.req.Scale > 0 || j.req.KnownLength != nil || j.req.Unit != ""
	if f == nil || !given || f.byLayer || j.declared != nil {
		return f
	}
	if j.provenFrame(f) {
		return f
	}
	k := j.settle(f).x
	for _, s := range j.sizes {
		if left := j.left(f, s, k, k); math.Max(left[0], left[1]) <= rivalMM {
			return f
		}
	}
	return nil
}

// result carries the verdict out.
func (j *judge) result(v verdict, f *framed) *Result {
	res := &Result{Cause: v.cause, Why: v.why, ResidualMM: v.residual}
	res.Findings = j.findings(&v, f)
	res.X, res.Y = v.x, v.y
	res.Transform = geometry.Scale(v.x, v.y)
	res.WidthMM, res.HeightMM = j.whole.bounds.Width()*v.x, j.whole.bounds.Height()*v.y
	res.FrameParts = j.onLayer
	if f != nil {
		res.Transform = f.stretch(v.x, v.y)
		res.Frame = f.report(&v)
		if !j.pieces(f, &v) {
			res.WidthMM, res.HeightMM = f.measure(j.survey, v.x, v.y)
			res.FrameParts = f.parts
		}
	}
	if j.req.off(MendFrame) {
		res.FrameParts = nil
	}
	for i := range v.readings {
		r := &v.readings[i]
		r.Evidence = j.evidence(r)
		res.Hypotheses = append(res.Hypotheses, r.Hypothesis)
	}
	if v.ask != nil {
		res.Questions = append(res.Questions, j.question(v, f))
	} else {
		j.checkExtent(res)
	}
	j.sideQuestions(res, &v, f)
	return res
}

// checkExtent refuses work that no stock and no region map can hold: geometry
// as far as 100 m can be mapped, the weed border included.
func (j *judge) checkExtent(res *Result) {
	const mostMM = 99_000
	if res.WidthMM <= mostMM && res.HeightMM <= mostMM {
		return
	}
	res.Findings = append(res.Findings, finding.New(finding.DrawingTooLarge, 1, finding.Values{
		"width_m": finding.Num(res.WidthMM / 1000), "height_m": finding.Num(res.HeightMM / 1000), "most_m": finding.Int(mostMM / 1000),
	}, finding.Place{Box: j.whole.bounds}))
}

// sideQuestions adds what has to be asked beside the size.
func (j *judge) sideQuestions(res *Result, v *verdict, f *framed) {
	if f != nil {
		if q, n, ok := j.askBorder(f, v); ok {
			res.Questions, res.Findings = append(res.Questions, q), append(res.Findings, n)
		}
		if q, n, ok := j.askPiece(f, v); ok {
			res.Questions, res.Findings = append(res.Questions, q), append(res.Findings, n)
		}
	}
	q, n := j.askNested()
	if q != nil {
		res.Questions = append(res.Questions, *q)
	}
	if n != nil {
		res.Findings = append(res.Findings, *n)
	}
}

// report describes the frame under a verdict.
func (f *framed) report(v *verdict) *Frame {
	return &Frame{
		Name: v.size, SideUnits: f.sides(), SideMM: [2]float64{f.u * v.x, f.v * v.y},
		TurnDeg: f.turn * 180 / math.Pi, Corners: f.corners,
	}
}
