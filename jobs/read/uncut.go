package read

import (
	"slices"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// uncut reports whether nothing on a layer is ever cut or drawn, by the first rule
// that holds for it. What is on no layer is on none of those.
func (r Request) uncut(layer string) bool {
	for _, rule := range r.Rules {
		on := workshop.OnLayer
		if rule.Means == workshop.MeansFrame {
			on = workshop.OnFrameLayer
		}
		if layer != "" && on(rule.Layer, layer) {
			return rule.Means == workshop.MeansFrame || rule.Means == workshop.MeansNothing
		}
	}
	return false
}

// apart parts the notes about what has no outlines, such as text, from those of it
// that lie where nothing is cut and so need none. Of the rest one note a code is left.
func (r Request) apart(notes []drawing.Note) (rest, aside []drawing.Note) {
	for _, n := range notes {
		switch {
		case n.Code != drawing.LiveText && n.Code != drawing.HatchListed:
			rest = append(rest, n)
		case r.uncut(n.Layer):
			aside = append(aside, n)
		default:
			rest = joined(rest, n)
		}
	}
	return rest, aside
}

// joined adds a note to the one of its code.
func joined(to []drawing.Note, n drawing.Note) []drawing.Note {
	at := slices.IndexFunc(to, func(o drawing.Note) bool { return o.Code == n.Code })
	if at < 0 {
		n.Places, n.Names = slices.Clone(n.Places), slices.Clone(n.Names)
		return append(to, n)
	}
	o := &to[at]
	o.Count += n.Count
	for _, p := range n.Places {
		o.At(p)
	}
	for _, name := range n.Names {
		o.Name(name)
	}
	return to
}

// leftOut says what was left out for the layers it is on: nil for nothing.
func leftOut(aside []drawing.Note) []finding.Finding {
	if len(aside) == 0 {
		return nil
	}
	var all, on drawing.Note
	var parts []string
	for _, n := range aside {
		on.Name(n.Layer)
		all.Count += n.Count
		for _, p := range n.Places {
			all.At(p)
		}
	}
	for _, kind := range []struct {
		code  drawing.Code
		words string
	}{{drawing.LiveText, "{count} {count:text|texts}"}, {drawing.HatchListed, "{count} filled or hatched {count:area|areas}"}} {
		n := 0
		for _, a := range aside {
			if a.Code == kind.code {
				n += a.Count
			}
		}
		if n > 0 {
			parts = append(parts, finding.Fill(kind.words, finding.Values{"count": finding.Int(n)}))
		}
	}
	return []finding.Finding{finding.New(finding.NotesLeftOut, all.Count, finding.Values{
		"what": finding.Text(strings.Join(parts, " and ")), "layers": finding.Text(strings.Join(on.Names, ", ")),
	}, places(all.Places)...)}
}

// refuseFills lets filled areas block that are all there is but for notes and the
// frame: whether the drawing is right without them is no question then.
func (r *Result) refuseFills(b *budget.Budget, req Request) {
	for i := range r.Shapes {
		b.Step()
		if !req.uncut(r.Shapes[i].Layer) {
			return
		}
	}
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Code == finding.HatchListed {
			*f = f.As(finding.Block)
		}
	}
}
