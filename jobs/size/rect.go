package size

import (
	"math"

	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// clues are what a rectangle is looked at with.
type clues struct {
	*evidence.Survey
	req  Request
	file *reading.Scales // as the file reads
}

// rect gathers the facts about a rectangle, as it is weighed by scales.
func (q *clues) rect(c *judged, scales *reading.Scales) *decide.Rect {
	f, read := c.frame, scales.File.MM
	r := &decide.Rect{
		OnFrameLayer: f.OnLayer, LooksCut: q.LooksCut(f), Closed: q.Closed(&f.Work), Empty: len(f.Work.Items) == 0, Beside: f.Beside,
		Fit: q.fit(c, scales), Sound: !f.Missing,
		CutAsRead: q.canCut(f, read), Ruled: scales.InSteps(f, 0.1) || scales.InSteps(f, 25.4/8),
		Ground: q.ground(f), Margins: q.margins(f), WorkFits: f.Work.Plausible(read) && q.fitsStock(&f.Work, read),
	}
	if r.Fit <= decide.Near && c.given == 0 || q.file.Declared != nil {
		c.bent = q.bend(f, c.readings)
		r.Bent = c.bent.code
	}
	if q.req.KnownLength != nil {
		r.CutAsRead = false // the length was turned into a size as that of work inside a frame
	}
	if len(c.readings) == 0 {
		return r
	}
	best := &c.readings[0]
	r.CutAsFit, r.Metric = q.canCut(f, best.Factor()), best.Metric
	r.FitsStock = best.FitsStock && best.Plausible
	r.Said = q.saidByLayer(f, scales, best)
	r.Agrees = q.file.Declared != nil && best.Size.Same(*q.file.Declared) && best.Sure() && !broken(f, best.Factor())
	r.PagePart = q.OnPage(&f.Quad) == evidence.PagePart && best.Cause != reading.None && !scales.ManyPages
	shrunk := reading.Shrunk(math.Log(best.Factor() / read))
	r.Pointed = best.HasCause() || shrunk || scales.IsSaid(best.Size) || best.Size.Sheet && !(scales.Stated && r.LooksCut && r.CutAsRead)
	return r
}

// saidByLayer reports whether the layer of a frame has the size in its name that the file
// states, as starter files and mended drawings write it.
func (q *clues) saidByLayer(f *evidence.Frame, scales *reading.Scales, best *reading.Reading) bool {
	return f.OnLayer && scales.Stated && best.Cause == reading.None && scales.IsSaid(best.Size)
}

// fit says how a rectangle fits the named sizes. A stated unit that the frame
// confirms stands before all other causes: those would contradict both.
func (q *clues) fit(c *judged, scales *reading.Scales) decide.Fit {
	f, all := c.frame, c.readings
	if c.given > 0 {
		return q.fitGiven(f, scales)
	}
	if len(all) == 0 || broken(f, all[0].Factor()) {
		return q.fitSpoiled(f, all)
	}
	if scales.Stated && q.file.Declared == nil {
		for i := range all {
			if own := all[i]; own.Cause == reading.None && own.Sure() {
				copy(all[1:i+1], all[:i])
				all[0] = own
				return decide.Own
			}
		}
	}
	best := &all[0]
	rival := func(r *reading.Reading) bool { return r.HasCause() && r.Differs(best, f.Far()) }
	switch {
	case best.HasCause() && best.Sure() && hasReading(all, rival):
		return decide.Rivalled
	case best.HasCause() && best.Sure() && best.Cause == reading.None:
		return decide.Own
	case best.HasCause() && best.Sure():
		return decide.Other
	case hasReading(all, (*reading.Reading).Sure):
		return decide.Shape
	}
	return q.fitSpoiled(f, all)
}

// fitGiven says how a rectangle fits where the caller's word settles the size.
func (q *clues) fitGiven(f *evidence.Frame, scales *reading.Scales) decide.Fit {
	k := scales.File.MM
	_, own := scales.At(f, k)
	switch {
	case f.Missing && !f.OnLayer:
		return decide.NoFit
	case own:
		return decide.Own
	case scales.Near(f, k):
		return decide.Near
	case (q.req.KnownLength == nil || !q.LooksCut(f)) && q.proven(f):
		return decide.Other
	case q.req.KnownLength != nil && !q.LooksCut(f) && hasReading(q.file.Weigh(f), (*reading.Reading).Sure):
		return decide.Near // a length that was rounded makes no paper of it, and as a part of the work it changes what was measured
	}
	return decide.NoFit
}

// fitSpoiled tells a frame that was spoiled from a rectangle of the work: with a
// unit stated it needs more than about the shape of a paper where it looks cut,
// and it is no plate drawn to measure.
func (q *clues) fitSpoiled(f *evidence.Frame, all []reading.Reading) decide.Fit {
	oneSide := q.file.OneSide(f, edited)
	switch {
	case f.OnLayer:
		return decide.Near
	case f.Rounded:
		return decide.NoFit
	case len(all) > 0, len(oneSide) > 0 && !q.vouchedFor(f, oneSide):
		return decide.Near
	case q.file.Stated && q.LooksCut(f) && q.canCut(f, q.file.File.MM) && !q.halfNamed(f):
		return decide.NoFit
	}
	rare := func(r *reading.Reading) bool { return r.Size.Rare && q.file.OneAxisNamed(r) }
	if !q.designed(f) && hasReading(q.file.PerAxis(f, stretchTop), rare) {
		return decide.Near
	}
	skewed := f.Skew > 5e-4*f.Longest()
	for _, s := range q.file.Sizes {
		if !s.Rare && (reading.RatioNear(f, s, suspicious) && !q.designed(f) || skewed && reading.RatioNear(f, s, stretchTop)) {
			return decide.Near
		}
	}
	return decide.NoFit
}

// halfNamed reports whether one axis of a rectangle has its size by a named cause
// when it is set right axis by axis.
func (q *clues) halfNamed(f *evidence.Frame) bool {
	return hasReading(q.file.PerAxis(f, edited), q.file.OneAxisNamed)
}

// vouchedFor reports whether a rectangle with one side of a named length may
// be a part of the work: it is far from the shape of a page, the file states
// the unit in which that side has its length, and circles are round.
func (q *clues) vouchedFor(f *evidence.Frame, oneSide []reading.Reading) bool {
	if !q.file.Stated {
		return false
	}
	for _, r := range oneSide {
		if r.Cause != reading.None || reading.RatioNear(f, r.Size, stretchTop) {
			return false
		}
	}
	all := q.file.PerAxis(f, edited)
	return len(all) > 0 && q.staysRound(f, &all[0])
}

// proven reports whether a frame fits a named size by a named cause.
func (q *clues) proven(f *evidence.Frame) bool {
	return !f.Missing && hasReading(q.file.Weigh(f), func(r *reading.Reading) bool { return r.HasCause() && r.Sure() })
}

// designed reports whether the file states its unit and both sides are whole
// mm in it, or whole eighths of an inch, as of a plate drawn to measure.
func (q *clues) designed(f *evidence.Frame) bool {
	return q.file.Stated && (q.file.InSteps(f, 1) || q.file.InSteps(f, 25.4/8))
}

// ownPage reports whether a frame is rather a page of no paper's size than one that was
// spoiled: drawn to measure in the unit that the file states, and the page of the file
// or not exactly of a paper's shape. No cause makes a paper of it, and as it is the work fits.
func (q *clues) ownPage(f *evidence.Frame) bool {
	const noise = 0.02 // mm by which corners that were drawn by hand are off
	off := func(side float64) float64 { return math.Abs(math.Remainder(side*q.file.File.MM, 1)) }
	if !q.file.Stated || !q.designed(f) && math.Max(off(f.U), off(f.V)) > noise || q.proven(f) || f.Missing || !q.fitsStock(&f.Work, q.file.File.MM) {
		return false
	}
	return q.OnPage(&f.Quad) == evidence.PageItself || !hasReading(q.file.Weigh(f), (*reading.Reading).Sure)
}

// canCut reports whether a rectangle could be an edge of the work at a factor:
// the work is plausible, and the rectangle lies on the stock and is not the sheet.
func (q *clues) canCut(f *evidence.Frame, k float64) bool {
	size, named := q.file.At(f, k)
	return f.Work.Plausible(k) && reading.Fits(q.req.Stock, f.U*k, f.V*k) && !(named && size.Sheet)
}

// fitsStock reports whether work lies on the stock at a factor.
func (q *clues) fitsStock(w *evidence.Work, k float64) bool {
	width, height := w.Size(k)
	return reading.Fits(q.req.Stock, width, height)
}

// ground reports whether a rectangle is the painted background of the page, in a
// file that states its unit.
func (q *clues) ground(f *evidence.Frame) bool {
	return q.file.Stated && q.OnPage(&f.Quad) == evidence.PageItself && q.Ground(&f.Quad)
}

// margins reports whether a rectangle keeps an even margin inside a page of a
// named size, in a file that states its unit: the page that the file states, the
// sheet, or any paper where it does not look cut.
func (q *clues) margins(f *evidence.Frame) bool {
	if !q.file.Stated || broken(f, q.file.File.MM) || q.halfNamed(f) {
		return false
	}
	k := q.file.File.MM
	if q.OnPage(&f.Quad) == evidence.PageMargins {
		page := q.Drawing.Page
		return q.file.IsPage(page.Width()*k, page.Height()*k)
	}
	cut := q.LooksCut(f)
	for _, s := range q.file.Sizes {
		a, b := (s.Short-math.Min(f.U, f.V)*k)/2, (s.Long-f.Longest()*k)/2
		if (s.Sheet || !cut && !s.Rare) && math.Abs(a-b) <= reading.AcceptMM && a >= leastMargin && a <= mostMargin {
			return true
		}
	}
	return false
}

// The margins of pages, in mm: common practice, no source.
const leastMargin, mostMargin = 2, 25

// broken reports whether a frame is no rectangle at a factor.
func broken(f *evidence.Frame, factor float64) bool { return f.Missing || f.Skew*factor > skewMM }
