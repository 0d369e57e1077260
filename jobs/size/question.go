package size

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/reading"
)

// QuestionID is the ID of the question about the true size, under which
// Request.Replies holds its answer.
const QuestionID = Name + "/true_size"

// IDs of the answers that every question about the size offers. The others
// are named for the reading they stand for: "A4.points_read_as_mm".
const (
	AnswerWidth  = "known_width"   // needs mm
	AnswerHeight = "known_height"  // needs mm
	AnswerFrame  = "known_frame"   // needs mm: the longer side of the frame
	AnswerPiece  = "piece_as_read" // the rectangle is an edge of the piece, as large as the file says
	AnswerAsRead = "as_read"       // the file's own reading is right
)

// question asks for the one length that settles the size. Its answers say
// what that length would be.
func question(q *inquiry, c *judged, o *outcome) ask.Question {
	asked := ask.Question{ID: QuestionID, Code: o.ask.code, Text: questionText(q, c), Places: places(c.frame)}
	lengths := lengthAnswers(q, c)
	if o.ask.first == decide.Length {
		asked.Answers = append(asked.Answers, lengths...)
	}
	for _, one := range choices(q, c, o) {
		asked.Answers = append(asked.Answers, answer(q, c, one))
	}
	if o.ask.first != decide.Length {
		asked.Answers = append(asked.Answers, lengths...)
	}
	return asked
}

func questionText(q *inquiry, c *judged) string {
	without := ""
	if c.frame != nil {
		without = ", without the frame round it"
	}
	if w, h := q.work(c.frame).Size(q.file.File.MM); flat(w, h) || flat(h, w) {
		return "How long is your work meant to be" + without + "? Pick the length that is right, or type it."
	}
	return "How large is your work meant to be" + without + "? Pick the size that is right, or type one length that you know."
}

// lengthAnswers offer the edges of which a person may know the true length.
func lengthAnswers(q *inquiry, c *judged) []ask.Answer {
	known := func(id, what, edge string, drawn float64) ask.Answer {
		return ask.Answer{
			ID: id, NeedsMM: true, Label: "I know the true " + what,
			Evidence: fmt.Sprintf("%s it is %s in your file. Type how many mm it has to be.", edge, q.tell.asDrawn(drawn)),
		}
	}
	var all []ask.Answer
	b := q.work(c.frame).At(q.file.File.MM)
	w, h := b.Width(), b.Height()
	switch {
	case flat(h, w):
		all = append(all, known(AnswerWidth, "length", "End to end", w))
	case flat(w, h):
		all = append(all, known(AnswerHeight, "length", "End to end", h))
	default:
		all = append(all, known(AnswerWidth, "width", "From its left edge to its right edge", w), known(AnswerHeight, "height", "From its bottom edge to its top edge", h))
	}
	if c.frame != nil {
		all = append(all, known(AnswerFrame, "length of the rectangle round the drawing", "Along its longer side", c.frame.Longest()))
	}
	return all
}

// answer words one answer that fixes the size.
func answer(q *inquiry, c *judged, a choice) ask.Answer {
	r := &a.reading
	w, h := q.sizeUnder(c, a)
	return ask.Answer{
		ID: a.id, Label: a.taken(w, h), Evidence: evidenceFor(q, c, a), WidthMM: w, HeightMM: h,
		Values: finding.Values{
			"factor_x": finding.Num(r.X), "factor_y": finding.Num(r.Y), "width_mm": finding.Num(w), "height_mm": finding.Num(h),
			"frame": finding.Text(r.Size.Name), "cause": finding.Text(r.Cause), "fits_stock": finding.Truth(r.FitsStock),
		},
	}
}

// sizeUnder returns what the artwork measures under an answer.
func (q *inquiry) sizeUnder(c *judged, a choice) (w, h float64) {
	if c.frame == nil || a.piece {
		return q.whole.Size(math.Max(a.reading.X, a.reading.Y))
	}
	return q.Measure(c.frame, a.reading.X, a.reading.Y)
}

// evidenceFor says what speaks for an answer and against it.
func evidenceFor(q *inquiry, c *judged, a choice) string {
	text := weighed(q, &a.reading)
	if a.id == AnswerAsRead && c.frame != nil {
		k := a.reading.X
		text += fmt.Sprintf(" The rectangle round the drawing is a frame of %s × %s mm and is not cut.", number.People(c.frame.U*k), number.People(c.frame.V*k))
	}
	return text
}

// weighed says how a reading was weighed, for the technician.
func weighed(q *inquiry, r *reading.Reading) string {
	var s []string
	cause := strings.ToUpper(r.Words[:1]) + r.Words[1:]
	switch {
	case r.Cause == Stretched:
		s = append(s, fmt.Sprintf("%s. Each axis gets a factor of its own: %.6g and %s.", cause, r.X*reading.PerNumber(q.Drawing.Unit), q.tell.perNumberMM(r.Y)))
	case r.Size.Name != "":
		s = append(s, fmt.Sprintf("%s, %s. The factor is %s. It leaves %.2f and %.2f mm on the frame.", r.Size.Name, r.Words, q.tell.perNumberMM(r.Factor()), r.Residual[0], r.Residual[1]))
	default:
		s = append(s, fmt.Sprintf("%s. The factor is %s.", cause, q.tell.perNumberMM(r.Factor())))
	}
	if r.FitsStock {
		s = append(s, "It fits the stock.")
	} else {
		s = append(s, "It does not fit the stock.")
	}
	if !r.Plausible {
		s = append(s, "The work would be far too small or too large.")
	}
	return strings.Join(s, " ")
}

// hypothesis is a reading as the result lists it.
func hypothesis(q *inquiry, r *reading.Reading) Hypothesis {
	return Hypothesis{
		Frame: r.Size.Name, Factor: r.Factor(), Cause: r.Cause, ResidualMM: r.Residual,
		FitsStock: r.FitsStock, Plausible: r.Plausible, Evidence: weighed(q, r),
	}
}
