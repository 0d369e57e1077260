package size

import (
	"fmt"
	"strings"

	"knifedesk/geometry/number"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// replied applies the answer that a person gave. An answer that the question
// does not offer, or one without the length it needs, leaves it open. A known
// length is taken even where nothing was asked.
func replied(q *inquiry, c *judged, o outcome) outcome {
	reply, ok := q.req.Replies[QuestionID]
	if !ok {
		return o
	}
	switch reply.Answer {
	case AnswerWidth, AnswerHeight, AnswerFrame:
		if length, ok := q.measured(c, reply); ok {
			length.weighed = o.weighed
			c.verdict.Role = q.roleAt(c.frame, length.x)
			if length.piece = saidPiece(q, c); length.piece && c.frame != nil {
				length.known = nil // it was asked about the work without the rectangle
			}
			return length
		}
		return o
	}
	if o.ask == nil {
		return o
	}
	for _, offered := range choices(q, c, &o) {
		if offered.id == reply.Answer {
			return q.chosen(c, &o, offered)
		}
	}
	return o
}

// roleAt says what a rectangle is where a person gave a length: a frame where it
// has a paper's size then, or lies on a frame layer, or a named cause proves it;
// else that is open.
func (q *inquiry) roleAt(f *evidence.Frame, k float64) decide.Role {
	if f == nil {
		return decide.Part
	}
	if _, named := q.file.At(f, k); named || f.OnLayer || q.proven(f) {
		return decide.Frame
	}
	return decide.Open
}

// measured uses the length that a reply carries, and reports whether it can.
func (q *inquiry) measured(c *judged, reply ask.Reply) (outcome, bool) {
	if !reading.Usable(reply.MM) {
		return outcome{}, false
	}
	known := KnownLength{Of: Width, MM: reply.MM}
	switch reply.Answer {
	case AnswerHeight:
		known.Of = Height
	case AnswerFrame:
		if c.frame == nil {
			return outcome{}, false
		}
		long := c.frame.Longest()
		return fixed(reply.MM/long, KnownLengthIs, fmt.Sprintf("You gave the true length of the frame's longer side: %s mm for %s as drawn.", number.People(reply.MM), q.tell.asDrawn(long))), true
	}
	k, ok := q.lengthFactor(c.frame, known)
	if !ok {
		return outcome{}, false
	}
	o := fixed(k, KnownLengthIs, q.lengthSentence(c.frame, known))
	o.known = &known
	return o, true
}

// chosen makes the answer that a person picked the outcome.
func (q *inquiry) chosen(c *judged, o *outcome, a choice) outcome {
	r := &a.reading
	s := outcome{x: r.X, y: r.Y, cause: r.Cause, frame: r.Size.Name, residual: r.Residual, weighed: o.weighed, piece: a.piece}
	switch {
	case a.id == AnswerAsRead:
		s.cause, s.why = Answered, "You answered that the file's own unit is right: "+q.file.File.Words+"."
	case a.id == reading.AsGivenID:
		s.known, s.why = q.req.KnownLength, "You answered that the length, unit or scale that you gave is right, and the size of the frame is not."
	case a.piece:
		s.cause, s.frame, s.residual = Answered, "", [2]float64{}
		w, h := q.whole.Size(r.X)
		s.why = fmt.Sprintf("You answered that the rectangle is an edge of your piece: the work is %s.", workText(w, h))
	case c.frame != nil && r.Size.Name != "":
		s.why = "You answered. " + q.tell.sentence(c.frame, r)
	default:
		s.why = fmt.Sprintf("You answered: %s.", r.Words)
	}
	if s.cause == reading.NoName {
		s.cause = Answered
	}
	return s
}

// choice is one answer to the question about the size that fixes it.
type choice struct {
	id      string
	reading reading.Reading
	piece   bool // the rectangle is an edge of the work
}

// maxReadings bounds the readings that one question offers.
const maxReadings = 9

// choices are the answers that fix a size, ranked: the readings of the frame,
// the file's own among them, and the rectangle as a piece. Of readings that a
// person could not tell apart the first stands for all.
func choices(q *inquiry, c *judged, o *outcome) []choice {
	var all, pieces []choice
	asRead, told := false, map[string]bool{}
	own := q.file.File.MM
	mayBePiece := c.frame != nil && !c.frame.OnLayer
	for _, r := range o.ask.readings {
		if len(all) == maxReadings || !q.work(c.frame).Sensible(r.Factor()) {
			continue
		}
		if mayBePiece && first(q, c, &r) {
			all = append(all, choice{r.ID + pieceSuffix, r, true})
		}
		one := choice{r.ID, r, false}
		label := one.taken(q.sizeUnder(c, one))
		if told[label] {
			continue
		}
		told[label] = true
		all = append(all, one)
		same := reading.SameFactor(r.X, own) && reading.SameFactor(r.Y, own)
		asRead = asRead || same
		if mayBePiece && len(pieces) < 2 && !same && besides(q, c, &r) {
			pieces = append(pieces, choice{r.ID + pieceSuffix, r, true})
		}
	}
	if !asRead {
		all = append(all, choice{AnswerAsRead, q.asFileReads(c), false})
		if c.told == nil && c.frame != nil && q.ownPage(c.frame) {
			all = append(all[len(all)-1:], all[:len(all)-1]...)
		}
	}
	if !mayBePiece {
		return all
	}
	at := map[decide.First]int{decide.Piece: 0, decide.Second: 1}
	place, ok := at[o.ask.first]
	if !ok {
		place = len(all)
	}
	place = min(place, len(all))
	piece := choice{AnswerPiece, q.asFileReads(c), true}
	return append(append(append(append([]choice{}, all[:place]...), piece), all[place:]...), pieces...)
}

// first reports whether that the rectangle is a piece as large as a reading says stands
// before that it is a frame: dimensions are those of the piece.
func first(q *inquiry, c *judged, r *reading.Reading) bool {
	return r.Cause == reading.Dimensions && q.LooksCut(c.frame)
}

// besides reports whether it stands at the end.
func besides(q *inquiry, c *judged, r *reading.Reading) bool {
	return !first(q, c, r) && r.HasCause() && r.Sure() && q.canCut(c.frame, r.Factor())
}

// pieceSuffix marks the answer that a rectangle is a piece as large as a reading
// says.
const pieceSuffix = ".piece"

// asFileReads is the reading by the file's own unit.
func (q *inquiry) asFileReads(c *judged) reading.Reading {
	mm := q.file.File.MM
	w, h := q.work(c.frame).Size(mm)
	return reading.Reading{
		Cause: None, Words: q.file.Causes[0].Words, X: mm, Y: mm,
		FitsStock: reading.Fits(q.req.Stock, w, h), Plausible: q.work(c.frame).Plausible(mm),
	}
}

// taken says what an answer takes the drawing for, in whole words.
func (a *choice) taken(w, h float64) string {
	work := "your work is " + workText(w, h)
	switch {
	case a.id == AnswerAsRead:
		return "The file is right: " + work
	case a.id == reading.AsGivenID:
		return "The frame is another size, and what else you gave is right: " + work
	case a.piece && a.reading.Cause == reading.Dimensions:
		return "The dimensions are right, and the rectangle is cut: " + work
	case a.reading.Cause == reading.Dimensions:
		return "The dimensions are right: " + work
	case a.piece:
		return "The rectangle is cut, as an edge of your work: " + work
	case a.reading.Size.Name == "":
		unit, _, _ := strings.Cut(a.reading.Words, " read as")
		switch {
		case a.reading.Page != "":
			return "The page is " + a.reading.Page + ": " + work
		case a.reading.Cause == None:
			return "As the file reads: " + work
		}
		return "The numbers are " + unit + ": " + work
	case a.reading.Cause == Stretched:
		return "The frame is " + a.reading.Size.Name + ", and the stretch is undone: " + work
	}
	return "The frame is " + a.reading.Size.Name + ": " + work
}
