package main

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// timed are the tests that judge time and memory. They are left out: they see
// other work on the machine and little of what a line does.
const timed = "Stop|Memory|Hostile|Bombs|Bounded|DenseLines|Peer|Stress"

// longest is how much processor time the run of a test may take that is only
// being got to know, and all of a package that starts databases.
const longest, longestAll = 30 * time.Second, 5 * time.Minute

// baseline is how the tests of a package fare as the code is.
type baseline struct {
	once  sync.Once
	tests []known // the quickest first
	err   error
}

// known is a test, how long it takes, and what it reaches.
type known struct {
	name    string
	took    time.Duration
	reaches map[int]bool // by a place of each function
}

// usually runs the tests of a package once without any change.
func (c *campaign) usually(ctx context.Context, p *pkg) *baseline {
	c.mu.Lock()
	b := c.usual[p.ImportPath]
	if b == nil {
		b = &baseline{}
		c.usual[p.ImportPath] = b
	}
	c.mu.Unlock()
	b.once.Do(func() {
		c.clock.hold()
		defer c.clock.goOn()
		b.tests, b.err = c.learn(ctx, p)
		slices.SortStableFunc(b.tests, func(a, b known) int { return int(a.took - b.took) })
	})
	return b
}

// learn runs each test of a package alone, or all in one process where each
// process would have to start a database.
func (c *campaign) learn(ctx context.Context, p *pkg) (tests []known, err error) {
	list := c.run(ctx, binary{c.temp, p}, longest, -1, "", "-test.list", c.only)
	if !list.ok {
		return nil, fmt.Errorf("%s cannot list its tests:\n%s", p.room(), list.text)
	}
	if c.startsDatabases(p) {
		return c.learnTogether(ctx, p)
	}
	for _, name := range strings.Fields(list.text) {
		if !strings.HasPrefix(name, "Test") || regexp.MustCompile(timed).MatchString(name) {
			continue
		}
		reached := filepath.Join(c.temp, p.Name+"."+name)
		r := c.run(ctx, binary{c.temp, p}, longest, -1, reached, "-test.run", these(name))
		if ctx.Err() != nil {
			return nil, nil
		}
		if !r.ok {
			fmt.Printf("%s: %s fails as it is, or takes too long, and is left out after %v\n", p.room(), name, r.took)
			continue
		}
		tests = append(tests, known{name, r.took, readReached(reached)})
	}
	return tests, nil
}

// startsDatabases reports whether the tests of a package start a server of
// their own.
func (c *campaign) startsDatabases(p *pkg) bool {
	return slices.ContainsFunc(c.module.all, func(q *pkg) bool {
		return q.room() == "db/dbtest" && slices.Contains(slices.Concat(p.TestImports, p.XTestImports), q.ImportPath)
	})
}

// learnTogether runs all tests in one process, which shows what is reached
// between the lines that say which tests run.
func (c *campaign) learnTogether(ctx context.Context, p *pkg) (tests []known, err error) {
	text := c.run(ctx, binary{c.temp, p}, longestAll, -1, shownReached, "-test.v", "-test.run", c.only, "-test.skip", timed).text
	tests, failed := whoReached(text)
	for _, name := range failed {
		fmt.Printf("%s: %s fails as it is and is left out\n", p.room(), name)
	}
	if len(tests) == 0 && ctx.Err() == nil {
		return nil, fmt.Errorf("%s: no test passes as it is:\n%s", p.room(), text)
	}
	return tests, nil
}

var (
	runLine   = regexp.MustCompile(`^=== RUN +([^ /]+)$`)
	endLine   = regexp.MustCompile(`^--- (PASS|FAIL|SKIP): (\S+) \(([0-9.]+)s\)$`)
	reachLine = regexp.MustCompile("^" + reachMark + "([0-9]+)$")
)

// whoReached takes from what tests print which passed, and what was reached
// before them and while each was running.
func whoReached(text string) (tests []known, failed []string) {
	running, before := map[string]map[int]bool{}, map[int]bool{}
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if m := runLine.FindStringSubmatch(line); m != nil {
			running[m[1]] = maps.Clone(before)
		} else if m := reachLine.FindStringSubmatch(line); m != nil {
			place, _ := strconv.Atoi(m[1]) // digits
			for _, reaches := range running {
				reaches[place] = true
			}
			if len(tests)+len(failed)+len(running) == 0 {
				before[place] = true
			}
		} else if m := endLine.FindStringSubmatch(line); m != nil {
			seconds, _ := strconv.ParseFloat(m[3], 64) // digits
			switch m[1] {
			case "PASS":
				tests = append(tests, known{m[2], time.Duration(seconds * float64(time.Second)), running[m[2]]})
			case "FAIL":
				failed = append(failed, m[2])
			}
			delete(running, m[2])
		}
	}
	return tests, failed
}

// readReached reads which places were reached; without a file none was.
func readReached(file string) map[int]bool {
	text, _ := os.ReadFile(file)
	reached := map[int]bool{}
	for _, line := range strings.Fields(string(text)) {
		if place, err := strconv.Atoi(line); err == nil {
			reached[place] = true
		}
	}
	return reached
}

// these is a pattern for tests of these names.
func these(names ...string) string { return "^(" + strings.Join(names, "|") + ")$" }
