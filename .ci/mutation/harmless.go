package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// harmlessFile lists places whose spoiling does no harm, by package, function
// and change, so that lines may move; the reason stands below each, indented.
// Where a function has equal changes, an entry ends with which of them: (2).
const harmlessFile = ".ci/mutation/harmless.txt"

// reasons are the entries of that file with why each does no harm.
type reasons map[string]string

func readReasons(folder string) (reasons, error) {
	text, err := os.ReadFile(filepath.Join(folder, harmlessFile))
	if errors.Is(err, fs.ErrNotExist) {
		return reasons{}, nil
	}
	if err != nil {
		return nil, err
	}
	all, entry := reasons{}, ""
	for i, line := range strings.Split(string(text), "\n") {
		words := strings.Join(strings.Fields(line), " ")
		switch {
		case words == "" || words[0] == '#':
		case line[0] == ' ' || line[0] == '\t':
			all[entry] = strings.TrimSpace(all[entry] + " " + words)
		case all[entry] == "" && entry != "":
			return nil, fmt.Errorf("%s:%d: the entry before has no reason", harmlessFile, i+1)
		default:
			entry = words
			if _, twice := all[entry]; twice {
				return nil, fmt.Errorf("%s:%d: %s stands twice", harmlessFile, i+1, entry)
			}
			all[entry] = ""
		}
	}
	return all, nil
}

// name gives all places of a package the names that entries call them by.
func name(places []*place) {
	count := map[string]int{}
	for _, p := range places {
		p.name = strings.Join(strings.Fields(p.room+" "+p.function+": "+p.change()), " ")
		if count[p.name]++; count[p.name] > 1 {
			p.name += fmt.Sprintf(" (%d)", count[p.name])
		}
	}
}

// stale returns the entries of the chosen packages that name no place, and
// those whose spoiling tests have seen.
func (c *campaign) stale() (none, seen []string) {
	for entry := range c.harmless {
		room, _, _ := strings.Cut(entry, " ")
		mine := slices.ContainsFunc(c.module.chosen, func(p *pkg) bool { return p.room() == room })
		if mine && !c.named[entry] {
			none = append(none, entry)
		}
	}
	for _, v := range c.judged {
		if (v.by == own || v.by == caller) && c.harmless[v.place.name] != "" {
			seen = append(seen, v.place.name+" by "+v.test)
		}
	}
	slices.Sort(none)
	slices.Sort(seen)
	return none, seen
}

// tellHarmless prints which places nobody saw that do no harm, and which
// entries of the list no longer hold.
func (c *campaign) tellHarmless() {
	for _, v := range c.judged {
		if v.by == harmless {
			fmt.Printf("harmless: %v\n    %s\n", v.place, c.harmless[v.place.name])
		}
	}
	none, seen := c.stale()
	for _, entry := range none {
		fmt.Printf("stale in %s, as there is no such place: %s\n", harmlessFile, entry)
	}
	for _, entry := range seen {
		fmt.Printf("stale in %s, as it is seen: %s\n", harmlessFile, entry)
	}
}
