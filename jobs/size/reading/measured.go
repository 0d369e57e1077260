package reading

import (
	"math"

	"knifedesk/jobs/size/evidence"
)

// Bounds of looking for a unit in which rectangles are drawn to measure: people draw
// plates of whole millimetres, and no other unit makes whole ones of them by chance.
const (
	mostMeasured  = 8    // rectangles that are looked at, the largest
	leastMeasured = 3    // mm of a side
	measuredSlack = 2e-3 // mm: numbers are written with few digits
	nearlyWhole   = 0.05 // mm: pages are written in whole hundredths of an inch, and all on them is a little off
)

// Measured returns the reading by which all large rectangles of the work have whole
// millimetres, where none of them has round measures as the file reads.
func (c *Scales) Measured(all []Reading) (Reading, bool) {
	quads := plates(c)
	if len(quads) == 0 || roundAsRead(c, quads) {
		return Reading{}, false
	}
	for _, r := range all {
		if r.Cause == None || !r.FitsStock || !r.Plausible {
			continue
		}
		whole := true
		for _, q := range quads {
			whole = whole && inSteps(q, r.X, 1, measuredSlack) && math.Min(q.U, q.V)*r.X > leastMeasured
		}
		if whole {
			return r, true
		}
	}
	return Reading{}, false
}

// apieces reports whether the rectangles of the work are drawn to measure as the file
// reads and fit the stock each by itself, as pieces do that are drawn side by side.
func apieces(c *Scales) bool {
	quads := plates(c)
	for _, q := range quads {
		if !Fits(c.Stock, q.U*c.File.MM, q.V*c.File.MM) {
			return false
		}
	}
	return len(quads) > 1 && roundAsRead(c, quads)
}

// plates are the largest rectangles that are no frame by their layer.
func plates(c *Scales) []*evidence.Quad {
	var out []*evidence.Quad
	for i := range c.Survey.Quads {
		if q := &c.Survey.Quads[i]; len(out) < mostMeasured && !c.Survey.OnFrameLayer(q) {
			out = append(out, q)
		}
	}
	return out
}

// roundAsRead reports whether any of the rectangles has round measures as the file
// reads: about whole millimetres, tenths of one, eighths of an inch, or halves of the
// file's own unit, of a large one tenths.
func roundAsRead(c *Scales, quads []*evidence.Quad) bool {
	mm := c.File.MM
	own := PerNumber(c.Survey.Drawing.Unit) * mm
	if own > 10 {
		own /= 10
	} else {
		own /= 2
	}
	for _, q := range quads {
		if inSteps(q, mm, 1, nearlyWhole) || inSteps(q, mm, 0.1, measuredSlack) || inSteps(q, mm, 25.4/8, measuredSlack) || inSteps(q, mm, own, measuredSlack) {
			return true
		}
	}
	return false
}

// InSteps reports whether both sides of a rectangle are whole numbers of steps
// of that many mm as the file reads, as of what is drawn to measure.
func (c *Scales) InSteps(f *evidence.Frame, step float64) bool {
	return inSteps(&f.Quad, c.File.MM, step, 1e-3)
}

// inSteps reports whether both sides of a rectangle are whole numbers of steps at k mm
// for one drawing unit, but for slack in mm.
func inSteps(q *evidence.Quad, k, step, slack float64) bool {
	off := func(side float64) float64 { return math.Abs(math.Remainder(side*k, step)) }
	return q.Skew*k <= slack && off(q.U) < slack && off(q.V) < slack
}
