package mended

import (
	"strings"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// says is what whoever opens the file has to know of it: what of the drawing that
// arrived it does not hold, and which lines wait for an answer.
func (m *maker) says() string {
	var all []string
	if lost := m.lost(); len(lost) > 0 {
		all = append(all, "Not in this file, though in the drawing that arrived: "+strings.Join(lost, ", ")+".")
	}
	if s := m.r.Artwork.Stack; s != nil {
		all = append(all, counted("This is one of {count} films that are laid on each other, with its register marks.", len(s.Layers)))
	}
	if m.open > 0 {
		all = append(all, counted("{count} {count:line waits for an answer and is|lines wait for an answer and are} as drawn.", m.open))
	}
	if at, ok := m.of[workshop.MeansNothing]; ok && len(m.layers[at].Paths) > 0 {
		all = append(all, "What is not cut is on layer "+m.layers[at].Name+".")
	}
	return strings.Join(all, " ")
}

// lost lists what the file cannot hold.
func (m *maker) lost() []string {
	var all []string
	for _, f := range m.r.Drawing.Findings {
		if words := wordsFor(f.Code); words != "" {
			all = append(all, counted(words, f.Count))
		}
	}
	for _, f := range m.r.Artwork.Findings {
		if f.Code == finding.UnpaintedGeometry {
			all = append(all, counted("{count} {count:shape|shapes} without line or fill", f.Count))
		}
	}
	if n := len(m.r.Size.LeftOut); n > 0 {
		all = append(all, counted("{count} {count:line|lines} that {count:was|were} left out", n))
	}
	if m.dropped > 0 {
		all = append(all, counted("{count} {count:line that is|lines that are} not cut", m.dropped))
	}
	return all
}

func counted(words string, n int) string {
	return finding.Fill(words, finding.Values{"count": finding.Int(n)})
}

// wordsFor says what a reader passed over, "" for findings by which nothing is lost.
func wordsFor(c finding.Code) string {
	switch c {
	case finding.LiveText:
		return "{count} {count:text|texts} that can still be typed in"
	case finding.NotesLeftOut:
		return "{count} {count:text or filled area|texts or filled areas} on layers where nothing is cut"
	case finding.RasterImage:
		return "{count} {count:picture|pictures} of pixels"
	case finding.HiddenGeometry:
		return "{count} hidden {count:shape|shapes}"
	case finding.ExternalReference:
		return "{count} {count:part|parts} in another file"
	case finding.ForeignContent:
		return "{count} {count:box|boxes} of flowing text"
	case finding.MarkerIgnored:
		return "end marks of {count} {count:line|lines}"
	case finding.PaperSpace:
		return "{count} {count:shape|shapes} on the print layout"
	case finding.HatchListed:
		return "{count} filled or hatched {count:area|areas}"
	case finding.DimensionListed:
		return "{count} {count:measure or note|measures or notes}"
	case finding.PointListed:
		return "{count} {count:point|points}"
	case finding.EndlessLine:
		return "{count} endless {count:line|lines}"
	case finding.SolidListed:
		return "{count} {count:part|parts} drawn in space"
	case finding.UnknownElement, finding.UnknownEntity:
		return "{count} {count:part|parts} of a kind that is not read"
	case finding.SplineBroken, finding.EntityBroken, finding.BadNumber, finding.OutOfRange:
		return "{count} damaged {count:shape|shapes}"
	}
	return ""
}
