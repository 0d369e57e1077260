package size

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/number"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// outcome is a verdict carried out: a factor for each axis of the frame, or a
// question.
type outcome struct {
	x, y     float64
	cause    string
	why      string
	frame    string // named size of the frame
	residual [2]float64
	weighed  []reading.Reading
	known    *KnownLength   // the length of the artwork that it rests on
	named    *reading.Named // the size of the frame that it rests on
	piece    bool           // the rectangle is an edge of the work
	ask      *open          // nil where the size is settled
}

// open is what a question is made of.
type open struct {
	code     finding.Code
	readings []reading.Reading // the answers, ranked
	first    decide.First
}

// settle carries out a verdict.
func settle(q *inquiry, c *judged) outcome {
	o := fixed(q.file.File.MM, Unsettled, "The size is not settled: a question is open. Until it is answered the lengths are those the file itself reads.")
	switch c.verdict.Size {
	case decide.ByWord:
		o = q.byWord(c)
	case decide.ByFile:
		o = fixed(q.file.File.MM, DeclaredUnit, "The file states its size by "+q.Drawing.Unit.Source+". There is no frame to prove it.")
	case decide.ByFrame:
		o = byFrame(q, c)
	case decide.Asked:
		o.ask = &open{c.verdict.Code, q.answers(c), c.verdict.First}
	}
	o.weighed = c.readings
	if o.weighed == nil && c.given == 0 {
		o.weighed = q.answers(c)
	}
	o.piece = saidPiece(q, c)
	return o
}

// saidPiece reports whether it was open on its own what the rectangle is, and was
// answered that it is an edge of the work.
func saidPiece(q *inquiry, c *judged) bool {
	return c.verdict.Role == decide.Open && q.req.Replies[PieceQuestionID].Answer == AnswerPieces
}

func fixed(factor float64, cause, why string) outcome {
	return outcome{x: factor, y: factor, cause: cause, why: why}
}

// answers are the readings that a question offers, ranked: those of a bent
// frame where it fits no size, and the stretches of which one axis has a named
// factor where only the shape speaks, since a stretched frame can have the shape
// of another size. What the dimensions say stands before all of them.
func (q *inquiry) answers(c *judged) []reading.Reading {
	return slices.Concat(c.told, byDrawing(q, c))
}

// byDrawing are those that what is drawn speaks for.
func byDrawing(q *inquiry, c *judged) []reading.Reading {
	switch {
	case c.frame == nil:
		return q.file.Unframed(&q.whole)
	case c.verdict.Code == c.bent.code:
		return c.bent.readings
	case c.verdict.Code != finding.SizeUnnamedFactor:
		return c.readings
	}
	all := slices.Clone(c.readings)
	for _, r := range q.file.PerAxis(c.frame, stretchTop) {
		if q.file.OneAxisNamed(&r) {
			all = append(all, r)
		}
	}
	q.file.Rank(c.frame, all)
	return all
}

// byWord uses the size that the caller gave.
func (q *inquiry) byWord(c *judged) outcome {
	o := fixed(c.given, DeclaredUnit, "")
	switch u, _ := reading.UnitNamed(q.req.Unit); {
	case q.req.Scale > 0:
		o.cause, o.why = DeclaredScale, "You gave the scale: "+q.tell.perNumberMM(c.given)+"."
	case q.req.KnownLength != nil:
		f := c.frame
		if saidPiece(q, c) {
			f = nil // the length is that of the work with the rectangle
			o.x = wholeFactor(q, c.given)
			o.y = o.x
		}
		o.cause, o.why, o.known = KnownLengthIs, q.lengthSentence(f, *q.req.KnownLength), q.req.KnownLength
	default:
		o.why = "You gave the unit of the file's numbers: " + u.Words + "."
	}
	if c.frame != nil {
		if s, ok := q.file.At(c.frame, c.given); ok {
			o.frame = s.Name
		}
	}
	return o
}

// byFrame takes the best reading of the frame.
func byFrame(q *inquiry, c *judged) outcome {
	r := &c.readings[0]
	o := outcome{x: r.X, y: r.Y, cause: r.Cause, frame: r.Size.Name, residual: r.Residual, named: &r.Size}
	because := "No other size fits by a known cause."
	switch {
	case q.file.Declared != nil && r.HasCause():
		because = "The size is sure: you gave the frame as " + r.Size.Name + "."
	case q.file.Declared != nil:
		o.cause, because = DeclaredFrame, "You gave the frame as "+r.Size.Name+", and both axes agree."
	}
	o.why = fmt.Sprintf("%s %s", q.tell.sentence(c.frame, r), because)
	return o
}

// lengthFactor returns the mm for one drawing unit by a length that somebody
// vouches for, if f is the frame; nil: there is none.
func (q *inquiry) lengthFactor(f *evidence.Frame, known KnownLength) (float64, bool) {
	w := q.work(f)
	if known.Of == LongestLine {
		longest := q.LongestLine(w)
		return known.MM / longest, longest > 0
	}
	extent := geometry.Box.Width
	if known.Of == Height {
		extent = geometry.Box.Height
	}
	k := w.Factor(extent, known.MM)
	b := w.At(k)
	if flat(extent(b), math.Max(b.Width(), b.Height())) {
		return 0, false
	}
	return k, true
}

// wholeFactor returns the mm for one drawing unit where the length that the caller
// gave is one of all that is drawn, or other where it gave none.
func wholeFactor(q *inquiry, other float64) float64 {
	if q.req.KnownLength == nil {
		return other
	}
	if k, ok := q.lengthFactor(nil, *q.req.KnownLength); ok {
		return k
	}
	return other
}

// lengthSentence says which length was given, and how long it is as drawn.
func (q *inquiry) lengthSentence(f *evidence.Frame, known KnownLength) string {
	what := map[string]string{Width: "width", Height: "height", LongestLine: "longest straight line"}[known.Of]
	k, _ := q.lengthFactor(f, known)
	return fmt.Sprintf("You gave the true %s: %s mm for %s as drawn.", what, number.People(known.MM), q.tell.asDrawn(known.MM/k))
}

// work is what is measured: all that is drawn but for the frame.
func (q *inquiry) work(f *evidence.Frame) *evidence.Work {
	if f == nil {
		return &q.whole
	}
	return &f.Work
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }
