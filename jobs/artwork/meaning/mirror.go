package meaning

import (
	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// mirror sees to it that the artwork reads as it should before the layout
// turns it over by the stock's rule. The evidence is the drawing's own
// placements: where they turn lines over, the drawing may be mirrored already
// (on stock that is cut from its back) or by mistake (on any other).
//
// On stock that is mirrored a drawing that is mirrored already is turned back
// here, so that it is cut as drawn in the end. A caller that says itself
// whether to mirror is not asked.
func (k *desk) mirror(lines []line) {
	turned := 0
	for _, l := range lines {
		if l.shape.Mirrored {
			turned++
		}
	}
	rule := k.req.Stock.Mirror == workshop.MirrorAlways
	if k.req.Mirror != nil || turned == 0 || !rule && turned < len(lines) {
		return
	}
	asDrawn := ask.Answer{ID: "as_drawn", Label: "Cut it as it is drawn"}
	turn := ask.Answer{ID: "turn", Label: "Mirror it"}
	q := ask.Question{ID: "mirror", Answers: []ask.Answer{asDrawn, turn}}
	values := finding.Values{"stock": finding.Text(k.req.Stock.Name), "turned": finding.Int(turned), "lines": finding.Int(len(lines))}
	f := finding.New(finding.DrawnMirrored, 1, values)
	if rule {
		q.Text = k.req.Stock.Name + " is cut from its back, so drawings are mirrored for it. Yours seems to be mirrored already: does its text read backwards on the screen?"
		q.Answers[0].Evidence = "Yes, it reads backwards on the screen, and is right when the film is pressed on."
		q.Answers[1].Evidence = "No, it reads the right way round on the screen, and has to be mirrored for the cut."
		f = finding.New(finding.MirroredAlready, 1, values)
	} else {
		q.Text = "The whole drawing is mirrored. Is it to be seen from behind, as on the inside of a window?"
		q.Answers[0].Evidence = "It is to be seen through the glass."
		q.Answers[1].Evidence = "It reads backwards by mistake."
	}
	box := runBox(k.budget, k.strokes)
	answer := k.ask(f, sized(k, q, box, box))
	if rule && answer == asDrawn.ID || !rule && answer == turn.ID {
		for i := range k.strokes {
			k.strokes[i].Path = k.strokes[i].Path.Transform(geometry.Scale(-1, 1))
		}
		k.turned = true
	}
}
