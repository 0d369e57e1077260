package read

import (
	"strings"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
)

// findings says what the notes of a reader mean for a plan, in their order, and last
// what is not cut for the layer it is on.
func findings(req Request, notes []drawing.Note) []finding.Finding {
	var all []finding.Finding
	notes, aside := req.apart(notes)
	for _, n := range notes {
		f := finding.New(finding.Code(n.Code), n.Count, values(n), places(n.Places)...)
		if n.Weight != "" {
			f = f.As(finding.Severity(n.Weight))
		}
		all = append(all, f)
	}
	return append(all, leftOut(aside)...)
}

func places(of []drawing.Place) []finding.Place {
	all := make([]finding.Place, len(of))
	for i, p := range of {
		all[i] = finding.Place(p)
	}
	return all
}

// values are what fills the placeholders of a finding's hints.
func values(n drawing.Note) finding.Values {
	v := finding.Values{}
	if n.Names != nil {
		v["names"] = finding.Text(strings.Join(n.Names, ", "))
	}
	switch n.Code {
	case drawing.LimitReached:
		v["limit"], v["allowed"] = finding.Text(n.Limit), finding.Int(n.Allowed)
	case drawing.SeveralPages:
		v["pages"] = finding.Int(n.Pages)
	}
	return v
}
