package view

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/weeding"
)

// Digest is what one result adds to the view of a plan. It is kept beside the
// result, so that a plan can be shown without reading any result, however
// large. What a job has nothing to say of stays zero.
type Digest struct {
	Counts Counts `json:"counts,omitzero"`

	// InDrawing says that the places of the job's findings are in drawing units.
	InDrawing bool             `json:"in_drawing,omitempty"`
	UnitMM    float64          `json:"unit_mm,omitempty"`   // by the file's own unit
	Transform *geometry.Affine `json:"transform,omitempty"` // drawing units to mm
	Origin    *geometry.Point  `json:"origin,omitempty"`    // of the artwork, in mm of the drawing

	Scale float64     `json:"scale,omitempty"` // of the artwork against the size; 0: none
	Made  *[2]float64 `json:"made,omitempty"`  // width and height of what is made, in mm

	Size     *Size              `json:"size,omitempty"`
	Stack    *Stack             `json:"stack,omitempty"`
	Weeding  *Weeding           `json:"weeding,omitempty"`
	Layout   *Layout            `json:"layout,omitempty"`
	Usage    *layout.Usage      `json:"usage,omitempty"`
	Passes   []Pass             `json:"passes,omitempty"`
	Loads    int                `json:"loads,omitempty"` // that have passes
	Estimate *estimate.Estimate `json:"estimate,omitempty"`
}

// Counts say how much there is to compute with, for estimates of what that
// will take.
type Counts struct {
	Bytes    int `json:"bytes,omitempty"`    // of the file
	Segments int `json:"segments,omitempty"` // as drawn
	Strokes  int `json:"strokes,omitempty"`  // of one copy
	Copies   int `json:"copies,omitempty"`
}

// With returns c with what o counts in its place.
func (c Counts) With(o Counts) Counts {
	pick := func(a, b int) int {
		if b > 0 {
			return b
		}
		return a
	}
	return Counts{pick(c.Bytes, o.Bytes), pick(c.Segments, o.Segments), pick(c.Strokes, o.Strokes), pick(c.Copies, o.Copies)}
}

// OfDrawing is the digest of what was read.
func OfDrawing(d *read.Result) Digest {
	segments := 0
	for i := range d.Shapes {
		for _, p := range d.Shapes[i].Paths {
			segments += len(p.Segments)
		}
	}
	return Digest{InDrawing: true, UnitMM: d.Unit.MM, Counts: Counts{Segments: segments}}
}

// Size is the true size in short.
type Size struct {
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
	X        float64 `json:"mm_per_unit_x"`
	Y        float64 `json:"mm_per_unit_y"`
	Cause    string  `json:"cause"`
	Why      string  `json:"why"`
	Frame    string  `json:"frame,omitempty"`
}

// tellMM is by how much what is made has to differ from what was measured before it
// is told instead: a tenth of a millimetre is what a ruler shows.
const tellMM = 0.05

// made returns s as what is made of the artwork has it: lines that were measured
// may be left out of it.
func (s *Size) made(d *Digest) *Size {
	out := *s
	if d.Scale != 0 {
		out.X, out.Y = s.X*d.Scale, s.Y*d.Scale
	}
	if w, h := d.Made[0], d.Made[1]; math.Abs(w-s.WidthMM) > tellMM || math.Abs(h-s.HeightMM) > tellMM {
		out.WidthMM, out.HeightMM = w, h
	}
	return &out
}

// OfSize is the digest of the true size; its Size is nil while that is not
// settled.
func OfSize(r *size.Result) Digest {
	d := Digest{InDrawing: true, Transform: &r.Transform}
	if len(r.Questions) > 0 || finding.Worst(r.Findings) == finding.Block {
		return d
	}
	d.Size = &Size{WidthMM: r.WidthMM, HeightMM: r.HeightMM, X: r.X, Y: r.Y, Cause: r.Cause, Why: r.Why}
	if r.Frame != nil {
		d.Size.Frame = r.Frame.Name
	}
	return d
}

// OfArtwork is the digest of the artwork.
func OfArtwork(a *artwork.Artwork) Digest {
	d := Digest{Origin: &a.Origin, Scale: a.Scale, Stack: ofStack(a.Stack), Counts: Counts{Strokes: len(a.Strokes)}}
	if len(a.Questions) == 0 && len(a.Strokes) > 0 {
		work := a.Bounds
		if a.Stack != nil {
			work = a.Stack.Work
		}
		d.Made = &[2]float64{work.Width(), work.Height()}
	}
	return d
}

// Weeding is the weeding map in numbers.
type Weeding struct {
	Kept        int            `json:"kept"` // pieces, without register marks
	Surrounds   int            `json:"surrounds"`
	Grounds     int            `json:"grounds"`
	Counters    int            `json:"counters"`
	Fragile     int            `json:"fragile"`
	ReliefLines int            `json:"relief_lines"`
	Bridges     int            `json:"bridges"`
	BenchS      float64        `json:"bench_s,omitempty"` // weeding all copies, in the view of a plan
	Effort      weeding.Effort `json:"effort"`
	Risk        string         `json:"risk,omitempty"` // what is cut below the limits, and why
}

// OfWeeding is the digest of a weeding map.
func OfWeeding(m *weeding.Map) Digest {
	w := &Weeding{Kept: m.Pieces(), Effort: m.Effort, Bridges: m.BridgeCount(), Risk: m.Risk}
	for i := range m.Regions {
		r := &m.Regions[i]
		if r.Fragile {
			w.Fragile++
		}
		switch r.Class {
		case weeding.Surround:
			w.Surrounds++
		case weeding.Ground:
			w.Grounds++
		case weeding.Counter:
			w.Counters++
		}
	}
	for i := range m.Strokes {
		if m.Strokes[i].Added == artwork.Relief {
			w.ReliefLines++
		}
	}
	return Digest{Weeding: w, Counts: Counts{Strokes: len(m.Strokes)}}
}

// Layout is the layout in numbers.
type Layout struct {
	Loads    int  `json:"loads"`
	Panels   int  `json:"panels,omitempty"` // of which each copy is made; 0: it is whole
	Copies   int  `json:"copies"`
	Shared   bool `json:"shared,omitempty"` // several drawings, or pieces by themselves, lie on its loads
	Mirrored bool `json:"mirrored"`
	// Nested is what nesting came to, where it was asked for.
	Nested *layout.Nested `json:"nested,omitempty"`
}

// OfLayout is the digest of a layout.
func OfLayout(l *layout.Layout) Digest {
	short := &Layout{Loads: len(l.Loads), Shared: l.Shared(), Mirrored: l.Mirrored, Nested: l.Nested}
	d := Digest{Layout: short, Usage: &l.Usage, Weeding: ofMaps(l)}
	for _, ld := range l.Loads {
		if l.Shared() { // all of it is placed at once
			short.Copies += len(ld.Places)
		} else {
			short.Copies += len(ld.Placements)
		}
	}
	if l.Panels != nil {
		short.Panels = len(l.Panels.List)
		short.Copies /= short.Panels
	}
	return d
}

// Pass is one pass in short.
type Pass struct {
	Load      int               `json:"load"`
	Number    int               `json:"number"`
	Operation artwork.Operation `json:"operation"`
	ForceGF   float64           `json:"force_gf"`
	SpeedMMS  float64           `json:"speed_mm_s"`
	Passes    int               `json:"passes"`
	Setting   string            `json:"setting,omitempty"` // its ID
	Blade     string            `json:"blade,omitempty"`   // its kind; empty: a pen or a blunt tip
	Tested    bool              `json:"tested"`            // false: a start point, make a test cut
	// Standing is how the setting stood when the plan was sent; Gather puts it in.
	Standing *trial.Standing `json:"standing,omitempty"`
	TestMark bool            `json:"test_mark,omitempty"` // it cuts a test mark and nothing else
	Strokes  int             `json:"strokes"`
	CutMM    float64         `json:"cut_mm"`
	TravelMM float64         `json:"travel_mm"`
	Lifts    int             `json:"lifts"`
	MotionS  float64         `json:"motion_s"`
}

// OfPasses is the digest of the passes, without their runs. Loads have files once
// nothing about the machine is asked.
func OfPasses(p *passes.Plan) Digest {
	d := Digest{Passes: []Pass{}}
	if len(p.Questions) == 0 {
		d.Loads = len(p.Loads)
	}
	for _, ld := range p.Loads {
		for _, s := range ld.Passes {
			d.Passes = append(d.Passes, Pass{
				Load: ld.Number, Number: s.Number, Operation: s.Operation,
				ForceGF: s.Setting.ForceGF, SpeedMMS: s.Setting.SpeedMMS, Passes: s.Setting.Passes,
				Setting: s.Setting.ID, Blade: s.Blade, Tested: s.Setting.TestedBy != "", TestMark: s.Mark != nil, Strokes: s.Lines(),
				CutMM: s.CutMM, TravelMM: s.TravelMM, Lifts: s.Lifts, MotionS: s.MotionS,
			})
		}
	}
	return d
}

// OfEstimate is the digest of an estimate: all of it but the findings, which
// the plan lists.
func OfEstimate(e *estimate.Estimate) Digest { return Digest{Estimate: e} }

// Part is what one job says to the plan.
type Part struct {
	Job       string
	Findings  []finding.Finding
	Questions []ask.Question
	Digest    Digest
}
