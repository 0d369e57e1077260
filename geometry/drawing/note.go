package drawing

import "knifedesk/geometry"

// Note is what a reader has to say about one kind of fault in a file.
type Note struct {
	Code   Code
	Layer  string   // of LiveText and HatchListed, on which all cases lie; empty: on none, or not told apart
	Count  int      // how many cases, at least 1
	Places []Place  // the first MaxPlaces of them
	Names  []string // what it is about, each once, "…" last where there are more; nil: nothing with a name
	Weight Weight   // empty: what the code weighs as a rule

	// Limit names the limit of LimitReached, and Allowed is its value.
	Limit   string
	Allowed int
	Pages   int // in the file, of SeveralPages
}

// Weight is how grave a reader takes a fault to be where that is not what its
// code weighs as a rule.
type Weight string

// The weights that readers give.
const (
	Blocks Weight = "block" // nothing can be cut
	Warns  Weight = "warn"  // the rest can be cut
)

// MaxPlaces bounds the places that one note lists; Count is never cut.
const MaxPlaces = 50

// Place is where in a file something lies.
type Place struct {
	Box    geometry.Box // drawing units; empty for what is nowhere on the sheet
	Layer  string
	Source string // entity kind and handle, element and id, or line of the file
}

// maxNames bounds the names that one note lists.
const maxNames = 8

// Name lists a name, once; an empty one is none.
func (n *Note) Name(name string) {
	if name == "" || len(n.Names) > maxNames {
		return
	}
	for _, have := range n.Names {
		if have == name {
			return
		}
	}
	if len(n.Names) == maxNames {
		name = "…"
	}
	n.Names = append(n.Names, name)
}

// Wants reports whether At would list another place.
func (n *Note) Wants() bool { return len(n.Places) < MaxPlaces }

// At lists a place, as long as there are few.
func (n *Note) At(p Place) {
	if n.Wants() {
		n.Places = append(n.Places, p)
	}
}
