package local_test

import (
	"cmp"
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// What is made has the length that was given for it, whatever the rules for
// colours and the answers leave out of what was measured before.
func TestGivenLengthIsThatOfWhatIsMade(t *testing.T) {
	const (
		box   = `<path fill="none" stroke="#007c91" stroke-width="0.1" d="M10 10h60v40h-60z"/>`
		red   = `<path fill="none" stroke="#ff0000" stroke-width="0.1" d="M10 10h160v1h-1"/>`
		fold  = `<path fill="none" stroke="#7a3eb1" stroke-width="0.1" d="M10 20h120"/>`
		thick = `<path fill="#007c91" stroke="#007c91" stroke-width="4" d="M10 10h60v40h-60z"/>`
	)
	notes := func(d *workshop.Data) {
		c := &d.Conventions[0]
		c.Rules = append(c.Rules, workshop.Rule{Colour: drawing.RGB(0xff, 0, 0), Means: workshop.MeansNothing})
	}
	frames := func(d *workshop.Data) {
		c := &d.Conventions[0]
		c.Rules = append(c.Rules, workshop.Rule{Colour: drawing.RGB(0xff, 0, 0), Means: workshop.MeansFrame})
	}
	replied := func(id, answer string) ask.Replies { return ask.Replies{id: {Answer: answer}} }
	for _, row := range []struct {
		name    string
		file    string
		edit    func(*workshop.Data)
		on      plan.Choices
		replies ask.Replies
		of      string
		w, h    float64
		kept    bool    // it had to be seen to
		drawn   float64 // how wide it is in the file, which is in mm; 0: 60
	}{
		{name: "nothing is left out", file: page(box), on: onCard, of: size.Width, w: 90, h: 60},
		{name: "a colour means nothing", file: page(box + red), edit: notes, on: onCard, of: size.Width, w: 90, h: 60, kept: true},
		{name: "the height, a colour means nothing", file: page(box + `<path fill="none" stroke="#ff0000" d="M10 5v90"/>`), edit: notes, on: onCard, of: size.Height, w: 90, h: 60, kept: true},
		{name: "the longest line means nothing", file: page(box + red), edit: notes, on: onCard, of: size.LongestLine, w: 90, h: 60, kept: true},
		{name: "an answer leaves lines out", file: page(box + red), on: onCard, replies: replied("artwork/line:#ff0000", "nothing"), of: size.Width, w: 90, h: 60, kept: true},
		{name: "an answer takes lines in", file: page(box + red), on: onCard, replies: replied("artwork/line:#ff0000", "pen"), of: size.Width, w: 90, h: 22.5, drawn: 160},
		{name: "the stock takes no folds", file: page(box + fold), on: onFilm, replies: replied("artwork/operation:score", "nothing"), of: size.Width, w: 90, h: 60, kept: true},
		{name: "a colour means the frame", file: page(box + `<path fill="none" stroke="#ff0000" d="M4 4h95v71h-95z"/>`), edit: frames, on: onCard, of: size.Width, w: 90, h: 60, kept: true},
		{name: "the rectangle is a piece", file: page(`<path fill="none" stroke="#007c91" d="M10 10h63v89.1h-63z"/><path fill="none" stroke="#007c91" d="M20 20h21v21h-21z"/>`),
			on: onFilm, replies: replied(size.PieceQuestionID, size.AnswerPieces), of: size.Width, w: 63, h: 89.1, drawn: 63},
		{name: "cut at the edge that shows", file: page(thick), on: onFilm, replies: replied("artwork/painted_edge", "edge"), of: size.Width, w: 90, h: 44.0 / 64 * 90, kept: true, drawn: 64},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := desk{workshop.Example(), row.on}
			if row.edit != nil {
				row.edit(&d.data)
			}
			mm := map[string]float64{size.Width: row.w, size.Height: row.h, size.LongestLine: row.w}[row.of]
			d.choices.Size.KnownLength, d.choices.Replies = &size.KnownLength{Of: row.of, MM: mm}, row.replies
			r := d.run(t, row.file)
			if r.last != "" {
				t.Fatalf("open:%s", r)
			}
			b := list.Artwork.In(r.results).Bounds
			if math.Abs(b.Width()-row.w) > 1e-6 || math.Abs(b.Height()-row.h) > 1e-6 {
				t.Errorf("made %.6f × %.6f mm, want %g × %g", b.Width(), b.Height(), row.w, row.h)
			}
			factor := row.w / cmp.Or(row.drawn, 60) * 25.4 / 96 // the unit of an SVG file is the pixel of CSS
			if z := view.Gather(plan.Ready, &plan.Request{}, nil, list.Parts(r.results)).Size; math.Abs(z.X-factor) > 1e-6 || math.Abs(z.Y-factor) > 1e-6 || math.Abs(z.WidthMM-row.w) > 1e-6 {
				t.Errorf("told are %.6f and %.6f mm for one of the file, want %.6f, and %.6f mm of width", z.X, z.Y, factor, z.WidthMM)
			}
			f := r.find(finding.LengthKept)
			if (f != nil) != row.kept || f != nil && (f.Severity != finding.Mended || !f.Mend.Applied) {
				t.Errorf("said %+v, want that it is said: %v", f, row.kept)
			}
			if !row.kept {
				return
			}
			d.choices.Options.MendsOff = []string{meaning.MendLength}
			off := d.run(t, row.file)
			if f := off.find(finding.LengthKept); f == nil || f.Severity != finding.Warn || list.Artwork.In(off.results).Bounds == b {
				t.Errorf("switched off: %+v", f)
			}
		})
	}
}

// The size that an answer tells is the one that it makes, where a length is given.
func TestAnswersTellTheGivenLength(t *testing.T) {
	const box = `<path fill="none" stroke="#007c91" stroke-width="0.1" d="M10 10h60v40h-60z"/>`
	for _, row := range []struct {
		id, file string
		on       plan.Choices
		mm       float64
	}{
		{"artwork/line:#ff0000", page(box + `<path fill="none" stroke="#ff0000" stroke-width="0.1" d="M10 9h160v-1h-1"/>`), onCard, 90},
		{size.PieceQuestionID, page(`<path fill="none" stroke="#007c91" d="M10 10h105.3v148.2h-105.3z"/><path fill="none" stroke="#007c91" stroke-width="0.1" d="M20 20h42v42h-42z"/>`), onFilm, 42},
	} {
		d := desk{workshop.Example(), row.on}
		d.choices.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: row.mm}
		asked := d.run(t, row.file)
		q := asked.question(row.id)
		if q == nil {
			t.Errorf("%s is not asked:%s", row.id, asked)
			continue
		}
		for _, a := range q.Answers {
			d.choices.Replies = ask.Replies{q.ID: {Answer: a.ID}}
			b := list.Artwork.In(d.run(t, row.file).results).Bounds
			told, made := fmt.Sprintf("%.6f × %.6f", a.WidthMM, a.HeightMM), fmt.Sprintf("%.6f × %.6f", b.Width(), b.Height())
			if told != made {
				t.Errorf("%s: %s: told %s, made %s", row.id, a.ID, told, made)
			}
		}
	}
}
