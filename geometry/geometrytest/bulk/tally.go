package bulk

import (
	"cmp"
	"fmt"
	"maps"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"
)

// slowest bounds how many slow files a report names.
const slowest = 10

// Tally counts what a run meets. The zero value is empty.
type Tally struct {
	files   int
	counts  map[string]int // files by what happened
	example map[string]string
	slow    []timed
	total   time.Duration
}

type timed struct {
	path string
	took time.Duration
}

// Try runs what is done to one file, takes its processor time, and turns a
// panic into a failure that names the file.
func (c *Tally) Try(t *testing.T, path string, do func()) {
	t.Helper()
	began := cost.Spent()
	defer func() {
		if fault := recover(); fault != nil {
			c.Count("panic", path)
			t.Errorf("%s: panic: %v\n%s", Short(path), fault, debug.Stack())
		}
		took := cost.Spent() - began
		c.files++
		c.total += took
		c.slow = append(c.slow, timed{path, took})
		slices.SortStableFunc(c.slow, func(a, b timed) int { return cmp.Compare(b.took, a.took) })
		c.slow = c.slow[:min(slowest, len(c.slow))]
	}()
	do()
}

// Count counts a file under a word.
func (c *Tally) Count(word, path string) {
	if c.counts == nil {
		c.counts, c.example = map[string]int{}, map[string]string{}
	}
	c.counts[word]++
	if c.example[word] == "" {
		c.example[word] = Short(path)
	}
}

// Each counts a file once under each of the words, however often they come.
func (c *Tally) Each(words []string, path string) {
	for _, word := range slices.Compact(slices.Sorted(slices.Values(words))) {
		c.Count(word, path)
	}
}

// String is the report: how many files, how many of them under each word with
// the first as example, and the slowest.
func (c *Tally) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d files in %.1f s of processor time\n", c.files, c.total.Seconds())
	for _, word := range slices.Sorted(maps.Keys(c.counts)) {
		fmt.Fprintf(&b, "%8d  %-40s such as %s\n", c.counts[word], word, c.example[word])
	}
	b.WriteString("slowest:\n")
	for _, s := range c.slow {
		fmt.Fprintf(&b, "%8.0f ms  %s\n", s.took.Seconds()*1000, Short(s.path))
	}
	return b.String()
}

// Over returns those of the slowest files that took longer than most.
func (c *Tally) Over(most time.Duration) []string {
	var out []string
	for _, s := range c.slow {
		if s.took > most {
			out = append(out, fmt.Sprintf("%s took %.1f s", Short(s.path), s.took.Seconds()))
		}
	}
	return out
}
