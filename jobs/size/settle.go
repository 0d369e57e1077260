package size

import (
	"fmt"
	"math"

	"knifedesk/jobs/finding"
)

// verdict is what the evidence comes to: a factor for each axis of the frame,
// or a question.
type verdict struct {
	x, y     float64
	cause    string
	why      string
	size     string // named size of the frame
	residual [2]float64
	readings []reading // all weighed
	piece    bool      // a person answered that the frame is an edge of the work
	ask      *open     // nil where the size is settled
}

// open is what a question is made of.
type open struct {
	code        finding.Code
	readings    []reading // the answers, ranked
	lengthFirst bool      // a known length stands before them: nothing else tells them apart
}

// settle decides by the first evidence that there is, in the order in which it
// binds: what the caller measured, what the caller declared, the frame, the
// file's header.
func (j *judge) settle(f *framed) verdict {
	switch {
	case j.req.Scale > 0:
		return fixed(j.req.Scale/j.perNumber(), DeclaredScale, "You gave the scale: "+j.perNumberMM(j.req.Scale/j.perNumber())+".")
	case j.req.KnownLength != nil:
		return j.byLength(f, *j.req.KnownLength)
	case j.req.Unit != "":
		u, _ := unitNamed(j.req.Unit)
		return fixed(u.mm/j.perNumber(), DeclaredUnit, "You gave the unit of the file's numbers: "+u.words+".")
	case f != nil && j.declared != nil:
		return j.agreed(j.byDeclaredFrame(f))
	case f != nil:
		return j.agreed(j.byFrame(f))
	case len(j.onLayer) > 0:
		return j.asking(&open{code: finding.FrameEdited, readings: j.unframed(), lengthFirst: true}, nil)
	case j.byCaller:
		return j.asking(&open{code: finding.FrameNotFound, readings: j.unframed(), lengthFirst: true}, nil)
	case j.stated:
		return j.byHeader()
	}
	return j.asking(&open{code: finding.SizeNoEvidence, readings: j.unframed(), lengthFirst: true}, nil)
}

// perNumber is how many drawing units one unit of the numbers in the file is:
// what the caller says of a unit is about those.
func (j *judge) perNumber() float64 { return perNumber(j.drawing.Unit) }

func fixed(factor float64, cause, why string) verdict {
	return verdict{x: factor, y: factor, cause: cause, why: why}
}

// asking is the verdict that leaves the decision to a person. Until then the
// file's own reading stands in.
func (j *judge) asking(o *open, weighed []reading) verdict {
	v := fixed(j.file.mm, Unsettled, "The size is not settled: a question is open. Until it is answered the lengths are those the file itself reads.")
	v.ask, v.readings = o, weighed
	if v.readings == nil {
		v.readings = o.readings
	}
	return v
}

// byLength uses a length that the caller vouches for.
func (j *judge) byLength(f *framed, k KnownLength) verdict {
	w := &j.whole
	if f != nil {
		w = &f.work
	}
	drawn := j.drawnLength(w, k.Of)
	if flat(drawn, math.Max(w.bounds.Width(), w.bounds.Height())) {
		return j.asking(&open{code: finding.SizeNoEvidence, readings: j.unframed(), lengthFirst: true}, nil)
	}
	what := map[string]string{Width: "width", Height: "height", LongestLine: "longest straight line"}[k.Of]
	return fixed(k.MM/drawn, KnownLengthIs, fmt.Sprintf("You gave the true %s: %s mm for %s as drawn.", what, short(k.MM), j.asDrawn(drawn)))
}

// drawnLength measures a KnownLength in drawing units; 0 where there is none.
func (j *judge) drawnLength(w *work, of string) float64 {
	switch of {
	case Width:
		return w.bounds.Width()
	case Height:
		return w.bounds.Height()
	}
	longest := 0.0
	for _, it := range w.items {
		j.budget.Step()
		if runs, ok := runsOf(j.path(it), j.runs); ok {
			for _, r := range runs {
				longest = math.Max(longest, length(r))
			}
		}
	}
	return longest
}

// byHeader takes the file at its word where there is no frame, as long as the
// work would be plausible and fit the stock.
func (j *judge) byHeader() verdict {
	all := j.unframed()
	w, h := j.whole.bounds.Width()*j.file.mm, j.whole.bounds.Height()*j.file.mm
	if !j.whole.plausible(j.file.mm) || !fits(j.req.Stock, w, h) {
		return j.asking(&open{code: finding.SizeOffStock, readings: all, lengthFirst: true}, nil)
	}
	v := fixed(j.file.mm, DeclaredUnit, "The file states its size by "+j.drawing.Unit.Source+". There is no frame to prove it.")
	v.readings = all
	return v
}

// unframed returns the readings of a drawing without a frame: the file's own,
// then other units that would be plausible and fit the stock.
func (j *judge) unframed() []reading {
	var all []reading
	for i, c := range j.causes {
		r := reading{x: c.factor, y: c.factor, words: c.words, id: "unit." + c.code}
		r.Factor, r.Cause = c.factor, c.code
		w, h := j.whole.bounds.Width()*c.factor, j.whole.bounds.Height()*c.factor
		r.FitsStock, r.Plausible = fits(j.req.Stock, w, h), j.whole.plausible(c.factor)
		if i == 0 || (r.FitsStock && r.Plausible && i < len(units())) {
			all = append(all, r)
		}
	}
	return all
}
