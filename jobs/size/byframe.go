package size

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/jobs/finding"
)

// byDeclaredFrame accepts any factor as long as both axes agree. It asks where
// another size fits by a named cause and the declared one does not, and where
// the rectangle may be a part of the work.
func (j *judge) byDeclaredFrame(f *framed) verdict {
	all := j.weigh(f)
	fit := j.declaredFit(f, all)
	switch {
	case fit != nil && fit.hasCause() && !j.byCaller && j.smallOnPage(f, fit):
		return j.asking(&open{code: finding.FrameInPage, readings: all}, all)
	case fit != nil && fit.hasCause():
		return j.accept(f, *fit, all, fit.Cause, "The size is sure: "+j.declaredBy(fit.Frame)+".")
	case j.otherSize(f, fit, all):
		return j.asking(&open{code: finding.FrameNotAsDeclared, readings: all}, all)
	case fit == nil:
		return j.spoiled(f, all)
	case f.whole() && slices.ContainsFunc(all, func(r reading) bool { return r.hasCause() }):
		return j.asking(&open{code: finding.FrameInexact, readings: all}, all)
	case f.beside || j.ownMeasures(f):
		return j.asking(&open{code: finding.SizeUnnamedFactor, readings: all, lengthFirst: true}, all)
	}
	return j.accept(f, *fit, all, DeclaredFrame, fmt.Sprintf("The factor %.6g has no known cause; %s, and both axes agree.", fit.Factor/j.file.mm, j.declaredBy(fit.Frame)))
}

// declaredFit is the reading that gives the frame its declared size, by a named
// cause where there is one; nil where none does.
func (j *judge) declaredFit(f *framed, all []reading) *reading {
	var fit *reading
	for i := range all {
		r := &all[i]
		if !j.isDeclared(r.size) || !r.sure() || j.broken(f, r.Factor) {
			continue
		}
		if fit = r; r.hasCause() {
			break
		}
	}
	return fit
}

// otherSize reports whether the frame has another size than the declared one by
// a named cause, which would make the work of another size too.
func (j *judge) otherSize(f *framed, fit *reading, all []reading) bool {
	return slices.ContainsFunc(all, func(r reading) bool {
		return !j.isDeclared(r.size) && r.hasCause() && r.sure() && (fit == nil || r.differs(fit, j.reachOf(f)))
	})
}

// byFrame applies the decision rule to a frame that nobody declared.
func (j *judge) byFrame(f *framed) verdict {
	all := j.weigh(f)
	if len(all) == 0 || j.broken(f, all[0].Factor) {
		return j.spoiled(f, all)
	}
	best := all[0]
	if !best.hasCause() || !best.sure() {
		return j.unproven(f, all)
	}
	if j.rivalled(f, best, all) {
		return j.asking(&open{code: finding.SizeAmbiguous, readings: all}, all)
	}
	if !best.FitsStock || !best.Plausible {
		return j.asking(&open{code: finding.SizeOffStock, readings: all}, all)
	}
	if j.smallOnPage(f, &best) {
		return j.asking(&open{code: finding.FrameInPage, readings: all}, all)
	}
	return j.accept(f, best, all, best.Cause, "No other size fits by a known cause.")
}

// smallOnPage reports whether a rectangle that is a page only by another unit
// than the file's lies on a page that it does not fill: a piece on a page,
// rather than the frame of the page.
func (j *judge) smallOnPage(f *framed, r *reading) bool {
	const fills = 0.85 // of the page's sides, margins left out
	page := j.drawing.Page
	if page == nil || r.Cause == None || !f.mayBePiece() || len(j.pages) > 1 {
		return false
	}
	b := f.quad.bounds()
	return page.ContainsBox(b) && math.Min(b.Width()/page.Width(), b.Height()/page.Height()) < fills
}

// unproven asks about a frame that no named cause explains within acceptMM.
func (j *judge) unproven(f *framed, all []reading) verdict {
	if !slices.ContainsFunc(all, func(r reading) bool { return r.sure() }) {
		return j.spoiled(f, all)
	}
	all = j.withStretches(f, all)
	return j.asking(&open{code: finding.SizeUnnamedFactor, readings: all, lengthFirst: !j.pointsAt(&all[0])}, all)
}

// withStretches adds the readings that set each axis right, where one of them
// has a named factor: a stretched frame can have the shape of another size.
func (j *judge) withStretches(f *framed, all []reading) []reading {
	for _, r := range j.perAxis(f, stretchTop) {
		if j.oneAxisNamed(&r) {
			all = append(all, r)
		}
	}
	j.rank(f, all)
	return all
}

// pointsAt reports whether more than the shape of the frame speaks for a
// reading: a factor of a fitted page, or the stock's own sheet.
func (j *judge) pointsAt(r *reading) bool {
	return r.hasCause() || r.Cause == Stretched || r.size.sheet || shrunk(math.Log(r.Factor/j.file.mm))
}

// rivalled reports whether another named cause explains the frame within
// rivalMM and would give another size. What the file states and the frame
// confirms has no rival: that would contradict both.
func (j *judge) rivalled(f *framed, best reading, all []reading) bool {
	if j.stated && best.Cause == None {
		return false
	}
	for i := range all {
		if r := &all[i]; r.hasCause() && r.differs(&best, j.reachOf(f)) {
			return true
		}
	}
	return false
}

// reachOf is how far the frame or the artwork reaches, in drawing units.
func (j *judge) reachOf(f *framed) float64 {
	return math.Max(math.Max(f.u, f.v), math.Max(f.reach[0], f.reach[1]))
}

// broken reports whether the frame is no rectangle at that factor.
func (j *judge) broken(f *framed, factor float64) bool {
	return f.missing || f.skew*factor > skewMM
}

// spoiled asks about a frame that fits no size: rounded to whole units,
// stretched on one axis where ellipses show it, edited where circles are round,
// and off the shape of the size where neither tells.
func (j *judge) spoiled(f *framed, all []reading) verdict {
	stretches, oneSide := j.perAxis(f, edited), j.oneSide(f)
	proven := len(all) > 0 && all[0].hasCause() && all[0].sure()
	bent := slices.DeleteFunc(slices.Clone(stretches), func(r reading) bool { return sameFactor(r.x, r.y) })
	o := &open{code: finding.FrameEdited, readings: slices.Concat(all, oneSide, bent), lengthFirst: !proven}
	switch {
	case len(stretches) == 0 || j.broken(f, stretches[0].Factor) || j.staysRound(f, &stretches[0]):
	case len(all) > 0 && all[0].hasCause() && f.whole():
		o = &open{code: finding.FrameInexact, readings: slices.Concat(all, stretches)}
	default:
		o = &open{code: finding.FrameOffShape, readings: slices.Concat(all, stretches)}
		if j.showsStretch(f, &stretches[0]) {
			o.code = finding.FrameStretched
		}
		j.rank(f, o.readings)
		o.readings = append(o.readings, oneSide...)
	}
	return j.asking(o, o.readings)
}

// showsStretch reports whether circles have become ellipses by the factor by
// which the frame is stretched.
func (j *judge) showsStretch(f *framed, stretch *reading) bool {
	stretched, _ := j.roundness(f.work.items, &f.quad, stretch.x, stretch.y)
	return stretched > 0
}

// staysRound reports whether circles contradict that the frame was stretched.
func (j *judge) staysRound(f *framed, stretch *reading) bool {
	stretched, round := j.roundness(f.work.items, &f.quad, stretch.x, stretch.y)
	return round > 0 && stretched == 0
}

// whole reports whether the sides are whole numbers of drawing units, as
// programs write that round a page to points or pixels.
func (f *framed) whole() bool {
	return math.Abs(f.u-math.Round(f.u)) < 1e-6 && math.Abs(f.v-math.Round(f.v)) < 1e-6
}

// accept makes a reading of the frame the verdict.
func (j *judge) accept(f *framed, r reading, weighed []reading, cause, because string) verdict {
	return verdict{
		x: r.x, y: r.y, cause: cause, size: r.Frame, residual: r.ResidualMM, readings: weighed,
		why: fmt.Sprintf("%s It leaves %.2f and %.2f mm at the far corner. %s", j.sentence(f, &r), r.ResidualMM[0], r.ResidualMM[1], because),
	}
}

// sentence says what a reading takes the frame for.
func (j *judge) sentence(f *framed, r *reading) string {
	return fmt.Sprintf("The frame measures %s as drawn: %s, %s.", j.sidesDrawn(f), r.Frame, r.words)
}

// declaredBy says who told what the frame is.
func (j *judge) declaredBy(frame string) string {
	if j.byCaller {
		return "you gave the frame as " + frame
	}
	return "by the workshop's convention the frame is the sheet, " + frame
}
