package size

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
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

// maxReadings bounds the readings that one question offers.
const maxReadings = 9

// question asks for the one length that settles the size. Its answers say
// what that length would be.
func (j *judge) question(v verdict, f *framed) ask.Question {
	q := ask.Question{ID: QuestionID, Code: v.ask.code, Text: j.questionText(f)}
	lengths := j.lengthAnswers(f)
	if v.ask.lengthFirst {
		q.Answers = append(q.Answers, lengths...)
	}
	q.Answers = append(q.Answers, j.readingAnswers(v, f)...)
	if !v.ask.lengthFirst {
		q.Answers = append(q.Answers, lengths...)
	}
	q.Places = places(f)
	return q
}

// readingAnswers offer the readings, the file's own among them, and that the
// rectangle is a piece: early where that is as likely as anything else.
func (j *judge) readingAnswers(v verdict, f *framed) []ask.Answer {
	var all []ask.Answer
	asRead := false
	for _, r := range v.ask.readings {
		if len(all) < maxReadings && j.work(f).sensible(r.Factor) {
			all = append(all, j.answer(&r, f))
			asRead = asRead || (sameFactor(r.x, j.file.mm) && sameFactor(r.y, j.file.mm))
		}
	}
	if !asRead {
		all = append(all, j.asRead(f))
	}
	if !f.mayBePiece() {
		return all
	}
	at := len(all)
	if v.ask.code == finding.FrameOffShape || v.ask.code == finding.FrameInPage {
		at = 1
	}
	return slices.Insert(all, min(at, len(all)), j.pieceAsRead())
}

func (j *judge) questionText(f *framed) string {
	w, of := j.work(f), "the drawing"
	if f != nil {
		of = "the drawing without its frame"
	}
	if flat(w.bounds.Width(), w.bounds.Height()) || flat(w.bounds.Height(), w.bounds.Width()) {
		return "What is the true length of " + of + ", end to end?"
	}
	return "What is the true width of " + of + ", left edge to right edge?"
}

// work is what is measured: all that is drawn but for the frame.
func (j *judge) work(f *framed) *work {
	if f == nil {
		return &j.whole
	}
	return &f.work
}

// lengthAnswers offer the edges of which a person may know the true length.
func (j *judge) lengthAnswers(f *framed) []ask.Answer {
	known := func(id, what, edge string, drawn float64) ask.Answer {
		return ask.Answer{
			ID: id, NeedsMM: true, Label: "I know the true " + what,
			Evidence: fmt.Sprintf("%s is %s as drawn. Its length in mm settles the size.", edge, j.asDrawn(drawn)),
		}
	}
	var all []ask.Answer
	w, h := j.work(f).bounds.Width(), j.work(f).bounds.Height()
	switch {
	case flat(h, w):
		all = append(all, known(AnswerWidth, "length", "End to end it", w))
	case flat(w, h):
		all = append(all, known(AnswerHeight, "length", "End to end it", h))
	default:
		all = append(all, known(AnswerWidth, "width", "Left edge to right edge", w), known(AnswerHeight, "height", "Bottom edge to top edge", h))
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
		Label:    measures(w, h) + ": " + reason,
		Evidence: j.evidence(r),
		Values: finding.Values{
			"factor_x": finding.Num(r.x), "factor_y": finding.Num(r.y), "width_mm": finding.Num(w), "height_mm": finding.Num(h),
			"frame": finding.Text(r.Frame), "cause": finding.Text(r.Cause), "fits_stock": finding.Truth(r.FitsStock),
		},
	}
}

// measures says what work of w by h mm measures.
func measures(w, h float64) string {
	if flat(w, h) || flat(h, w) {
		return number.People(math.Max(w, h)) + " mm long"
	}
	return number.People(w) + " mm wide, " + number.People(h) + " mm high"
}

// sizeUnder returns what the artwork measures under a reading.
func (j *judge) sizeUnder(r *reading, f *framed) (w, h float64) {
	if f == nil {
		return j.whole.bounds.Width() * r.x, j.whole.bounds.Height() * r.y
	}
	return f.measure(j.survey, r.x, r.y)
}

// asFileReads is the reading by the file's own unit.
func (j *judge) asFileReads(id string, f *framed) reading {
	r := reading{x: j.file.mm, y: j.file.mm, id: id, words: j.causes[0].words}
	r.Cause, r.Factor = None, j.file.mm
	w, h := j.sizeUnder(&r, f)
	r.FitsStock, r.Plausible = fits(j.req.Stock, w, h), j.work(f).plausible(j.file.mm)
	return r
}

func (j *judge) asRead(f *framed) ask.Answer {
	r := j.asFileReads(AnswerAsRead, f)
	a := j.answer(&r, f)
	if f != nil {
		a.Evidence += fmt.Sprintf(" The rectangle round the drawing is a frame of %s × %s mm and is not cut.", short(f.u*r.x), short(f.v*r.y))
	}
	return a
}

// mayBePiece reports whether a rectangle could be an edge of the work: one on
// a layer that is kept for frames cannot.
func (f *framed) mayBePiece() bool { return f != nil && !f.byLayer }

// pieceAsRead offers that there is no frame: the rectangle belongs to the work.
func (j *judge) pieceAsRead() ask.Answer {
	r := j.asFileReads(AnswerPiece, nil)
	r.words = "the rectangle round the drawing is an edge of my piece and is cut; " + r.words
	return j.answer(&r, nil)
}

// evidence says what speaks for a reading and against it.
func (j *judge) evidence(r *reading) string {
	var s []string
	switch {
	case r.Cause == Stretched:
		s = append(s, fmt.Sprintf("Each axis gets a factor of its own: %.6g and %s.", r.x*j.perNumber(), j.perNumberMM(r.y)))
	case r.Frame != "":
		s = append(s, fmt.Sprintf("The factor is %s. It leaves %.2f and %.2f mm on the frame.", j.perNumberMM(r.Factor), r.ResidualMM[0], r.ResidualMM[1]))
	default:
		s = append(s, "The factor is "+j.perNumberMM(r.Factor)+".")
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
