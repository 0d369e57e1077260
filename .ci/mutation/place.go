package main

import (
	"fmt"
	"strings"
)

// place is one change of the code: the bytes from start to end become text.
type place struct {
	pkg        *pkg
	room, file string
	function   string // or variable, or constant
	name       string // by which the list of harmless places calls it
	line       int
	start, end int
	was, text  string
	id         int  // from 1 in the order of judging
	woven      bool // built together with the others
	reach      int  // the place by which its function tells that it is reached, 0: not known
}

// String names the place and the change on one line.
func (p *place) String() string {
	return fmt.Sprintf("%s/%s:%d (%s): %s", p.room, p.file, p.line, p.function, p.change())
}

// change is what was and what is, both shortened.
func (p *place) change() string {
	short := func(s string) string {
		if s = strings.Join(strings.Fields(s), " "); len(s) > 70 {
			s = s[:67] + "..."
		}
		return s
	}
	now := short(p.text)
	if now == "" {
		now = "(taken out)"
	}
	return short(p.was) + "  =>  " + now
}
