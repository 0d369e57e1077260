// Package share lays the copies of several drawings on common loads, and makes of
// each load one weeding map.
//
// The drawings are of one stock, one machine and one purpose: Groups parts those that
// are not. A load of several drawings is a load like any other: its map holds the lines
// of all that lies on it, and it is placed whole, once; so passes, estimate, pictures,
// worksheet and files to cut from know nothing of members, but for who is where.
package share

import (
	"knifedesk/jobs/layout"
)

// Member is one of the drawings.
type Member struct {
	// Code is a reference that tells it apart, unlike those of all others; it is
	// printed beside the work, and is no person's name.
	Code   string `json:"code"`
	Copies int    `json:"copies"`           // that are wanted, from 1
	Spares int    `json:"spares,omitempty"` // that are made besides
}

// all is how many copies are made.
func (m Member) all() int { return m.Copies + m.Spares }

// Request is what the job needs besides the members' weeding maps.
type Request struct {
	// Layout is what is common to all: stock, machine, how they are nested, whether
	// they are cut mirrored, and by Chart how the loads are weeded. Its copies do not
	// count.
	Layout layout.Request `json:"layout"`
	// Members are in the order of their weeding maps, which is that of their codes: so
	// the same members make the same loads in whatever order they came. Sort does that.
	Members []Member `json:"members"`
}

// Share is the common loads. Load.Places say who is where on each, and Maps hold its
// weeding map; coordinates are those of a layout. A map is in load coordinates too, or,
// where the work is cut mirrored, in their reflection that the only placement of the
// load takes back, so that it is read from the front like any other map.
type Share struct {
	layout.Layout
	Shares []Portion `json:"shares"` // by member, those that are left out too
	Border Border    `json:"border,omitempty"`
}

// Portion is what one member takes of the whole.
type Portion struct {
	Member
	Left  bool  `json:"left,omitempty"`  // it fits on no sheet, and is on no load
	Loads []int `json:"loads,omitempty"` // their numbers
	// AreaMM2 is what its copies take: the area of their rectangles as they are laid.
	AreaMM2 float64 `json:"area_mm2"`
	// Millionths are its share of the stock taken, by area; those of all members sum to
	// a million where anything is laid at all. Divide gives whole amounts by them.
	Millionths int64 `json:"millionths"`
}

// Border says where the weed border of film runs.
type Border string

// The borders. Where no member has one there is none.
const (
	BorderEach Border = "each" // round each copy
	BorderLoad Border = "load" // once round all that lies on a load, or on each sheet of it
)
