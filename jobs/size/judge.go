package size

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// judged is a drawing with the verdict on it.
type judged struct {
	frame    *evidence.Frame   // nil: no rectangle comes into question
	readings []reading.Reading // of the frame, the best first
	bent     bent              // what else it may be, where it fits no size
	verdict  decide.Verdict
	given    float64           // mm for one drawing unit where the caller's word settles it, 0 where it does not
	told     []reading.Reading // that by which the dimensions are right, where they say more than what is drawn
}

// The slack with which a rectangle still counts as a spoiled frame of a size.
const (
	edited     = 0.30 // one side has a named factor, the other was stretched or edited
	stretchTop = 0.12 // a declared frame, stretched
	suspicious = 0.08 // the ratio alone
	skewMM     = 0.12 // opposite sides or diagonals apart: noise of 0.02 mm a corner stays below
)

// judge makes the verdict on the first of the rectangles that is more than a part
// of the work. What lies in a plate is a part of it too, unless a named cause
// proves it a frame.
func (q *inquiry) judge(all []*evidence.Frame) *judged {
	if q.file.Declared != nil && !q.req.given() {
		return q.byDeclared(all)
	}
	var plates []geometry.Box
	for i, f := range all {
		b := f.Quad.Bounds()
		inPlate := slices.ContainsFunc(plates, func(p geometry.Box) bool { return p.ContainsBox(b) })
		if inPlate && !q.proven(f) && !f.OnLayer {
			continue
		}
		if c := q.weigh(f); c.verdict.Role != decide.Part {
			if in := q.inBorder(f, all[i+1:]); in != nil {
				c = q.weigh(in)
			}
			return c
		}
		plates = append(plates, b)
	}
	if c := besideWork(q, plates); c != nil {
		return c
	}
	return q.unframed()
}

// besideWork judges the rectangle of a paper's size that holds closed work and has more
// beside it than what overhangs a frame: a frame or a piece. nil: there is none.
func besideWork(q *inquiry, plates []geometry.Box) *judged {
	if !q.file.Stated || q.req.unframed() {
		return nil
	}
	mm := q.file.File.MM
	for i := range q.Quads {
		quad := &q.Quads[i]
		b := quad.Bounds()
		inPlate := slices.ContainsFunc(plates, func(p geometry.Box) bool { return p.ContainsBox(b) })
		if inPlate || !q.file.IsPage(quad.U*mm, quad.V*mm) {
			continue
		}
		if c := q.weigh(q.Surround(*quad)); c.verdict.Role == decide.Open && q.holdsClosed(c.frame) {
			return c
		}
	}
	return nil
}

// holdsClosed reports whether closed work lies wholly in a frame.
func (q *clues) holdsClosed(f *evidence.Frame) bool {
	b := f.Quad.Bounds()
	inside := slices.DeleteFunc(slices.Clone(f.Work.Items), func(it evidence.Item) bool { return !b.ContainsBox(it.Box) })
	w := evidence.WorkOf(q.Budget, inside)
	return q.Closed(&w)
}

// byDeclared judges the rectangle that has about the shape which the caller
// declared, round the work or beside it.
func (q *inquiry) byDeclared(all []*evidence.Frame) *judged {
	for i, f := range all {
		if !f.OnLayer && !reading.RatioNear(f, *q.file.Declared, stretchTop) {
			continue
		}
		if in := q.inBorder(f, all[i+1:]); in != nil {
			f = in
		}
		return q.weigh(f)
	}
	for i := range q.Quads {
		f := q.Surround(q.Quads[i])
		box := f.Work.At(math.Inf(1))
		if len(f.Work.Items) == 0 || box.ContainsBox(f.Quad.Bounds()) || q.file.Apart(f, *q.file.Declared) > reading.AcceptMM {
			continue
		}
		f.Beside = true
		return q.weigh(f)
	}
	return q.unframed()
}

// unframed is the verdict on a drawing without a rectangle to go by.
func (q *inquiry) unframed() *judged {
	c := &judged{}
	c.given, _ = q.wordOn(nil)
	c.verdict = verdict(q, c, q.facts(c))
	return c
}

// verdict decides, when it has heard what the dimensions say of the size that the file
// or its frame would have.
func verdict(q *inquiry, c *judged, facts decide.Facts) decide.Verdict {
	k := q.file.File.MM
	if all := c.readings; len(all) > 0 && all[0].HasCause() && all[0].Sure() {
		k = all[0].X
	}
	told, tale := reading.Told(q.file, q.work(c.frame), k)
	facts.Told, facts.Backed = tale == reading.Against, tale == reading.Agreed && !q.file.Stated
	if facts.Told || facts.Backed {
		c.told = []reading.Reading{told}
	}
	return decide.Decide(facts)
}

// weigh makes the verdict on one rectangle.
func (q *inquiry) weigh(f *evidence.Frame) *judged {
	c := &judged{frame: f}
	scales := q.scales
	if k, ok := q.wordOn(f); ok {
		c.given, scales = k, q.file.Bound(k)
	}
	c.readings = scales.Weigh(f)
	facts := q.facts(c)
	if both := q.apart(f, c.given); both != nil {
		c.readings, facts.Apart = both, true
	}
	facts.Rect = q.rect(c, scales)
	c.verdict = verdict(q, c, facts)
	return c
}

// apart returns what the caller said of a frame where it said two things that do not
// agree: its size, and what settles the size of the drawing at k mm for one drawing
// unit. nil: it said one thing, or they agree, or the rectangle is not the frame meant.
func (q *clues) apart(f *evidence.Frame, k float64) []reading.Reading {
	d := q.file.Declared
	if d == nil || k == 0 || q.file.Apart(f, *d) > reading.AcceptMM || broken(f, d.Long/f.Longest()) {
		return nil
	}
	if left := q.file.Left(f, *d, k, k); math.Max(left[0], left[1]) <= reading.AcceptMM {
		return nil
	}
	return []reading.Reading{q.file.AsDeclared(f), q.file.AsGiven(f, k)}
}

// facts are those that do not hang on a rectangle.
func (q *inquiry) facts(c *judged) decide.Facts {
	w, k := &q.whole, q.file.File.MM
	_, measured := q.file.Measured(q.file.Unframed(w))
	return decide.Facts{
		Measured: measured,
		Given:    c.given > 0, Declared: q.file.Declared != nil, Stated: q.file.Stated,
		Paged: q.file.Page != "", AsRead: w.Plausible(k) && q.fitsStock(w, k),
	}
}

// wordOn returns the mm for one drawing unit by what the caller gave, if f is
// the frame; nil: there is none.
func (q *inquiry) wordOn(f *evidence.Frame) (float64, bool) {
	if k, ok := q.unitGiven(); ok {
		return k, true
	}
	if q.req.KnownLength == nil {
		return 0, false
	}
	return q.lengthFactor(f, *q.req.KnownLength)
}

// inBorder returns the frame just inside f where f itself has no size and is
// only a border round it, such as a bleed; nil otherwise. That f has the shape of a size
// by a factor without a name says less than that the frame in it has one by a cause.
func (q *inquiry) inBorder(f *evidence.Frame, all []*evidence.Frame) *evidence.Frame {
	const (
		near = 0.9  // of the sides of f
		same = 2e-3 // what lies nearer is the same loose lines, put together otherwise
	)
	if hasReading(q.file.Weigh(f), func(r *reading.Reading) bool { return r.HasCause() && r.Sure() }) {
		return nil
	}
	b := f.Quad.Bounds()
	for _, in := range all {
		c, inner := in.Quad.Bounds(), b
		if f.Loose || in.Loose {
			inner = b.Grow(-same * f.Longest())
		}
		if !in.Missing && inner.ContainsBox(c) && c.Width() > near*b.Width() && c.Height() > near*b.Height() && q.proven(in) {
			return in
		}
	}
	return nil
}

// bent is what a rectangle may be that has no paper's size.
type bent struct {
	code     finding.Code
	readings []reading.Reading // the answers, ranked
}
