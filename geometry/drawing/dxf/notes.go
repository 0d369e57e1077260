package dxf

import (
	"fmt"
	"maps"
	"strings"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
)

// notes collects what the reader finds, one finding a code, in the order in
// which the codes came up.
type notes struct {
	order []*note
	by    map[finding.Code]*note
}

type note struct {
	code   finding.Code
	count  int
	names  []string // distinct, the first maxNames
	more   int      // names beyond them, a name counted each time
	places []finding.Place
	worse  *finding.Severity // graver or milder than the catalogue
	values map[string]any    // for the hints, beside the names
}

const maxNames = 8

// add counts one more case of code, under a name for the hint ("" for none).
func (n *notes) add(code finding.Code, name string) *note {
	if n.by == nil {
		n.by = map[finding.Code]*note{}
	}
	f := n.by[code]
	if f == nil {
		f = &note{code: code}
		n.by[code] = f
		n.order = append(n.order, f)
	}
	f.count++
	f.name(name)
	return f
}

func (f *note) name(name string) {
	if name == "" {
		return
	}
	for _, have := range f.names {
		if have == name {
			return
		}
	}
	if len(f.names) == maxNames {
		f.more++
		return
	}
	f.names = append(f.names, name)
}

// wants reports whether another place would be listed.
func (f *note) wants() bool { return len(f.places) < finding.MaxPlaces }

// at lists a place.
func (f *note) at(p finding.Place) {
	if f.wants() {
		f.places = append(f.places, p)
	}
}

func (n *notes) findings() []finding.Finding {
	var all []finding.Finding
	for _, f := range n.order {
		names := strings.Join(f.names, ", ")
		if f.more > 0 {
			names += ", …"
		}
		values := map[string]any{"names": names}
		maps.Copy(values, f.values)
		got := finding.New(f.code, f.count, values, f.places...)
		if f.worse != nil {
			got = got.As(*f.worse)
		}
		all = append(all, got)
	}
	return all
}

// note adds a finding about the entity e that lies in box, in drawing units.
func (r *reader) note(code finding.Code, name string, e *entity, box geometry.Box) *note {
	f := r.notes.add(code, name)
	if f.wants() {
		f.at(e.place(box))
	}
	return f
}

// noteLine adds a finding about a line of the file.
func (r *reader) noteLine(code finding.Code, name string, line int) *note {
	f := r.notes.add(code, name)
	if line > 0 && f.wants() {
		f.at(finding.Place{Box: geometry.EmptyBox(), Source: fmt.Sprintf("line %d", line)})
	}
	return f
}

// place says where e lies; a box that is beyond numbers is left out.
func (e *entity) place(box geometry.Box) finding.Place {
	p := finding.Place{Box: geometry.EmptyBox(), Source: e.name}
	if box.Min.Finite() && box.Max.Finite() {
		p.Box = box
	}
	if e.handle != "" {
		p.Source += " " + e.handle
	}
	if e.handle == "" && e.line > 0 {
		p.Source += fmt.Sprintf(" at line %d", e.line)
	}
	if e.layer != nil {
		p.Layer = e.layer.name
	}
	return p
}
