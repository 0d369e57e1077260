package size

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/decide"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// IDs of the mends of this job, for Request.MendsOff.
const (
	MendUnit  = "size.unit"  // one factor for both axes
	MendAxes  = "size.axes"  // a factor for each axis
	MendFrame = "size.frame" // the frame is taken out of the cut
)

// findings says what was found and mended. It undoes in o the mends that the
// request switches off.
func findings(q *inquiry, c *judged, o *outcome) []finding.Finding {
	var out []finding.Finding
	if c.frame != nil {
		out = append(frameFindings(q, c, o), disagreement(q, c, o)...)
	}
	if o.ask != nil {
		return append(out, finding.New(o.ask.code, 1, askValues(q, c, o), places(c.frame)...))
	}
	if c.verdict.Size == decide.ByFile && o.cause == DeclaredUnit {
		w, h := q.work(c.frame).Size(o.x)
		out = append(out, finding.New(finding.SizeByHeaderAlone, 1, finding.Values{
			"source": finding.Text(q.Drawing.Unit.Source), "extent": finding.Text(workText(w, h)),
		}))
	}
	if m, ok := mended(q, c, o); ok {
		out = append(out, m)
	}
	return append(out, withLine(q, c, o)...)
}

func askValues(q *inquiry, c *judged, o *outcome) finding.Values {
	b := q.work(c.frame).At(q.file.File.MM)
	values := finding.Values{"extent": finding.Text(extent(q.tell.number(b.Width()), q.tell.number(b.Height()), q.tell.numberUnit()))}
	if c.frame != nil {
		values["sides"] = finding.Text(q.tell.sidesDrawn(c.frame))
		values["side_a"], values["side_b"] = finding.Num(c.frame.U*c.given), finding.Num(c.frame.V*c.given)
	}
	if q.file.Declared != nil {
		values["declared"] = finding.Text(q.file.Declared.Name)
	}
	if all := o.ask.readings; len(all) > 0 {
		r := &all[max(0, slices.IndexFunc(all, func(r reading.Reading) bool { return r.Cause == Stretched }))]
		values["frame"], values["cause"], values["percent"] = finding.Text(r.Size.Name), finding.Text(r.Words), finding.Num(100*math.Abs(r.X/r.Y-1))
	}
	return values
}

// places gives the frame's box, in drawing units.
func places(f *evidence.Frame) []finding.Place {
	if f == nil {
		return nil
	}
	return []finding.Place{{Box: f.Quad.Bounds()}}
}

// mended is the finding of a size that is not the file's own reading. It tells
// what the work measures, which a ruler can check, and not the factor.
func mended(q *inquiry, c *judged, o *outcome) (finding.Finding, bool) {
	own := q.file.File
	if reading.SameFactor(o.x, own.MM) && reading.SameFactor(o.y, own.MM) {
		return finding.Finding{}, false
	}
	w, h := q.sizeUnder(c, choice{reading: reading.Reading{X: o.x, Y: o.y}, piece: o.piece})
	cause, known := reading.CauseNamed(q.file.Causes, o.x)
	values := finding.Values{
		"factor": finding.Text(fmt.Sprintf("%.6g", o.x/own.MM)), "factor_y": finding.Text(fmt.Sprintf("%.6g", o.y/own.MM)), "unit": finding.Text(own.Words),
		"cause": finding.Text("enlarged or reduced for no known reason"), "frame": finding.Text(o.frame), "evidence": finding.Text("what was given or answered"),
		"work": finding.Text(workText(w, h)), "taken": finding.Text("as you said"),
	}
	if known && o.x == o.y {
		values["cause"] = finding.Text(cause.Words)
	}
	if o.frame != "" {
		values["evidence"], values["taken"] = finding.Text("frame "+o.frame), finding.Text("as "+o.frame)
	}
	code, id := finding.SizeRescaled, MendUnit
	effect := fmt.Sprintf("Every length is multiplied by %.6g.", o.x/own.MM)
	switch {
	case o.x != o.y:
		code, id = finding.FrameUnstretched, MendAxes
		effect = fmt.Sprintf("Lengths along the frame's first side are multiplied by %.6g, along its second by %.6g.", o.x/own.MM, o.y/own.MM)
	case known && o.cause != DeclaredUnit && o.cause != DeclaredScale:
		code = finding.SizeUnitMended
	}
	m := finding.New(code, 1, values)
	applied := !q.req.off(id)
	if !applied {
		m = m.As(finding.Warn)
		o.x, o.y, o.residual, o.known, o.named = own.MM, own.MM, [2]float64{}, nil, nil
	}
	return m.WithMend(finding.Mend{ID: id, Applied: applied, Effect: effect}), true
}

// frameFindings says how the frame was drawn and that it is not cut.
func frameFindings(q *inquiry, c *judged, o *outcome) []finding.Finding {
	f := c.frame
	values := finding.Values{
		"frame": finding.Text(o.frame), "side_a": finding.Num(f.U * o.x), "side_b": finding.Num(f.V * o.y),
		"turn": finding.Num(degrees(f.Turn)), "copies": finding.Int(f.Doubled),
	}
	var out []finding.Finding
	add := func(code finding.Code, when bool) {
		if when {
			out = append(out, finding.New(code, 1, values, places(f)...))
		}
	}
	add(finding.FrameTurned, f.Longest()*math.Abs(math.Sin(f.Turn))*o.x > reading.AcceptMM)
	add(finding.FrameLoose, f.Loose)
	add(finding.FrameDoubled, f.Doubled > 0)
	page := q.Drawing.Page
	add(finding.FrameOffPage, page != nil && !page.Overlaps(f.Quad.Bounds()))
	if over := f.Overhang(reading.AcceptMM / o.x); len(over) > 0 && o.ask == nil && !o.piece {
		out = append(out, finding.New(finding.FrameOverhang, len(over), values, q.placesOf(over)...))
	}
	if o.piece || roleOpen(q, c, o) || o.ask != nil && !f.OnLayer {
		return out
	}
	taken := finding.New(finding.FrameTakenOut, 1, values, places(f)...)
	applied := !q.req.off(MendFrame)
	if !applied || !f.OnLayer && q.file.Declared == nil {
		taken = taken.As(finding.Warn) // nobody said that it is the frame
	}
	return append(out, taken.WithMend(finding.Mend{ID: MendFrame, Applied: applied, Effect: "The rectangle is not cut."}))
}

// placesOf gives the boxes of items, in drawing units.
func (q *inquiry) placesOf(items []evidence.Item) []finding.Place {
	var out []finding.Place
	for _, it := range items[:min(len(items), finding.MaxPlaces)] {
		sh := &q.Drawing.Shapes[it.Shape]
		out = append(out, finding.Place{Box: it.Box, Layer: sh.Layer, Source: sh.Source.String()})
	}
	return out
}

// disagreement says where pieces of evidence contradict each other although
// the size is settled: the file's header against the frame, or the frame
// against what the caller said.
func disagreement(q *inquiry, c *judged, o *outcome) []finding.Finding {
	f, own := c.frame, q.file.File
	values := finding.Values{
		"unit": finding.Text(own.Words), "source": finding.Text(q.Drawing.Unit.Source), "frame": finding.Text(o.frame),
		"side_a": finding.Num(f.U * own.MM), "side_b": finding.Num(f.V * own.MM),
	}
	if (c.given > 0 || q.file.Declared != nil) && o.ask == nil {
		for _, r := range q.file.Weigh(f) {
			if r.HasCause() && r.Sure() && r.Differs(&reading.Reading{X: o.x, Y: o.y}, f.Far()) {
				values["frame"], values["side_a"], values["side_b"], values["cause"] = finding.Text(r.Size.Name), finding.Num(f.U*o.x), finding.Num(f.V*o.y), finding.Text(r.Words)
				return []finding.Finding{finding.New(finding.SizeGivenDisagrees, 1, values, places(f)...)}
			}
		}
		if c.given > 0 {
			return nil
		}
	}
	_, named := q.file.At(f, own.MM)
	if !q.file.Stated || reading.SameFactor(o.x, own.MM) && (o.ask == nil || named) {
		return nil
	}
	d := finding.New(finding.SizeUnitDisagrees, 1, values)
	if o.ask == nil {
		d = d.As(finding.Mended)
	}
	return []finding.Finding{d}
}
