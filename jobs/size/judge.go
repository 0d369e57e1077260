package size

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// judge weighs the evidence of one survey against what the caller declared.
type judge struct {
	*survey
	req      Request
	file     unit // as the file reads
	stated   bool // the file states its unit
	sizes    []named
	causes   []cause
	declared *named    // what the frame is, where somebody said so
	byCaller bool      // the caller did, and not only the workshop's convention
	pages    []*framed // where there are several frames
	whole    work      // all that is drawn but for the frame layers
	onLayer  []Part    // all that is drawn on the frame layers
}

func newJudge(b *budget.Budget, d *drawing.Drawing, req Request) (*judge, error) {
	if err := req.Check(); err != nil {
		return nil, err
	}
	j := &judge{
		survey: look(b, d, req.FrameLayers), req: req,
		file: fileUnit(d.Unit), stated: d.Unit.Declared,
		sizes: sizesOf(req), causes: causesFor(d.Unit),
	}
	rest := make([]item, 0, len(j.items))
	for _, it := range j.items {
		b.Step()
		if it.onFrame {
			j.onLayer = append(j.onLayer, Part{Shape: it.shape, Path: it.path})
		} else {
			rest = append(rest, it)
		}
	}
	j.whole = workOf(b, rest)
	if req.unframed() {
		return j, nil
	}
	if own, ok := ownSheet(req.Stock); ok && req.FrameIsSheet {
		j.declared = &own
	}
	if req.Frame != "" {
		size, err := declaredSize(req.Frame, j.sizes)
		if err != nil {
			return nil, err
		}
		j.declared, j.byCaller = &size, true
		j.sizes = addSize(j.sizes, size)
	}
	return j, nil
}

// measure returns the width and height in mm of the artwork, along the axes of
// the drawing, with a factor for each axis of the frame.
func (f *framed) measure(s *survey, x, y float64) (w, h float64) {
	if x == y || f.turn == 0 {
		return f.work.bounds.Width() * x, f.work.bounds.Height() * y
	}
	m := f.stretch(x, y)
	b := geometry.EmptyBox()
	for _, it := range f.work.items {
		s.budget.Spend(1 + len(s.path(it).Segments))
		b = b.Union(s.path(it).Transform(m).Bounds())
	}
	return b.Width(), b.Height()
}

// stretch returns the map from drawing units to mm with a factor for each axis
// of the frame.
func (f *framed) stretch(x, y float64) geometry.Affine {
	if x == y || f.turn == 0 {
		return geometry.Scale(x, y)
	}
	return geometry.Rotate(-f.turn).Then(geometry.Scale(x, y)).Then(geometry.Rotate(f.turn))
}

// The slack with which a rectangle still counts as a spoiled frame of a size.
const (
	edited     = 0.30 // one side has a named factor, the other was stretched or edited
	stretchTop = 0.12 // a declared frame, stretched
	suspicious = 0.08 // the ratio alone
)

func (j *judge) ratioNear(f *framed, s named, slack float64) bool {
	want := s.along(f.u > f.v)
	return math.Abs(math.Log(want[0]/want[1]*f.v/f.u)) <= math.Log1p(slack)
}

// pick chooses the frame among the candidates, nil where there is none.
func (j *judge) pick() *framed {
	all := j.candidates()
	if len(all) > 0 && all[0].byLayer {
		return j.byPages(all[0])
	}
	if j.declared != nil {
		if f := j.first(all, j.likeDeclared); f != nil {
			return j.withinBorder(f, all)
		}
		if f := j.elsewhere(); f != nil && j.byCaller {
			return f
		}
	}
	if f := j.first(all, j.frameLike); f != nil {
		return j.withinBorder(f, all)
	}
	if j.pages = j.pageFrames(); len(j.pages) > 0 {
		return j.merge(j.pages)
	}
	return nil
}

// withinBorder returns the frame just inside f where f itself has no size and is
// only a border round it, such as a bleed; f otherwise.
func (j *judge) withinBorder(f *framed, all []*framed) *framed {
	const near = 0.9 // of the sides of f
	if slices.ContainsFunc(j.weigh(f), func(r reading) bool { return r.sure() }) {
		return f
	}
	b := f.quad.bounds()
	inner := b.Grow(-nearEnds * math.Max(f.u, f.v)) // what lies nearer is the same lines, put together otherwise
	for _, in := range all {
		c := in.quad.bounds()
		if !in.missing && inner.ContainsBox(c) && c.Width() > near*b.Width() && c.Height() > near*b.Height() && j.provenFrame(in) {
			return in
		}
	}
	return f
}

// byPages is the frame on a frame layer, with those of further pages there.
func (j *judge) byPages(f *framed) *framed {
	for _, o := range j.outermost() {
		if o.byLayer {
			j.pages = append(j.pages, o)
		}
	}
	if len(j.pages) < 2 {
		j.pages = nil
		return f
	}
	return j.merge(j.pages)
}

// elsewhere looks for a declared frame that lies beside the artwork. What lies
// among the artwork is a part of it.
func (j *judge) elsewhere() *framed {
	for i := range j.quads {
		f := j.surround(j.quads[i])
		if f.work.bounds.ContainsBox(f.quad.bounds()) || len(f.work.items) == 0 || j.apart(f, *j.declared) > acceptMM {
			continue
		}
		f.beside = true
		return f
	}
	return nil
}

// frameLike reports whether an undeclared rectangle round the artwork has to
// be taken for a frame, sound or spoiled, rather than for a part of the work.
func (j *judge) frameLike(f *framed) bool {
	for _, r := range j.weigh(f) {
		if r.hasCause() || r.apart <= acceptMM {
			return true
		}
	}
	if oneSide := j.oneSide(f); len(oneSide) > 0 && !j.vouchedFor(f, oneSide) {
		return true
	}
	skewed := f.skew > lyingTol*math.Max(f.u, f.v)
	for _, s := range j.sizes {
		if j.ratioNear(f, s, suspicious) && !j.designed(f) || skewed && j.ratioNear(f, s, stretchTop) {
			return true
		}
	}
	return false
}

// vouchedFor reports whether a rectangle with one side of a named length may
// be a part of the work: it is far from the shape of a page, the file states
// the unit in which that side has its length, and circles are round.
func (j *judge) vouchedFor(f *framed, oneSide []reading) bool {
	if !j.stated {
		return false
	}
	for _, r := range oneSide {
		if r.Cause != None || j.ratioNear(f, r.size, stretchTop) {
			return false
		}
	}
	all := j.perAxis(f, edited)
	return len(all) > 0 && j.staysRound(f, &all[0])
}

// first returns the first candidate that is a frame by the test. What lies in
// a plate is a part of the work, unless a named cause proves it a frame.
func (j *judge) first(all []*framed, is func(*framed) bool) *framed {
	var plates []geometry.Box
	for _, f := range all {
		b := f.quad.bounds()
		inPlate := slices.ContainsFunc(plates, func(p geometry.Box) bool { return p.ContainsBox(b) })
		switch {
		case inPlate && !j.provenFrame(f):
		case is(f):
			return f
		case j.designed(f):
			plates = append(plates, b)
		}
	}
	return nil
}

// likeDeclared reports whether a rectangle has about the shape of the declared
// frame. Where only the workshop's convention declares it, one that is drawn
// to measure and has not that very shape is rather an edge of the work.
func (j *judge) likeDeclared(f *framed) bool {
	if !j.ratioNear(f, *j.declared, stretchTop) {
		return false
	}
	exact := func(r reading) bool { return j.isDeclared(r.size) && r.apart <= acceptMM }
	return j.byCaller || !j.designed(f) || slices.ContainsFunc(j.weigh(f), exact)
}

// designed reports whether the file states its unit and both sides are whole
// mm in it, or whole eighths of an inch, as of a plate drawn to measure.
func (j *judge) designed(f *framed) bool {
	return j.stated && (j.inSteps(f, 1) || j.inSteps(f, 25.4/8))
}

// inSteps reports whether both sides are whole numbers of steps of that many mm
// as the file reads.
func (j *judge) inSteps(f *framed, step float64) bool {
	const slack = 1e-3 // mm
	u, v := f.u*j.file.mm, f.v*j.file.mm
	return f.skew*j.file.mm <= slack && math.Abs(math.Remainder(u, step)) < slack && math.Abs(math.Remainder(v, step)) < slack
}

// ownMeasures reports whether a rectangle that only the workshop's convention
// declares to be the sheet looks like a part of the work that has the sheet's
// shape: half the sheet both ways, say. What was rescaled has no round measures.
func (j *judge) ownMeasures(f *framed) bool {
	const step = 0.25 // mm, as halves of whole mm have
	return !j.byCaller && !f.byLayer && (j.inSteps(f, step) || j.inSteps(f, 25.4/8) || f.whole())
}
