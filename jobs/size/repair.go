package size

import (
	"cmp"
	"context"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
	"knifedesk/jobs/workshop"
)

// Codes of causes that no mix-up of units stands behind.
const (
	None          = reading.None
	DeclaredFrame = reading.DeclaredFrame
	DeclaredUnit  = reading.DeclaredUnit
	DeclaredScale = reading.DeclaredScale
	KnownLengthIs = reading.KnownLengthIs
	Answered      = reading.Answered
	Stretched     = reading.Stretched
	Unsettled     = reading.Unsettled
)

// Repair recovers the true size of d, or asks one question about it, by the
// table of decide.Decide. While a question is open the result holds the file's
// own reading. It never changes d.
//
// The error is a *RequestError for a request that cannot be used, a *FrameError,
// or that of ctx where it has ended; what is wrong with the drawing is a finding.
func Repair(ctx context.Context, d *drawing.Drawing, req Request) (res *Result, err error) {
	if err := req.Check(); err != nil {
		return nil, err
	}
	var fault error
	err = budget.Run(ctx, func(b *budget.Budget) {
		q := newInquiry(b, d, req)
		res = repair(q)
		fault = q.fault
	})
	if err = cmp.Or(err, fault); err != nil {
		return nil, err
	}
	return res, nil
}

// inquiry is a drawing that was surveyed, and what is asked about it.
type inquiry struct {
	clues
	tell    words
	scales  *reading.Scales // as the caller gave the unit or scale; otherwise file
	whole   evidence.Work   // all that is drawn but for the frame layers
	onLayer []Part          // all that is drawn on the frame layers
	fault   error           // of the program: the result is not what was decided
}

func newInquiry(b *budget.Budget, d *drawing.Drawing, req Request) *inquiry {
	sizes := req.sizes()
	q := &inquiry{clues: clues{Survey: evidence.Look(b, d, req.layers()), req: req}}
	q.file = reading.NewScales(q.Survey, d.Unit, req.Stock, sizes)
	q.file.SheetFirst = req.FrameIsSheet
	if declared, ok := reading.Declared(req.Frame, sizes); ok && !req.unframed() {
		q.file.Declared = &declared
		q.file.Sizes = reading.AddSize(q.file.Sizes, declared)
	}
	if named, ok := reading.Declared(frameOnLayer(q.Survey), sizes); ok { // known by its name, and not declared
		q.file.Sizes = reading.AddSize(q.file.Sizes, named)
		q.file.Said = &named
	}
	q.scales, q.tell = q.file, words{d.Unit, q.file.File}
	if k, ok := q.unitGiven(); ok {
		q.scales = q.file.Bound(k)
	}
	rest := make([]evidence.Item, 0, len(q.Items))
	for _, it := range q.Items {
		b.Step()
		if it.OnFrame {
			q.onLayer = append(q.onLayer, Part{Shape: it.Shape, Path: it.Path})
		} else {
			rest = append(rest, it)
		}
	}
	q.whole = evidence.WorkOf(b, rest)
	return q
}

// frameOnLayer is the size in mm that the layer of what is drawn as the frame has in
// its name; empty where it has none, or where layers say different things.
func frameOnLayer(s *evidence.Survey) string {
	said := ""
	for _, it := range s.Items {
		s.Budget.Step()
		if !it.OnFrame {
			continue
		}
		_, size, ok := workshop.FrameSize(s.Drawing.Shapes[it.Shape].Layer)
		if !ok || said != "" && said != size {
			return ""
		}
		said = size
	}
	return said
}

// unitGiven returns the mm for one drawing unit that the caller gave.
func (q *inquiry) unitGiven() (float64, bool) {
	per := reading.PerNumber(q.Drawing.Unit)
	if q.req.Scale > 0 {
		return q.req.Scale / per, true
	}
	if u, ok := reading.UnitNamed(q.req.Unit); ok && q.req.Unit != "" {
		return u.MM / per, true
	}
	return 0, false
}

func repair(q *inquiry) *Result {
	if len(q.Items) == 0 {
		return q.nothing()
	}
	if q.req.unframed() {
		return q.result(q.judge(nil))
	}
	if p := pagesOf(q); len(p.frames) > 1 {
		return p.settled()
	}
	return withAside(q, q.judge(q.Candidates()))
}

// nothing is the result for a drawing without a line in it.
func (q *inquiry) nothing() *Result {
	mm := q.file.File.MM
	return &Result{
		Transform: geometry.Scale(mm, mm), X: mm, Y: mm, Cause: Unsettled,
		Why:      "There is nothing drawn that could be measured.",
		Findings: []finding.Finding{finding.New(finding.NothingDrawn, 1, nil)},
	}
}

// result settles or asks what was judged of the drawing as a whole.
func (q *inquiry) result(c *judged) *Result {
	if c.frame != nil && len(c.frame.Border) > 0 && q.req.Replies[BorderQuestionID].Answer == AnswerFrameOnly {
		q.TakeBorder(c.frame)
	}
	return q.report(c, replied(q, c, settle(q, c)))
}

// report carries an outcome out.
func (q *inquiry) report(c *judged, o outcome) *Result {
	res := &Result{Cause: o.cause, Why: o.why, ResidualMM: o.residual, Known: o.known}
	res.Findings = findings(q, c, &o)
	res.X, res.Y = o.x, o.y
	res.Transform = geometry.Scale(o.x, o.y)
	res.WidthMM, res.HeightMM = q.whole.Size(max(o.x, o.y))
	res.FrameParts = q.onLayer
	if f := c.frame; f != nil {
		res.Transform = f.Stretch(o.x, o.y)
		res.Frame = &Frame{
			Name: o.frame, SideUnits: f.Sides(), SideMM: [2]float64{f.U * o.x, f.V * o.y}, TurnDeg: degrees(f.Turn), Corners: f.Corners,
		}
		if !o.piece {
			res.WidthMM, res.HeightMM = q.Measure(f, o.x, o.y)
			res.FrameParts = f.Parts
		}
	}
	if o.named != nil && o.ask == nil {
		q.fault = res.prove(*o.named)
	}
	if q.req.off(MendFrame) {
		res.FrameParts = nil
	}
	for i := range o.weighed {
		res.Hypotheses = append(res.Hypotheses, hypothesis(q, &o.weighed[i]))
	}
	if o.ask != nil {
		res.Questions = append(res.Questions, question(q, c, &o))
	} else {
		q.checkExtent(res)
	}
	sideQuestions(q, c, &o, res)
	return res
}

// checkExtent refuses work that no stock and no region map can hold: geometry
// as far as 100 m can be mapped, the weed border included.
func (q *inquiry) checkExtent(res *Result) {
	const mostMM = 99_000
	if res.WidthMM <= mostMM && res.HeightMM <= mostMM {
		return
	}
	res.Findings = append(res.Findings, finding.New(finding.DrawingTooLarge, 1, finding.Values{
		"width_m": finding.Num(res.WidthMM / 1000), "height_m": finding.Num(res.HeightMM / 1000), "most_m": finding.Int(mostMM / 1000),
	}, finding.Place{Box: q.Bounds}))
}

// hasReading reports whether any of the readings passes.
func hasReading(all []reading.Reading, pass func(*reading.Reading) bool) bool {
	return slices.ContainsFunc(all, func(r reading.Reading) bool { return pass(&r) })
}
