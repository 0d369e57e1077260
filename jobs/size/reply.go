package size

import (
	"fmt"
	"math"

	"knifedesk/jobs/ask"
)

// replied applies the answer that a person gave. An answer that the question
// does not offer, or one without the length it needs, leaves it open. A known
// length is taken even where nothing was asked.
func (j *judge) replied(v verdict, f *framed) verdict {
	reply, ok := j.req.Replies[QuestionID]
	if !ok {
		return v
	}
	switch reply.Answer {
	case AnswerWidth, AnswerHeight, AnswerFrame:
		if length, ok := j.measured(f, reply); ok {
			length.readings = v.readings
			return length
		}
		return v
	case AnswerAsRead:
		if v.ask == nil {
			return v
		}
		return j.answeredAsRead(v, "You answered that the file's own unit is right: "+j.file.words+".")
	case AnswerPiece:
		if v.ask == nil || !f.mayBePiece() {
			return v
		}
		s := j.answeredAsRead(v, "You answered that the rectangle is an edge of your piece, as large as the file reads it in "+j.file.words+".")
		s.piece = true
		return s
	}
	if v.ask == nil {
		return v
	}
	for _, r := range v.ask.readings {
		if r.id == reply.Answer {
			return j.chosen(v, f, r)
		}
	}
	return v
}

// answeredAsRead is the verdict of a person who takes the file at its word.
func (j *judge) answeredAsRead(v verdict, why string) verdict {
	s := fixed(j.file.mm, Answered, why)
	s.readings = v.readings
	return s
}

// measured uses the length that a reply carries, and reports whether it can.
func (j *judge) measured(f *framed, reply ask.Reply) (verdict, bool) {
	if !usable(reply.MM) {
		return verdict{}, false
	}
	switch {
	case reply.Answer == AnswerWidth:
		v := j.byLength(f, KnownLength{Of: Width, MM: reply.MM})
		return v, v.ask == nil
	case reply.Answer == AnswerHeight:
		v := j.byLength(f, KnownLength{Of: Height, MM: reply.MM})
		return v, v.ask == nil
	case f == nil:
		return verdict{}, false
	}
	drawn := math.Max(f.u, f.v)
	return fixed(reply.MM/drawn, KnownLengthIs, fmt.Sprintf("You gave the true length of the frame's longer side: %s mm for %s as drawn.", short(reply.MM), j.asDrawn(drawn))), true
}

// chosen makes the reading that a person picked the verdict.
func (j *judge) chosen(v verdict, f *framed, r reading) verdict {
	s := verdict{x: r.x, y: r.y, cause: r.Cause, size: r.Frame, residual: r.ResidualMM, readings: v.readings}
	if r.Cause == noName {
		s.cause = Answered
	}
	s.why = fmt.Sprintf("You answered: %s.", r.words)
	if f != nil && r.Frame != "" {
		s.why = "You answered. " + j.sentence(f, &r)
	}
	return s
}
