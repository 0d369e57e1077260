package dxf

import (
	"fmt"

	"knifedesk/geometry/drawing"
)

// Units is a value of $INSUNITS, the header's unit of length.
type Units int

// The units that drawings for a cutter come in.
const (
	Unitless    Units = 0
	Inches      Units = 1
	Millimetres Units = 4
	Centimetres Units = 5
	Metres      Units = 6
)

// lengthUnit is a unit of length with its mm.
type lengthUnit struct {
	name string
	mm   float64
}

// lengths lists $INSUNITS by value. The survey units are those of the foot of
// 1200/3937 m.
func lengths() []lengthUnit {
	return []lengthUnit{
		1:  {"inch", 25.4},
		2:  {"foot", 304.8},
		3:  {"mile", 1609344},
		4:  {"mm", 1},
		5:  {"cm", 10},
		6:  {"m", 1000},
		7:  {"km", 1e6},
		8:  {"microinch", 25.4e-6},
		9:  {"mil", 25.4e-3},
		10: {"yard", 914.4},
		11: {"ångström", 1e-7},
		12: {"nm", 1e-6},
		13: {"µm", 1e-3},
		14: {"dm", 100},
		15: {"dam", 1e4},
		16: {"hm", 1e5},
		17: {"Gm", 1e12},
		18: {"astronomical unit", 149597870700e3},
		19: {"light year", 9460730472580800e3},
		20: {"parsec", 3.0856775814913673e19},
		21: {"survey foot", 1200e3 / 3937},
		22: {"survey inch", 100e3 / 3937},
		23: {"survey yard", 3600e3 / 3937},
		24: {"survey mile", 6336000e3 / 3937},
	}
}

// length returns the unit of length, and false where u names none.
func (u Units) length() (lengthUnit, bool) {
	all := lengths()
	if u < 1 || int(u) >= len(all) {
		return lengthUnit{}, false
	}
	return all[u], true
}

// unit returns what the header says. $MEASUREMENT only tells which tables of
// line types and hatches a program loads, so it is passed on as a hint.
func (h *header) unit() drawing.Unit {
	none := drawing.Unit{Name: "none", MM: 1}
	switch {
	case h.insUnits > 0:
		source := fmt.Sprintf("$INSUNITS %d", h.insUnits)
		if l, ok := Units(h.insUnits).length(); ok {
			return drawing.Unit{Name: l.name, MM: l.mm, Declared: true, Source: source}
		}
		none.Source = source + ", which names no unit"
	case h.insUnits == 0:
		none.Source = "$INSUNITS 0"
	case h.measurement == 0:
		none.Source = "$MEASUREMENT 0 (imperial), no $INSUNITS"
	case h.measurement == 1:
		none.Source = "$MEASUREMENT 1 (metric), no $INSUNITS"
	}
	return none
}
