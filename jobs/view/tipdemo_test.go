package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// All demo work is cut true from its files: every case that comes to a plan, by
// every offset, with the answers that the demo gives.
func TestTheTipCutsTheDemo(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 2))
	ready := 0
	for _, k := range scenario.Cases() {
		if k.Want.Status != string(plan.Ready) {
			continue
		}
		ready++
		for _, offset := range []float64{0.25, 0.5, 0.9} {
			t.Run(fmt.Sprintf("%s, %g mm", k.Name, offset), func(t *testing.T) {
				planOfCase(t, k, offsetIn(workshop.Example(), offset)).holdFiles(t, ownReaders(), random.Float64()*2*math.Pi)
			})
		}
	}
	if ready < 8 {
		t.Errorf("%d cases come to a plan", ready)
	}
}

// planOfCase plans a case of the demo as the demo does.
func planOfCase(t *testing.T, k scenario.Case, shop workshop.Data) *planned {
	t.Helper()
	file, err := k.Sheet.Bytes(strings.TrimPrefix(filepath.Ext(k.File), "."))
	if err != nil {
		t.Fatal(err)
	}
	choices, list := choicesOfCase(t, k), jobs.NewList()
	for answers := k.Answers; ; answers = answers[1:] {
		req, err := list.Choose(shop, choices)
		if err != nil {
			t.Fatal(err)
		}
		done, status, err := local.Run(t.Context(), list.Rows, file, req)
		if err != nil {
			t.Fatal(err)
		}
		results := local.Results(done)
		p := &planned{list.Shown(results), req, status, list.Parts(results)}
		if status == plan.Ready {
			return p
		}
		_, questions := view.Outcome(p.parts)
		if len(answers) == 0 {
			t.Fatalf("it is %s beyond the answers of the demo: %v", status, questions)
		}
		at := slices.IndexFunc(questions, func(q ask.Question) bool { return q.ID == answers[0].Question })
		if at < 0 {
			t.Fatalf("%s is not asked", answers[0].Question)
		}
		choose := answers[0].Choose
		if choose == "" {
			choose = questions[at].Answers[0].ID
		}
		choices.Replies[answers[0].Question] = ask.Reply{Answer: choose, Reason: answers[0].Reason}
	}
}

// choicesOfCase reads the fields of the form that a case fills in.
func choicesOfCase(t *testing.T, k scenario.Case) plan.Choices {
	t.Helper()
	c := plan.Choices{Stock: k.Fields["stock"], Copies: 1, Replies: ask.Replies{}}
	for field, value := range k.Fields {
		number, _ := strconv.ParseFloat(value, 64)
		switch field {
		case "stock":
		case "copies":
			c.Copies = int(number)
		case "unit":
			c.Size.Unit = value
		case "mirror":
			on := value == "true"
			c.Mirror = &on
		case "width_mm":
			c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: number}
		default:
			t.Fatalf("field %s", field)
		}
	}
	return c
}
