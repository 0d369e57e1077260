package size

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/jobs/finding"
)

// IDs of the mends of this job, for Request.MendsOff.
const (
	MendUnit  = "size.unit"  // one factor for both axes
	MendAxes  = "size.axes"  // a factor for each axis
	MendFrame = "size.frame" // the frame is taken out of the cut
)

// findings says what was found and mended. It undoes in v the mends that the
// request switches off.
func (j *judge) findings(v *verdict, f *framed) []finding.Finding {
	var out []finding.Finding
	if f != nil {
		out = append(out, j.frameFindings(v, f)...)
	}
	out = append(out, j.disagreement(v, f)...)
	if v.ask != nil {
		return append(out, finding.New(v.ask.code, 1, j.askValues(v, f), places(f)...))
	}
	if v.cause == DeclaredUnit && j.req.Unit == "" {
		out = append(out, finding.New(finding.SizeByHeaderAlone, 1, finding.Values{
			"source": finding.Text(j.drawing.Unit.Source), "extent": finding.Text(workText(j.whole.bounds.Width()*v.x, j.whole.bounds.Height()*v.y)),
		}))
	}
	if m, ok := j.mended(v, f); ok {
		out = append(out, m)
	}
	return out
}

func (j *judge) askValues(v *verdict, f *framed) finding.Values {
	b := j.work(f).bounds
	values := finding.Values{"extent": finding.Text(extent(j.number(b.Width()), j.number(b.Height()), j.numberUnit()))}
	if f != nil {
		values["sides"] = finding.Text(j.sidesDrawn(f))
	}
	if j.declared != nil {
		values["declared"] = finding.Text(j.declared.name)
	}
	if len(v.ask.readings) > 0 {
		r := &v.ask.readings[max(0, slices.IndexFunc(v.ask.readings, func(r reading) bool { return r.Cause == Stretched }))]
		values["frame"], values["cause"], values["percent"] = finding.Text(r.Frame), finding.Text(r.words), finding.Num(100*math.Abs(r.x/r.y-1))
	}
	return values
}

// places gives the frame's box, in drawing units.
func places(f *framed) []finding.Place {
	if f == nil {
		return nil
	}
	return []finding.Place{{Box: f.quad.bounds()}}
}

// mended is the finding of a size that is not the file's own reading. It tells
// what the work measures, which a ruler can check, and not the factor.
func (j *judge) mended(v *verdict, f *framed) (finding.Finding, bool) {
	if sameFactor(v.x, j.file.mm) && sameFactor(v.y, j.file.mm) {
		return finding.Finding{}, false
	}
	values := finding.Values{
		"factor": finding.Text(fmt.Sprintf("%.6g", v.x/j.file.mm)), "factor_y": finding.Text(fmt.Sprintf("%.6g", v.y/j.file.mm)), "cause": finding.Text(j.wordsOf(v)), "unit": finding.Text(j.file.words),
		"frame": finding.Text(v.size), "evidence": finding.Text("what was given or answered"),
		"taken": finding.Text("as you said"), "work": finding.Text(workText(j.sizeUnder(&reading{x: v.x, y: v.y}, f))),
	}
	if v.size != "" {
		values["evidence"], values["taken"] = finding.Text("frame "+v.size), finding.Text("as "+v.size)
	}
	code, id := finding.SizeRescaled, MendUnit
	effect := fmt.Sprintf("Every length is multiplied by %.6g.", v.x/j.file.mm)
	switch _, known := causeNamed(j.causes, v.x); {
	case v.x != v.y:
		code, id = finding.FrameUnstretched, MendAxes
		effect = fmt.Sprintf("Lengths along the frame's first side are multiplied by %.6g, along its second by %.6g.", v.x/j.file.mm, v.y/j.file.mm)
	case known && v.cause != DeclaredUnit && v.cause != DeclaredScale:
		code = finding.SizeUnitMended
	}
	m := finding.New(code, 1, values)
	applied := !j.req.off(id)
	if !applied {
		m = m.As(finding.Warn)
		v.x, v.y, v.residual = j.file.mm, j.file.mm, [2]float64{}
	}
	return m.WithMend(finding.Mend{ID: id, Applied: applied, Effect: effect}), true
}

func (j *judge) wordsOf(v *verdict) string {
	if c, ok := causeNamed(j.causes, v.x); ok && v.x == v.y {
		return c.words
	}
	return "a factor of no known cause"
}

// frameFindings says how the frame was drawn and that it is not cut.
func (j *judge) frameFindings(v *verdict, f *framed) []finding.Finding {
	values := finding.Values{
		"frame": finding.Text(v.size), "side_a": finding.Num(f.u * v.x), "side_b": finding.Num(f.v * v.y),
		"turn": finding.Num(f.turn * 180 / math.Pi), "copies": finding.Int(f.doubled),
	}
	add := func(out []finding.Finding, code finding.Code, when bool) []finding.Finding {
		if !when {
			return out
		}
		return append(out, finding.New(code, 1, values, places(f)...))
	}
	out := add(nil, finding.FrameTurned, math.Max(f.u, f.v)*math.Abs(math.Sin(f.turn))*v.x > acceptMM)
	out = add(out, finding.FrameLoose, f.loose)
	out = add(out, finding.FrameDoubled, f.doubled > 0)
	if page := j.drawing.Page; page != nil && !page.Overlaps(f.quad.bounds()) {
		out = add(out, finding.FrameOffPage, true)
	}
	if over := f.overhang(acceptMM / v.x); len(over) > 0 && v.ask == nil {
		out = append(out, finding.New(finding.FrameOverhang, len(over), values, j.placesOf(over)...))
	}
	if j.pieces(f, v) || j.pieceOpen(f, v) {
		return out
	}
	taken := finding.New(finding.FrameTakenOut, 1, values, places(f)...)
	applied := !j.req.off(MendFrame)
	if !applied || !f.byLayer && !j.byCaller {
		taken = taken.As(finding.Warn) // nobody said that it is the frame
	}
	return append(out, taken.WithMend(finding.Mend{ID: MendFrame, Applied: applied, Effect: "The rectangle is not cut."}))
}

// placesOf gives the boxes of items, in drawing units.
func (j *judge) placesOf(items []item) []finding.Place {
	var out []finding.Place
	for _, it := range items[:min(len(items), finding.MaxPlaces)] {
		sh := &j.drawing.Shapes[it.shape]
		out = append(out, finding.Place{Box: it.box, Layer: sh.Layer, Source: sh.Source.String()})
	}
	return out
}

// disagreement says where pieces of evidence contradict each other although
// the size is settled: the file's header against the frame, or the frame
// against what the caller gave.
func (j *judge) disagreement(v *verdict, f *framed) []finding.Finding {
	if f == nil {
		return nil
	}
	values := finding.Values{"unit": finding.Text(j.file.words), "source": finding.Text(j.drawing.Unit.Source), "side_a": finding.Num(f.u * j.file.mm), "side_b": finding.Num(f.v * j.file.mm)}
	given := j.req.Scale > 0 || j.req.KnownLength != nil || j.req.Unit != ""
	if given && v.ask == nil {
		for _, r := range j.weigh(f) {
			if !r.hasCause() || !r.sure() || !r.differs(&reading{x: v.x, y: v.y}, j.reachOf(f)) {
				continue
			}
			values["frame"], values["side_a"], values["side_b"], values["cause"] = finding.Text(r.Frame), finding.Num(f.u*v.x), finding.Num(f.v*v.y), finding.Text(r.words)
			return []finding.Finding{finding.New(finding.SizeGivenDisagrees, 1, values, places(f)...)}
		}
		return nil
	}
	if !j.stated || sameFactor(v.x, j.file.mm) && (v.ask == nil || j.sizeAt(f, j.file.mm) != "") {
		return nil
	}
	values["frame"] = finding.Text(v.size)
	d := finding.New(finding.SizeUnitDisagrees, 1, values)
	if v.ask == nil {
		d = d.As(finding.Mended)
	}
	return []finding.Finding{d}
}
