package local_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// awkwardDir is where the questions about awkward drawings are laid out for a
// person, and from where the person's answers are read.
var awkwardDir = flag.String("awkward", "", "folder for TestAwkward: writes what a person is asked into it, and judges its answers.json")

// awkward is a drawing that a service can read in more than one way, with what
// the person who drew it knows.
type awkward struct {
	name    string
	file    string
	knows   string // in that person's words
	choices plan.Choices
	w, h    float64           // mm, of the finished work
	right   map[string]string // answers by the ID of the question, but for that about the size
}

// awkwards are all rows; invented, as a workshop meets them.
func awkwards() []awkward { return append(awkwardSizes(), awkwardLines()...) }

// mostRounds bounds how often a drawing is sent again.
const mostRounds = 7

// Who knows what the drawing is meant to be answers every question about it:
// the right answer is offered and makes the work as large as it was meant.
// With -awkward, the answers are a person's.
func TestAwkward(t *testing.T) {
	given := persons(t)
	rows, right := awkwards(), 0
	for i := range rows {
		row := &rows[i]
		t.Run(row.name, func(t *testing.T) {
			truth := row.settle(t, row.truly)
			if truth == nil {
				return
			}
			if d := math.Max(math.Abs(truth.Bounds.Width()-row.w), math.Abs(truth.Bounds.Height()-row.h)); d > 0.05 {
				t.Errorf("the work measures %v, want %g × %g mm", truth.Bounds, row.w, row.h)
			}
			if *awkwardDir == "" {
				return
			}
			got := row.settle(t, func(q *ask.Question) (ask.Reply, bool) { r, ok := given[row.name][q.ID]; return r.of(q), ok })
			switch {
			case got == nil:
				t.Logf("open: %s", row.name)
			case same(got, truth):
				right++
			default:
				t.Logf("WRONG: %s", row.name)
			}
		})
	}
	if *awkwardDir != "" {
		t.Logf("%d of %d drawings came out as they were meant", right, len(rows))
	}
}

// settle sends the drawing until nothing is asked, and returns the artwork, or
// nil where a question stays open.
func (row *awkward) settle(t *testing.T, answer func(*ask.Question) (ask.Reply, bool)) *artwork.Artwork {
	t.Helper()
	d := desk{workshop.Example(), row.choices}
	d.choices.Replies = ask.Replies{}
	for range mostRounds {
		r := d.run(t, row.file)
		if len(r.questions) == 0 {
			if finding.Worst(r.findings) == finding.Block {
				t.Errorf("refused:%s", r)
				return nil
			}
			return list.Artwork.In(r.results)
		}
		open := false
		for _, q := range r.questions {
			settled := false
			for _, one := range ask.All([]ask.Question{q}) { // the group, or its parts one by one
				if reply, ok := answer(&one); ok {
					d.choices.Replies[one.ID], settled = reply, true
				}
			}
			open = open || !settled
		}
		if open {
			row.show(t, r)
			return nil
		}
	}
	t.Errorf("asked for the %dth time", mostRounds)
	return nil
}

// truly answers as the drawing was meant.
func (row *awkward) truly(q *ask.Question) (ask.Reply, bool) {
	if want, ok := row.right[q.ID]; ok {
		return ask.Reply{Answer: want, Reason: reasonFor(q, want)}, true
	}
	var length *ask.Answer
	for i := range q.Answers {
		a := &q.Answers[i]
		if math.Abs(a.WidthMM-row.w) <= 0.05 && math.Abs(a.HeightMM-row.h) <= 0.05 {
			return ask.Reply{Answer: a.ID}, true
		}
		if a.NeedsMM && length == nil {
			length = a
		}
	}
	if length == nil {
		return ask.Reply{}, false
	}
	return ask.Reply{Answer: length.ID, MM: row.w}, true
}

// reasonFor is what staff say where the answer needs a reason.
func reasonFor(q *ask.Question, answer string) string {
	for _, a := range q.Answers {
		if a.ID == answer && a.NeedsReason {
			return "Tried together with its maker."
		}
	}
	return ""
}

// same reports whether two artworks are cut alike, with the same operations
// within 0.05 mm.
func same(a, b *artwork.Artwork) bool {
	return slices.EqualFunc(a.Strokes, b.Strokes, func(p, q artwork.Stroke) bool {
		return p.Operation == q.Operation && p.Shape == q.Shape && p.Path.Closed == q.Path.Closed &&
			p.Path.Start.Dist(q.Path.Start) <= 0.05 &&
			slices.EqualFunc(p.Path.Segments, q.Path.Segments, func(s, t geometry.Segment) bool { return s.End.Dist(t.End) <= 0.05 })
	})
}

// chosen is what a person wrote down about a question.
type chosen struct {
	Option int     `json:"option"` // from 1
	MM     float64 `json:"mm"`
	Reason string  `json:"reason"`
}

func (c chosen) of(q *ask.Question) ask.Reply {
	if c.Option < 1 || c.Option > len(q.Answers) {
		return ask.Reply{}
	}
	return ask.Reply{Answer: q.Answers[c.Option-1].ID, MM: c.MM, Reason: c.Reason}
}

// persons reads what a person answered, by drawing and question.
func persons(t *testing.T) map[string]map[string]chosen {
	given := map[string]map[string]chosen{}
	if *awkwardDir == "" {
		return given
	}
	text, err := os.ReadFile(filepath.Join(*awkwardDir, "answers.json"))
	if os.IsNotExist(err) {
		return given
	}
	if err == nil {
		err = json.Unmarshal(text, &given)
	}
	if err != nil {
		t.Fatal(err)
	}
	return given
}

// show writes what a person sees: the questions, and the picture beside them.
func (row *awkward) show(t *testing.T, r run) {
	t.Helper()
	if *awkwardDir == "" {
		t.Errorf("no answer for it:%s", r)
		return
	}
	dir := filepath.Join(*awkwardDir, strings.ReplaceAll(row.name, " ", "-"))
	var b strings.Builder
	fmt.Fprintf(&b, "What you know: %s\n", row.knows)
	for _, q := range ask.All(r.questions) {
		fmt.Fprintf(&b, "\nQuestion %q\n%s\n", q.ID, q.Text)
		for i, a := range q.Answers {
			fmt.Fprintf(&b, "  %d. %s", i+1, a.Label)
			if a.WidthMM > 0 {
				fmt.Fprintf(&b, " [%.1f × %.1f mm]", a.WidthMM, a.HeightMM)
			}
			if a.NeedsMM {
				b.WriteString(" (give mm)")
			}
			if a.NeedsReason {
				b.WriteString(" (give a reason)")
			}
			b.WriteString("\n")
		}
	}
	err := os.MkdirAll(dir, 0o755)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "question.txt"), []byte(b.String()), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	draw := list.Row(r.last).Draw
	if draw == nil {
		return
	}
	p, err := draw(t.Context(), list.Shown(r.results), 1)
	if err != nil {
		t.Fatal(err)
	}
	png, err := p.PNG(t.Context(), 2)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "question.png"), png, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}
