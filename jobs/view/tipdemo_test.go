package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/cmd/knifedesk/scenario/scenariotest"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
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
	choices, list := scenariotest.Choices(t, k), jobs.NewList()
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

// The loads of the demo's class set are cut true as well.
func TestTheTipCutsTheDemosClass(t *testing.T) {
	tags, err := scenario.ClassSet()
	if err != nil {
		t.Fatal(err)
	}
	drawings := map[string]string{}
	for _, tag := range tags {
		if tag.Fault == "" {
			drawings[tag.Code] = string(tag.Body)
		}
	}
	p := sharedIn(t, offsetIn(workshop.Example(), 0.5), plan.Choices{Stock: "card-160-a4"}, drawings)
	if p.Loads() == 0 || len(drawings) < 20 {
		t.Fatalf("%d loads of %d tags", p.Loads(), len(drawings))
	}
	p.holdFiles(t, ownReaders(), 2)
}
