package size

import "fmt"

// replied applies the answer that a person gave. An answer that the question
// does not offer, or one without the length it needs, leaves it open. A known
// length is taken even where nothing was asked.
func (j *judge) replied(v verdict, f *framed) verdict {
	reply, ok := j.req.Replies[QuestionID]
	if !ok {
		return v
	}
	switch reply.Answer {
	case AnswerWidth, AnswerHeight:
		of := Width
		if reply.Answer == AnswerHeight {
			of = Height
		}
		if !usable(reply.MM) {
			return v
		}
		length := j.byLength(f, KnownLength{Of: of, MM: reply.MM})
		length.readings = v.readings
		return length
	case AnswerAsRead:
		if v.ask == nil {
			return v
		}
		s := fixed(j.file.mm, Answered, "You answered that the file's own unit is right: "+j.file.words+".")
		s.readings = v.readings
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

// chosen makes the reading that a person picked the verdict.
func (j *judge) chosen(v verdict, f *framed, r reading) verdict {
	s := verdict{x: r.x, y: r.y, cause: r.Cause, size: r.Frame, residual: r.ResidualMM, readings: v.readings}
	if r.Cause == noName {
		s.cause = Answered
	}
	s.why = fmt.Sprintf("You answered: %s.", r.words)
	if f != nil && r.Frame != "" {
		s.why = "You answered. " + sentence(f, &r)
	}
	return s
}
