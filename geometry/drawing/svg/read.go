package svg

import (
	"context"
	"errors"
	"io"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// farthest is the largest coordinate that is taken seriously, in pixels: a
// kilometre, as in the workshop's table of faults.
const farthest = 1e6 * 96 / 25.4

// reader turns the tree of one file into a drawing.
type reader struct {
	b     *budget.Budget
	opt   Options
	doc   *document
	notes *drawing.Notes

	cascade *cascade
	painter painter
	quota   quota
	canvas  canvas
	clips   clipStore
	boxes   map[*element]geometry.Box // of what groups hold
	unknown bool                      // a percentage had no viewport
}

// Read reads one drawing, packed with gzip or not. A file that cannot be read
// at all gives a *ParseError; one that breaks a limit gives what was read
// before it, with the note limit_reached. Errors of r come back as they are, as
// does the cause of ctx where that ends before the reading does.
func Read(ctx context.Context, r io.Reader, opt Options) (d *drawing.Drawing, err error) {
	if ended := budget.Run(ctx, func(b *budget.Budget) { d, err = read(b, r, opt) }); ended != nil {
		return nil, ended
	}
	return d, err
}

func read(b *budget.Budget, r io.Reader, opt Options) (*drawing.Drawing, error) {
	opt.Limits = opt.Limits.filled()
	if opt.Language == "" {
		opt.Language = "en"
	}
	notes := &drawing.Notes{}
	out := &drawing.Drawing{Format: "svg", Unit: drawing.Unit{Name: "px", MM: 25.4 / 96}, Shapes: []drawing.Shape{}, Kinds: map[string]int{}}
	doc, err := load(b, r, opt.Limits, notes)
	var over *limitError
	switch {
	case errors.As(err, &over):
		notes.Limit(over.name, over.allowed)
	case err != nil:
		return nil, err
	default:
		newReader(b, opt, doc, notes, out).run()
	}
	out.Notes = notes.All()
	return out, nil
}

func newReader(b *budget.Budget, opt Options, doc *document, notes *drawing.Notes, out *drawing.Drawing) *reader {
	styles := &cascade{b: b, sheet: newSheet(b, doc.sheets, opt.Limits.StyleSteps, notes), inlines: map[string]inline{}}
	r := &reader{
		b: b, opt: opt, doc: doc, notes: notes, cascade: styles,
		painter: painter{b: b, notes: notes, doc: doc, cascade: styles, stops: map[string]rgba{}},
		quota:   quota{b: b, limits: opt.Limits, notes: notes},
		canvas:  canvas{notes: notes, out: out, layers: map[string]int{}},
		clips:   clipStore{known: map[clipKey][]int{}},
		boxes:   map[*element]geometry.Box{},
	}
	r.painter.unknown = &r.unknown
	return r
}

// load turns the bytes of a file into a tree.
func load(b *budget.Budget, r io.Reader, limits Limits, notes *drawing.Notes) (*document, error) {
	data, err := unpack(b, r, limits)
	if err != nil {
		return nil, err
	}
	text, guessed, err := toUTF8(b, data)
	if err != nil {
		return nil, err
	}
	if guessed {
		notes.Add(drawing.EncodingGuessed, "", nil)
	}
	return readTree(b, text, limits, notes)
}

func (r *reader) run() {
	out := r.canvas.out
	out.Version = r.doc.root.get("version")
	out.Kinds = r.doc.kinds
	r.drawRoot()
	r.canvas.settleFlips()
	out.Clips = r.clips.regions.Clips()
	if r.cascade.sheet.steps.Over() {
		r.notes.Limit(limitStyleSteps, r.quota.limits.StyleSteps)
	}
	if r.unknown {
		r.notes.Add(drawing.PercentUnresolved, "", nil)
	}
	for _, kind := range []string{"animate", "animateMotion", "animateTransform", "set", "script"} {
		if r.doc.kinds[kind] > 0 {
			r.notes.Add(drawing.MotionIgnored, kind, nil)
		}
	}
	if c := r.notes.Of(drawing.RasterImage); c != nil && len(out.Shapes) == 0 {
		c.Weight = drawing.Blocks // there is nothing else to cut
	}
	if len(out.Shapes) == 0 {
		r.notes.Add(drawing.EmptyDrawing, "", nil)
	}
}

// within reports whether a side can be that of a sheet: between a thousandth of
// a pixel and the farthest coordinate.
func within(side float64) bool { return side >= 1e-3 && side <= farthest }

// ordinary reports whether a scale is one that a drawing can have been placed
// at: what is beyond has lost its digits.
func ordinary(scale float64) bool { return scale >= 1e-9 && scale <= 1e9 || scale == 0 }

// finite reports whether all of b lies within the farthest coordinate.
func finite(b geometry.Box) bool {
	return math.Max(math.Max(-b.Min.X, -b.Min.Y), math.Max(b.Max.X, b.Max.Y)) <= farthest && b.Min.Finite() && b.Max.Finite()
}
