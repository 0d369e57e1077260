package lesson_test

import (
	"bytes"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/lesson"
)

// What the words of a lesson say is seen in its pictures: dashes, what a clip hides, what
// is missing, the sheet, a film that covers another, mirrored work, rings in groups that
// show the size. What lies in the file or the workshop alone makes no difference to them.
func TestPicturesShowWhatIsSaid(t *testing.T) {
	list := jobs.NewList()
	for _, c := range []struct {
		code         finding.Code
		wrong, right string // of their SVG
		not          string // in the right one
		same         bool
	}{
		{code: finding.DashedLine, wrong: `stroke-dasharray="8 5"`, not: "stroke-dasharray"},
		{code: finding.ClipPathUsed, wrong: "Hidden, and in the file all the same", not: "Hidden"},
		{code: finding.LiveText, wrong: "What is missing", not: "What is missing"},
		{code: finding.OffTheStock, wrong: "The sheet", right: "The sheet"},
		{code: finding.FilmOrder, right: `fill="#ffffff" fill-rule="evenodd" stroke="#646c7d"`, not: "opacity"},
		{code: finding.FilmHidden, not: "opacity"},
		{code: finding.FillOutline, wrong: ` opacity="0.35"`, not: ` opacity="`},
		{code: finding.RegionsUnclear, wrong: `fill="#a6d1d9"`, not: "#a6d1d9"},
		{code: finding.FrameBeside, wrong: "#8e2464", not: "#8e2464"},
		{code: finding.NestedScale, wrong: "#8e2464", not: "enlarged"},
		{code: finding.LooseSegments, wrong: "enlarged", right: "enlarged"},
		{code: finding.MirrorAgainstRule},
		{code: finding.NoMat, same: true},
		{code: finding.EncodingGuessed, same: true},
	} {
		l, group, ok := lesson.Of(c.code)
		if !ok {
			t.Fatalf("no lesson of %s", c.code)
		}
		wrong, right := drawn(t, list, group, l)
		if !bytes.Contains(wrong, []byte(c.wrong)) || !bytes.Contains(right, []byte(c.right)) {
			t.Errorf("%s lacks %q or %q:\n%s\n%s", c.code, c.wrong, c.right, wrong, right)
		}
		if c.not != "" && bytes.Contains(right, []byte(c.not)) {
			t.Errorf("%s: %q in the right picture", c.code, c.not)
		}
		if bytes.Equal(wrong, right) != c.same {
			t.Errorf("%s: the pictures are the same: %t", c.code, !c.same)
		}
	}
}

// drawn returns both pictures of a lesson as SVG.
func drawn(t *testing.T, list *jobs.List, group lesson.Group, l lesson.Lesson) (wrong, right []byte) {
	t.Helper()
	a, err := l.Wrong.Run(t.Context(), list)
	if err != nil {
		t.Fatal(err)
	}
	b, err := l.Right.Run(t.Context(), list)
	if err != nil {
		t.Fatal(err)
	}
	pictures, err := lesson.Draw(t.Context(), l.Code, group, a, b)
	if err != nil {
		t.Fatal(err)
	}
	if wrong, err = pictures[0].SVG(t.Context()); err != nil {
		t.Fatal(err)
	}
	if right, err = pictures[1].SVG(t.Context()); err != nil {
		t.Fatal(err)
	}
	return wrong, right
}
