package read

import (
	"strings"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
)

// findings says what the notes of a reader mean for a plan, in their order.
func findings(notes []drawing.Note) []finding.Finding {
	var all []finding.Finding
	for _, n := range notes {
		places := make([]finding.Place, len(n.Places))
		for i, p := range n.Places {
			places[i] = finding.Place(p)
		}
		f := finding.New(finding.Code(n.Code), n.Count, values(n), places...)
		if n.Weight != "" {
			f = f.As(finding.Severity(n.Weight))
		}
		all = append(all, f)
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
