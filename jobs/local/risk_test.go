package local_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// What is too fine is refused unless staff let it pass and say why; a short place
// is cut on the word of its maker. The reason stands in the plan. A waiver without
// a reason, or one answer in place of the other, decides nothing.
func TestWhoDecidesAboutTheTooFine(t *testing.T) {
	long, short := cutting(waist(8, 0.5)), cutting(waist(2, 0.5))
	for _, c := range []struct {
		name, file, question string
		reply                ask.Reply
		want                 finding.Severity // of what is too thin
		asked                bool
		says                 string
	}{
		{"not answered", long, "weeding/below_limit", ask.Reply{}, finding.Block, true, ""},
		{"drawn again", long, "weeding/below_limit", ask.Reply{Answer: "redraw"}, finding.Block, false, ""},
		{"waived", long, "weeding/below_limit", ask.Reply{Answer: "waive", Reason: "A trial for the open day"}, finding.Warn, false, "let pass by staff: A trial for the open day."},
		{"waived without a reason", long, "weeding/below_limit", ask.Reply{Answer: "waive", Reason: " "}, finding.Block, true, ""},
		{"accepted, and too long for that", long, "weeding/below_limit", ask.Reply{Answer: "accept"}, finding.Block, true, ""},
		{"a short place", short, "weeding/risk", ask.Reply{}, finding.Ask, true, ""},
		{"a short place accepted", short, "weeding/risk", ask.Reply{Answer: "accept"}, finding.Warn, false, "its maker accepts"},
		{"a short place drawn again", short, "weeding/risk", ask.Reply{Answer: "redraw"}, finding.Block, false, ""},
	} {
		d := desk{workshop.Example(), onFilm}
		d.choices.Replies = ask.Replies{c.question: c.reply}
		r := d.run(t, c.file)
		f := r.find(finding.StrokeTooThin)
		if f == nil || f.Severity != c.want || (r.question(c.question) != nil) != c.asked {
			t.Errorf("%s: want %s, asked %v:%s", c.name, c.want, c.asked, r)
			continue
		}
		req, err := list.Choose(d.data, d.choices)
		if err != nil {
			t.Fatal(err)
		}
		text := view.Text(plan.Ready, view.Gather(plan.Ready, req, nil, list.Parts(r.results)), nil)
		if c.says != "" && (f.Mend == nil || !strings.Contains(f.Mend.Effect, c.says) || !strings.Contains(text, c.says)) {
			t.Errorf("%s: the plan does not say %q:\n%s", c.name, c.says, text)
		}
	}
}

// The texts name the material: nothing is said of film where there is card.
func TestTextsNameTheMaterial(t *testing.T) {
	thin := cutting("M0 0h40v0.5h-40z", "M0 10h40v3.5h-40z", "M0 20h60v40h-60zM20 30h2v2h-2zM0 80h60l-60 20z", "M70 0h3v3h-3z")
	for _, c := range []struct {
		choices plan.Choices
		names   string
		not     string
	}{{onCard, "card", "film"}, {onStencilPieces, "plastic sheet", "film"}, {onFilm, "film", "card"}} {
		r := desk{workshop.Example(), c.choices}.run(t, thin)
		f := r.find(finding.StrokeTooThin)
		if f == nil || !strings.Contains(f.Hint, c.names) {
			t.Fatalf("%s is not named:%s", c.names, r)
		}
		for _, f := range result(t, list.Weeding, r.results).Findings {
			if text := f.Hint + f.TechnicianHint; strings.Contains(text, c.not) {
				t.Errorf("%s is told of %s: %s", c.names, c.not, text)
			}
		}
	}
}
