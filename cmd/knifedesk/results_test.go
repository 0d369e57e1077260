package main

import (
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/cmd/knifedesk/scenario/scenariotest"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

var (
	update  = flag.Bool("update", false, "write testdata/results.txt anew")
	decoded = flag.Bool("decoded", false, "hand each result on as it comes back from the store")
)

const resultsFile = "testdata/results.txt"

// The results of the demo's drawings and of the reference drawings, each on
// three stocks, stay as testdata/results.txt has them, to the byte. Whoever
// means to change them raises the revision of the job and runs the test with
// -update; -v prints the lines. The sums are of results with the IDs that
// questions had at first, so that results of before can be compared: see before.
func TestResultsStand(t *testing.T) {
	got := append(stagesLine(), demoLines(t)...)
	got = append(got, referenceLines(t)...)
	if testing.Verbose() {
		fmt.Println(strings.Join(got, "\n"))
	}
	if *update {
		if err := os.WriteFile(resultsFile, []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(resultsFile)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSpace(string(text)), "\n")
	if len(got) != len(want) {
		t.Errorf("%d lines, want %d", len(got), len(want))
	}
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Errorf("line %d:\n got %s\nwant %s", i+1, got[i], want[i])
		}
	}
}

// stagesLine names the jobs with their revisions.
func stagesLine() []string {
	line := "stages"
	for _, row := range jobs.NewList().Rows {
		line += fmt.Sprintf(" %s/%d", row.Name, row.Revision)
	}
	return []string{line}
}

func demoLines(t *testing.T) []string {
	var lines []string
	for _, k := range scenario.Cases() {
		file, err := k.Sheet.Bytes(strings.TrimPrefix(filepath.Ext(k.File), "."))
		if err != nil {
			t.Fatal(err)
		}
		c := scenariotest.Choices(t, k)
		answers := k.Answers
		lines = append(lines, resultLine(t, "demo/"+k.File, file, c, func(qs []ask.Question) (string, ask.Reply) {
			if len(answers) == 0 {
				t.Fatalf("%s: asked beyond its answers: %s", k.Name, qs[0].ID)
			}
			a := answers[0]
			answers = answers[1:]
			for _, q := range qs {
				if q.ID == a.Question {
					return q.ID, ask.Reply{Answer: cmpOr(a.Choose, q.Answers[0].ID), Reason: a.Reason}
				}
			}
			t.Fatalf("%s: %s is not asked", k.Name, a.Question)
			return "", ask.Reply{}
		}))
	}
	return lines
}

func cmpOr(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func referenceLines(t *testing.T) []string {
	var lines []string
	for _, format := range []string{"dxf", "svg", "pdf"} {
		files, err := filepath.Glob(filepath.Join(reference.Path(t, "drawings", format), "*."+format+"*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			file, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			for _, stock := range []string{"card-160-a3", "film-removable-610", "stencil-a3"} {
				c := plan.Choices{Stock: stock, Copies: 2}
				lines = append(lines, resultLine(t, format+"/"+filepath.Base(path), file, c, func(qs []ask.Question) (string, ask.Reply) {
					return qs[0].ID, ask.Reply{Answer: qs[0].Answers[0].ID, MM: 100}
				}))
			}
		}
	}
	return lines
}

// resultLine runs a drawing through the jobs, answers what is asked, up to
// twenty questions, and returns where it ended and a sum of each result.
func resultLine(t *testing.T, name string, file []byte, c plan.Choices, answer func([]ask.Question) (string, ask.Reply)) string {
	t.Helper()
	c.Replies = ask.Replies{}
	list := jobs.NewList()
	req, err := list.Choose(workshop.Example(), c)
	if err != nil {
		t.Fatal(err)
	}
	line := fmt.Sprintf("%s %s", name, c.Stock)
	results := map[jobs.Key]jobs.Result{}
	for i, questions := 0, 0; i < len(list.Rows); i++ {
		nodes, err := jobs.Graph(list.Rows, req, sha256.Sum256(file))
		if err != nil {
			t.Fatal(err)
		}
		n := nodes[i]
		var needs []jobs.Result
		for _, key := range n.Needs {
			needs = append(needs, results[key])
		}
		res, body, err := n.Run(context.Background(), file, needs)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		results[n.Key] = res
		fs, qs := res.Outcome()
		if len(qs) > 0 && questions < 20 {
			id, reply := answer(qs)
			req.Replies[id] = reply
			questions++
			i--
			continue
		}
		if *decoded {
			if results[n.Key], err = n.Row.Decode(context.Background(), body); err != nil {
				t.Fatal(err)
			}
		}
		line += " " + sumOf(before(body))
		if slices.ContainsFunc(fs, blocks) || len(qs) > 0 {
			break
		}
	}
	return line
}

func blocks(f finding.Finding) bool { return f.Severity == finding.Block }

func sumOf(body []byte) string {
	sum := sha256.Sum256(body)
	return fmt.Sprintf("%x", sum[:6])
}

// questionID is where a question stands in a result.
var questionID = regexp.MustCompile(`\{"id":"(read|size|artwork|weeding|layout)/([^"]*)","code":`)

// before puts into a result the IDs that questions had until they began with
// the name of the job that asks.
func before(body []byte) []byte {
	return questionID.ReplaceAllFunc(body, func(m []byte) []byte {
		at := questionID.FindSubmatch(m)
		id := string(at[2])
		switch job := string(at[1]); {
		case job == "read":
			id = "read:" + id
		case id == "true_size":
			id = "size"
		case id == "stencil_edge":
			id = "regions:stencil_edge"
		}
		return []byte(`{"id":"` + id + `","code":`)
	})
}
