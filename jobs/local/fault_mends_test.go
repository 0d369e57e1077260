package local_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// Every mend of the table can be switched off by its ID: the plan then leaves
// the drawing as it was and says what the mend would change.
func TestMendsCanBeSwitchedOff(t *testing.T) {
	rows := slices.DeleteFunc(faults(), func(row fault) bool { return row.mend == "" })
	rows = append(rows, stretchedByAnswer(), lengthByRule())
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			made := row.desk().run(t, row.with).find(row.code)
			if made == nil || made.Mend == nil {
				t.Fatalf("no mend %s", row.mend)
			}
			row.choices.Options.MendsOff = append(slices.Clone(row.choices.Options.MendsOff), row.mend)
			got := row.desk().run(t, row.with)
			f := got.find(told(row))
			if f == nil || f.Mend == nil {
				t.Fatalf("the mend is not told:%s", got)
			}
			if f.Mend.ID != row.mend || f.Mend.Applied || f.Mend.Effect != made.Mend.Effect || f.Severity == finding.Mended {
				t.Errorf("%s %+v, want it not applied, with the effect %q", f.Severity, f.Mend, made.Mend.Effect)
			}
			checkUntouched(t, &row, got)
		})
	}
}

// Every mend that can be named has a row above, and no other is taken.
func TestMendsAreKnown(t *testing.T) {
	rows := append(faults(), stretchedByAnswer(), lengthByRule())
	for _, id := range list.Mends() {
		if !slices.ContainsFunc(rows, func(row fault) bool { return row.mend == id }) {
			t.Errorf("no fault is mended by %s", id)
		}
	}
	for _, row := range rows {
		if row.mend != "" && !slices.Contains(list.Mends(), row.mend) {
			t.Errorf("%s: the mend %s cannot be switched off", row.name, row.mend)
		}
	}
	choices := onCard
	choices.Options.MendsOff = []string{list.Mends()[0], "stray_point"}
	_, err := list.Choose(workshop.Example(), choices)
	var refused *plan.ChoiceError
	if !errors.As(err, &refused) || refused.Field != "options.mends_off" || !slices.Equal(refused.Known, list.Mends()) {
		t.Fatalf("an unknown mend: %v", err)
	}
	if text := err.Error(); !strings.Contains(text, "stray_point.") || !strings.Contains(text, "stencil_bridges") {
		t.Errorf("the error names neither it nor what there is: %s", text)
	}
}

// told is the fault that is left when the mend of a row is switched off.
func told(row fault) finding.Code {
	if row.code == finding.IslandBridged {
		return finding.StencilIsland
	}
	return row.code
}

// stretchedByAnswer is a stretched drawing for which a person chose to have
// each axis set right by itself.
func stretchedByAnswer() fault {
	choices := onCard
	choices.Replies = ask.Replies{"size/true_size": {Answer: "A4.per_axis"}}
	return fault{name: "axes set right one by one", with: onPage(a4, 1.02, 1), choices: choices,
		code: finding.FrameUnstretched, severity: finding.Mended, count: 1, mend: "size.axes"}
}

// lengthByRule is a drawing whose widest line a rule leaves out after its width was
// given: what is made has that width.
func lengthByRule() fault {
	choices := onCard
	choices.Replies = ask.Replies{"artwork/line:#ff0000": {Answer: "nothing"}}
	choices.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: 90}
	return fault{name: "the width of what is made", choices: choices,
		with: page(`<path fill="none" stroke="#007c91" d="M10 10h60v40h-60z"/><path fill="none" stroke="#ff0000" d="M10 10h160v1h-1"/>`),
		code: finding.LengthKept, severity: finding.Mended, count: 1, mend: "given_length"}
}

// checkUntouched holds a run to the drawing as it was, as far as the mend of
// the row would have changed it.
func checkUntouched(t *testing.T, row *fault, got run) {
	t.Helper()
	s := result(t, list.Size, got.results)
	d := &result(t, list.Read, got.results).Drawing
	switch row.mend {
	case "size.unit", "size.axes":
		if s.X != d.Unit.MM || s.Y != d.Unit.MM {
			t.Errorf("factors %g and %g, the file reads with %g", s.X, s.Y, d.Unit.MM)
		}
		return
	case "size.frame":
		if len(s.FrameParts) > 0 {
			t.Errorf("%d parts of the frame are taken out", len(s.FrameParts))
		}
		return
	case "given_length":
		a := result(t, list.Artwork, got.results) // 90 mm were the width of all that was measured
		if w, want := a.Bounds.Width(), 90*60./160; math.Abs(w-want) > 1e-6 {
			t.Errorf("%g mm wide, as measured it is %g", w, want)
		}
		return
	case "stencil_bridges":
		m := result(t, list.Weeding, got.results)
		checkAmount(t, amountOf(m.Strokes), drawnAmount(d))
		return
	}
	checkAmount(t, amountOf(result(t, list.Artwork, got.results).Strokes), drawnAmount(d))
}

// amount is how much is drawn.
type amount struct {
	paths, segments int
	mm              float64
}

func amountOf(strokes []artwork.Stroke) amount {
	var a amount
	for i := range strokes {
		p := &strokes[i].Path
		a = amount{a.paths + 1, a.segments + len(p.Segments), a.mm + p.Length()}
	}
	return a
}

func drawnAmount(d *drawing.Drawing) amount {
	var a amount
	for i := range d.Shapes {
		for _, p := range d.Shapes[i].Paths {
			a = amount{a.paths + 1, a.segments + len(p.Segments), a.mm + p.Length()*d.Unit.MM}
		}
	}
	return a
}

func checkAmount(t *testing.T, got, want amount) {
	t.Helper()
	if got.paths != want.paths || got.segments != want.segments || math.Abs(got.mm-want.mm) > 1e-6 {
		t.Errorf("left are %+v, drawn were %+v", got, want)
	}
}
