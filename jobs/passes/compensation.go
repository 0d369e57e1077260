package passes

import (
	"fmt"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// QuestionCompensation asks what the machine adds to a file by itself.
const QuestionCompensation = Name + "/compensation"

// compensates returns what the machine makes up for by itself: by its data, or
// by an answer. Where there is neither it returns the question too, and the plan is
// made as if it were nothing.
func compensates(req Request) (workshop.Compensation, *ask.Question) {
	if c := req.Machine.Compensates; c != "" {
		return c, nil
	}
	q := compensationQuestion(req.Machine)
	if a, ok := req.Replies.To(&q); ok {
		return workshop.Compensation(a.ID), nil
	}
	return workshop.CompensatesNothing, &q
}

func compensationQuestion(m workshop.Machine) ask.Question {
	again := " Enter it in the data of the machine, and nobody is asked again."
	offset := fmt.Sprintf("%g mm", m.Blade.OffsetMM)
	return ask.Question{
		ID: QuestionCompensation, Code: finding.CompensationUnknown,
		Text: fmt.Sprintf("The tip of the knife trails its holder by %s. Who makes up for that: the cutter “%s” by itself, or the file? Done twice it spoils every corner.", offset, m.Name),
		Answers: []ask.Answer{
			{ID: string(workshop.CompensatesNothing), Label: "The file does",
				Evidence: "True where a plain square of 10 mm, cut from a drawing program, comes out with rounded corners and does not quite close, or where nothing is set at the cutter." + again},
			{ID: string(workshop.CompensatesOffset), Label: "The cutter does, but it does not cut past closures",
				Evidence: "True where the cutter, or what sends files to it, has a value for the offset of the blade that is set to " + offset + ", and none for overcut: a plain square has sharp corners and hangs at the corner where it was begun." + again},
			{ID: string(workshop.CompensatesAll), Label: "The cutter does, and it cuts past closures too",
				Evidence: "True where both the offset of the blade and an overcut are set at the cutter or in what sends files to it: a plain square has sharp corners and falls out." + again},
		},
	}
}

// askWhereItMatters asks only where a knife is run.
func (p *Plan) askWhereItMatters(q *ask.Question, steps []step) {
	for _, st := range steps {
		if q != nil && (st.rule.OffsetMM > 0 || st.rule.OvercutMM > 0) {
			p.find(finding.CompensationUnknown, nil, nil)
			p.Questions = append(p.Questions, *q)
			return
		}
	}
}
