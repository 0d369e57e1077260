package finding

import (
	"maps"
	"slices"
)

// entry is what the catalogue says of a code. Hints are texts for Fill; {count}
// is always there.
type entry struct {
	severity   Severity
	hint       string // for the person who drew: what to change
	technician string // for the technician: what was measured, what to do
}

var catalogue = merge(fileEntries, readEntries, sizeEntries, artworkEntries, filmEntries, weedingEntries, layoutEntries)

func merge(parts ...map[Code]entry) map[Code]entry {
	all := map[Code]entry{}
	for _, part := range parts {
		for code, e := range part {
			if _, twice := all[code]; twice {
				panic("finding: code in the catalogue twice: " + string(code))
			}
			all[code] = e
		}
	}
	return all
}

// Codes returns every code of the catalogue, sorted.
func Codes() []Code { return slices.Sorted(maps.Keys(catalogue)) }

// Entry is what the catalogue says of a code before anything is filled in.
type Entry struct {
	Code     Code
	Severity Severity // the usual one
	Hint     string   // for the person who drew; words in braces are filled in
}

// Entries returns the whole catalogue, sorted by code.
func Entries() []Entry {
	all := make([]Entry, 0, len(catalogue))
	for _, code := range Codes() {
		all = append(all, Entry{code, catalogue[code].severity, catalogue[code].hint})
	}
	return all
}
