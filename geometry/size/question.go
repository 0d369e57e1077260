package size

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/geometry/ask"
	"knifedesk/geometry/finding"
)

// QuestionID is the ID of the question about the true size, under which
// Request.Replies holds its answer.
const QuestionID = "size"

// IDs of the answers that every question about the size offers. The others
// are named for the reading they stand for: "A4.points_read_as_mm".
const (
	AnswerWidth  = "known_width"  // needs mm
	AnswerHeight = "known_height" // needs mm
	AnswerFrame  = "known_frame"  // needs mm: the longer side of the frame
	AnswerAsRead = "as_read"      // the file's own reading is right
)

// maxReadings bounds the readings that one question offers.
const maxReadings = 9

// question asks for the one length that settles the size. Its answers say
// what that length would be.
func (j *judge) question(v verdict, f *framed) ask.Question {
	w, text := &j.whole, "What is the true width of the drawing, left edge to right edge?"
	if f != nil {
		w, text = &f.work, "What is the true width of the drawing without its frame, left edge to right edge?"
	}
	q := ask.Question{ID: QuestionID, Code: v.ask.code, Text: text}
	lengths := lengthAnswers(w, f)
	if v.ask.lengthFirst {
		q.Answers = append(q.Answers, lengths...)
	}
	asRead := false
	for i, r := range v.ask.readings {
		if i < maxReadings {
			q.Answers = append(q.Answers, j.answer(&r, f))
			asRead = asRead || (sameFactor(r.x, j.file.mm) && sameFactor(r.y, j.file.mm))
		}
	}
	if !asRead {
		q.Answers = append(q.Answers, j.asRead(f))
	}
	if !v.ask.lengthFirst {
		q.Answers = append(q.Answers, lengths...)
	}
	if f != nil {
		q.Places = []finding.Place{{Box: f.quad.bounds()}}
	}
	return q
}

// lengthAnswers offer the edges of which a person may know the true length.
func lengthAnswers(w *work, f *framed) []ask.Answer {
	known := func(id, what, edge string, drawn float64) ask.Answer {
		return ask.Answer{
			ID: id, NeedsMM: true, Label: "I know the true " + what,
			Evidence: fmt.Sprintf("%s is %s as drawn. Its length in mm settles the size.", edge, short(drawn)),
		}
	}
	all := []ask.Answer{
		known(AnswerWidth, "width", "Left edge to right edge", w.bounds.Width()),
		known(AnswerHeight, "height", "Bottom edge to top edge", w.bounds.Height()),
	}
	if f != nil {
		all = append(all, known(AnswerFrame, "length of the rectangle round the drawing", "Its longer side", math.Max(f.u, f.v)))
	}
	return all
}

func (j *judge) answer(r *reading, f *framed) ask.Answer {
	w, h := j.sizeUnder(r, f)
	reason := r.words
	if r.Frame != "" {
		reason = "frame " + r.Frame + ", " + r.words
	}
	return ask.Answer{
		ID:       r.id,
		Label:    fmt.Sprintf("%.2f mm wide, %.2f mm high: %s", w, h, reason),
		Evidence: r.evidence(),
		Values: map[string]any{
			"factor_x": r.x, "factor_y": r.y, "width_mm": w, "height_mm": h,
			"frame": r.Frame, "cause": r.Cause, "fits_stock": r.FitsStock,
		},
	}
}

// sizeUnder returns what the artwork measures under a reading.
func (j *judge) sizeUnder(r *reading, f *framed) (w, h float64) {
	if f == nil {
		return j.whole.bounds.Width() * r.x, j.whole.bounds.Height() * r.y
	}
	return f.measure(j.survey, r.x, r.y)
}

func (j *judge) asRead(f *framed) ask.Answer {
	r := reading{x: j.file.mm, y: j.file.mm, id: AnswerAsRead, words: "the file's own unit, " + j.file.words}
	r.Cause, r.Factor = None, j.file.mm
	w, h := j.sizeUnder(&r, f)
	r.FitsStock, r.Plausible = fits(j.req.Stock, w, h), true
	a := j.answer(&r, f)
	if f != nil {
		a.Evidence += fmt.Sprintf(" The frame would be %s × %s mm.", short(f.u*r.x), short(f.v*r.y))
	}
	return a
}

// evidence says what speaks for a reading and against it.
func (r *reading) evidence() string {
	var s []string
	switch {
	case r.Cause == Stretched:
		s = append(s, fmt.Sprintf("Each axis gets a factor of its own: %.6g and %.6g.", r.x, r.y))
	case r.Frame != "":
		s = append(s, fmt.Sprintf("The factor is %.6g mm for one drawing unit. It leaves %.2f and %.2f mm on the frame.", r.Factor, r.ResidualMM[0], r.ResidualMM[1]))
	default:
		s = append(s, fmt.Sprintf("The factor is %.6g mm for one drawing unit.", r.Factor))
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
