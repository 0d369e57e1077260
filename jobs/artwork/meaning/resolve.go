// Package meaning turns a drawing whose true size is known into artwork: it
// gives every line an operation by the workshop's convention and the material,
// has artwork/mend repair the lines, and asks about what only a person can
// decide.
package meaning

import (
	"context"
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// Request is what the job needs besides the drawing and its size.
type Request struct {
	Convention workshop.Convention `json:"convention"`
	Stock      workshop.Stock      `json:"stock"`
	Purpose    string              `json:"purpose"`          // pieces, lettering or stencil, as weeding.Purpose
	Mirror     *bool               `json:"mirror,omitempty"` // what the caller wants; nil: the stock's rule
	MendsOff   []string            `json:"mends_off,omitempty"`
	// OutlinesApart says that outlines of one shape that cross stay as drawn.
	OutlinesApart bool        `json:"outlines_apart,omitempty"`
	Replies       ask.Replies `json:"replies,omitempty"`
	// Only says by the number of a shape whether it is cut, where that is known already:
	// all others are left aside, whatever the convention says. Nil: nothing is known.
	Only []bool `json:"-"`
}

// The purposes that lines are judged by: letters are peeled free of what is
// round them, the openings of a stencil fall out of the sheet.
const (
	lettering = "lettering"
	stencil   = "stencil"
)

// desk is one drawing being resolved.
type desk struct {
	req       Request
	lim       mend.Limits
	given     *size.KnownLength // what is made gets this length
	budget    *budget.Budget
	effort    *mend.Effort
	crowd     *mend.Crowd
	strokes   []artwork.Stroke
	aside     []artwork.Span
	turned    bool          // by mirror
	page      *geometry.Box // the frame at true size
	pending   geometry.Box  // of the lines that wait for an answer
	taken     geometry.Box  // of the lines that the stock takes, and of those that nobody knows yet
	longest   float64       // the longest straight line of what is run, as drawn, in mm
	savedMM   float64
	findings  []finding.Finding
	questions []ask.Question
}

// Resolve makes the artwork of d at the true size s. What is wrong with the
// drawing stands in the artwork's findings, what has to be asked in its
// questions; lines that wait for an answer are left out until it is there.
// Coordinates are mm with the lower left corner of the strokes at the origin.
//
// An error means that ctx has ended, or that d and s do not belong together or
// hold numbers that are not finite; it is no fault of the person who drew.
func Resolve(ctx context.Context, d *drawing.Drawing, s *size.Result, req Request) (a *artwork.Artwork, err error) {
	stopped := budget.Run(ctx, func(b *budget.Budget) {
		k := &desk{req: req, lim: mend.DefaultLimits(), given: s.Known, pending: geometry.EmptyBox(), budget: b}
		a, err = keepLength(k, d, s)
	})
	if stopped != nil {
		return nil, stopped
	}
	return a, err
}

func (k *desk) resolve(d *drawing.Drawing, s *size.Result) (*artwork.Artwork, error) {
	lines, err := trueLines(k.budget, d, s)
	if err != nil {
		return nil, err
	}
	k.page = pageOf(s)
	lines = k.unlocked(d.Layers, lines)
	k.give(lines, operations(k.req.Stock.Family))
	if err := k.workOut(lines); err != nil {
		return nil, err
	}
	a := k.artwork()
	if k.req.Purpose == stencil {
		a.Sheet = sheetOf(s, a)
	}
	return a, nil
}

// mend repairs the lines.
func (k *desk) mend() {
	r := mend.Lines(k.effort, k.strokes, mend.Options{Limits: k.lim, Off: k.req.MendsOff, Unite: !k.req.OutlinesApart})
	k.strokes = r.Strokes
	k.savedMM += r.SavedMM
	k.findings = append(k.findings, r.Findings...)
}

// note adds a finding.
func (k *desk) note(f finding.Finding) { k.findings = append(k.findings, f) }

// artwork moves everything to the origin and puts it in order.
func (k *desk) artwork() *artwork.Artwork {
	if len(k.strokes) == 0 && len(k.questions) == 0 {
		k.note(finding.New(finding.NothingToCut, 1, nil))
	}
	slices.SortStableFunc(k.strokes, func(a, b artwork.Stroke) int {
		k.budget.Step()
		return a.Shape - b.Shape
	})
	box := geometry.EmptyBox()
	for i := range k.strokes {
		box = box.Union(k.strokes[i].Path.BoundsIn(k.budget))
	}
	if box.Empty() {
		box = geometry.Box{}
	}
	shift := geometry.Translate(-box.Min.X, -box.Min.Y)
	for i := range k.strokes {
		k.budget.Spend(len(k.strokes[i].Path.Segments))
		k.strokes[i].Path = k.strokes[i].Path.Transform(shift)
	}
	for i := range k.findings {
		k.findings[i].Places = finding.Moved(k.findings[i].Places, shift)
	}
	k.questions = screen(k)
	for i := range k.questions {
		k.questions[i] = k.questions[i].Moved(shift)
	}
	return &artwork.Artwork{
		Strokes: k.strokes, Aside: spans(k.budget, k.aside), Origin: box.Min, Turned: k.turned, Bounds: geometry.Box{Max: geometry.Pt(box.Width(), box.Height())},
		SavedMM: k.savedMM, Findings: k.findings, Questions: k.questions,
	}
}

// line is one path of the drawing at true size, in mm, with its shape.
type line struct {
	path    geometry.Path
	shape   *drawing.Shape
	number  int // of the shape
	at      int // among all lines
	widthMM float64
	locked  bool          // on a layer that whoever drew has locked
	fold    workshop.Side // by the convention
}

// atLeast reports whether l is drawn that wide, but for rounding in the scale.
func (l *line) atLeast(widthMM float64) bool { return l.widthMM >= widthMM*(1-1e-9) }

// trueLines returns the paths of d at true size without the frame and what lies
// in other drawings of the file.
func trueLines(b *budget.Budget, d *drawing.Drawing, s *size.Result) ([]line, error) {
	taken, err := takenOut(d, s)
	if err != nil {
		return nil, err
	}
	maps := map[[2]int]geometry.Affine{}
	for _, placed := range s.Placed {
		for _, p := range placed.Parts {
			b.Step()
			maps[[2]int{p.Shape, p.Path}] = placed.Transform
		}
	}
	n := 0
	for i := range d.Shapes {
		n += len(d.Shapes[i].Paths)
	}
	lines := make([]line, 0, n)
	for i := range d.Shapes {
		shape := &d.Shapes[i]
		for j, p := range shape.Paths {
			key := [2]int{i, j}
			if taken.whole[key] {
				continue
			}
			m, own := maps[key]
			if !own {
				m = s.Transform
			}
			b.Spend(1 + len(p.Segments))
			for _, part := range without(p, taken.parts[key]) {
				part = part.Transform(m)
				if !part.Finite() {
					return nil, fmt.Errorf("meaning: path %d of shape %d is not finite at true size", j, i)
				}
				lines = append(lines, line{path: part, shape: shape, number: i, at: len(lines), widthMM: shape.StrokeWidth * m.MeanScale()})
			}
		}
	}
	return lines, nil
}

// taken is what of a drawing is no artwork, by shape and path: whole paths, and
// segments of others.
type taken struct {
	whole map[[2]int]bool
	parts map[[2]int][]int
}

// takenOut lists the frame and what lies in other drawings of the file.
func takenOut(d *drawing.Drawing, s *size.Result) (taken, error) {
	t := taken{map[[2]int]bool{}, map[[2]int][]int{}}
	for _, p := range slices.Concat(s.FrameParts, s.LeftOut) {
		if p.Shape < 0 || p.Shape >= len(d.Shapes) || p.Path < 0 || p.Path >= len(d.Shapes[p.Shape].Paths) {
			return taken{}, fmt.Errorf("meaning: the frame names path %d of shape %d, which the drawing lacks", p.Path, p.Shape)
		}
		key := [2]int{p.Shape, p.Path}
		t.whole[key] = t.whole[key] || len(p.Segments) == 0
		t.parts[key] = append(t.parts[key], p.Segments...)
	}
	return t, nil
}

// without returns what is left of p when the numbered segments are taken out.
func without(p geometry.Path, segments []int) []geometry.Path {
	if len(segments) == 0 {
		return []geometry.Path{p}
	}
	var parts []geometry.Path
	from, open := p.Start, false
	for i, s := range p.Segments {
		if slices.Contains(segments, i) {
			open = false
		} else {
			if !open {
				parts, open = append(parts, geometry.Path{Start: from}), true
			}
			last := &parts[len(parts)-1]
			last.Segments = append(last.Segments, s)
		}
		from = s.End
	}
	if n := len(parts) - 1; p.Closed && n > 0 && parts[0].Start == parts[n].End() && open && !slices.Contains(segments, 0) {
		parts[n].Segments = append(parts[n].Segments, parts[0].Segments...)
		parts = parts[1:]
	}
	return parts
}
