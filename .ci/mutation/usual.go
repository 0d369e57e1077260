package main

import (
	"context"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"sync"
	"time"
)

// timed are the tests that judge time and memory. They are left out: they see
// other work on the machine and little of what a line does.
const timed = "Stop|Memory|Hostile|Bombs|Bounded|DenseLines|Peer|Stress"

// quick is how long a test may take that is run first.
const quick = 0.5 // seconds

// baseline is how the tests of a package fare as the code is.
type baseline struct {
	once  sync.Once
	parts []part // the quick tests, then the others
	err   error
}

// part is some tests of a package and how long they usually take.
type part struct {
	args []string
	took time.Duration
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
		ok, text := test(ctx, p, 10*time.Minute, "-json", "-skip", timed)
		if !ok {
			b.err = fmt.Errorf("%s fails as it is:\n%s", p.room(), text)
			return
		}
		b.parts = partsOf(text)
	})
	return b
}

// partsOf divides the tests that ran, by what they took.
func partsOf(text string) []part {
	var names []string
	var first, rest float64
	for line := range strings.Lines(text) {
		var event struct {
			Action, Test string
			Elapsed      float64
		}
		if json.Unmarshal([]byte(line), &event) != nil || event.Action != "pass" || event.Test == "" || strings.Contains(event.Test, "/") {
			continue
		}
		if event.Elapsed < quick {
			names = append(names, regexp.QuoteMeta(event.Test))
			first += event.Elapsed
		} else {
			rest += event.Elapsed
		}
	}
	these := "^(" + strings.Join(names, "|") + ")$"
	seconds := func(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
	var parts []part
	if len(names) > 0 {
		parts = append(parts, part{[]string{"-run", these, "-skip", timed}, seconds(first)})
	}
	if rest > 0 {
		skipped := timed
		if len(names) > 0 {
			skipped += "|" + these
		}
		parts = append(parts, part{[]string{"-skip", skipped}, seconds(rest)})
	}
	return parts
}
