package size

import (
	"fmt"
	"slices"
	"strconv"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/evidence"
)

// askPages asks which of several drawings is meant.
func (p pages) askPages() *Result {
	var names []string
	asked := ask.Question{ID: PagesQuestionID, Code: finding.FramesSeveral}
	for i, f := range p.frames {
		res := p.page(f)
		a := ask.Answer{ID: AnswerPage + strconv.Itoa(i+1), Label: fmt.Sprintf("Only drawing %d, counted from the left", i+1)}
		a.Evidence = "Its frame measures " + p.tell.sidesDrawn(f) + " as drawn."
		if len(res.Questions) == 0 {
			a.WidthMM, a.HeightMM = res.WidthMM, res.HeightMM
			a.Label += ", in a frame of " + res.Frame.Name + ": your work is " + workText(res.WidthMM, res.HeightMM)
			names = append(names, res.Frame.Name)
		}
		asked.Answers = append(asked.Answers, a)
		asked.Places = append(asked.Places, places(f)...)
	}
	all := ask.Answer{ID: AnswerAllPages, Label: "All of them, as pieces of one work", Evidence: "Each keeps the size that its own frame gives it."}
	if slices.Sort(names); len(slices.Compact(names)) > 1 {
		all.Evidence += " The frames are not of one size."
	}
	if res := p.all(); len(res.Questions) == 0 {
		all.WidthMM, all.HeightMM = res.WidthMM, res.HeightMM
	}
	asked.Answers = slices.Insert(asked.Answers, 0, all)
	asked.Places = asked.Places[:min(len(asked.Places), finding.MaxPlaces)]
	asked.Text = fmt.Sprintf("There are %d drawings in the file, each in a frame of its own. Which one is meant?", len(p.frames))
	return p.openPages(asked, finding.New(finding.FramesSeveral, len(p.frames), nil, asked.Places...))
}

// askPieces asks whether rectangles that could be cut are frames.
func (p pages) askPieces() *Result {
	f := p.frames[0]
	var at []finding.Place
	for _, p := range p.frames[:min(len(p.frames), finding.MaxPlaces)] {
		at = append(at, places(p)...)
	}
	c := p.weighPage(f)
	k := c.readings[0].Factor()
	raised := finding.New(finding.FramesOrPieces, len(p.frames), finding.Values{"size": finding.Text(workText(f.U*k, f.V*k))}, at...)
	piece := ask.Answer{ID: AnswerPieces, Label: "Edges of pieces: cut", Evidence: "Each is smaller than the stock, so it can be cut."}
	piece.WidthMM, piece.HeightMM = p.whole.Size(p.file.File.MM)
	answers := []ask.Answer{piece, {ID: AnswerFrames, Label: "Page frames: not cut", Evidence: "The rest of the drawing lies inside."}}
	if !evidence.Copies(p.Budget, p.frames) {
		slices.Reverse(answers)
	}
	return p.openPages(ask.Question{
		ID: PieceQuestionID, Code: finding.FramesOrPieces, Places: at,
		Text:    raised.Fill("The drawing lies inside {count} rectangles of {size}. Are they page frames, or edges to be cut?"),
		Answers: answers,
	}, raised)
}
