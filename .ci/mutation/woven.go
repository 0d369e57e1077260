package main

// Whoever runs a woven test binary says by these variables which place is
// spoiled (0: none, -1: none, but tell what is reached) and where to write what
// is reached.
const (
	spoiledVariable = "KNIFEDESK_SPOILED"
	reachedVariable = "KNIFEDESK_REACHED"
	shownReached    = "-" // among what the tests print, each time, in the place of a file
)

// reachMark begins the line of a place that is reached.
const reachMark = "@reached "

// helpers is what each woven package gets: which place is spoiled, one of two
// values, and a note of what is reached.
const helpers = `package %s

import (
	"os"
	"strconv"
	"sync"
)

var spoiled__ = func() int { n, _ := strconv.Atoi(os.Getenv("` + spoiledVariable + `")); return n }()

var reached__ sync.Map

func either__[T any](place int, spoiled, sound T) T {
	if spoiled__ == place {
		return spoiled
	}
	return sound
}

func reach__(place int) {
	if os.Getenv("` + reachedVariable + `") == "` + shownReached + `" {
		os.Stdout.WriteString("\n` + reachMark + `" + strconv.Itoa(place) + "\n")
		return
	}
	if _, known := reached__.LoadOrStore(place, true); known {
		return
	}
	f, err := os.OpenFile(os.Getenv("` + reachedVariable + `"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		panic(err)
	}
	defer f.Close()
	if _, err := f.WriteString(strconv.Itoa(place) + "\n"); err != nil {
		panic(err)
	}
}
`

// woven is a file with all its chosen places in it, of which a process spoils
// the one that it is told.
type woven struct {
	text      []byte
	begins    map[int]int // the places by the lines that their copies begin on
	variables []int       // the places that are no part of a function
}

// behind returns the places that an error on a line is of: that whose copy the
// line is in, and above all copies those of the variables.
func (w *woven) behind(line int) []int {
	last := 0
	for begin := range w.begins {
		if begin <= line {
			last = max(last, begin)
		}
	}
	if last > 0 {
		return []int{w.begins[last]}
	}
	return w.variables
}
