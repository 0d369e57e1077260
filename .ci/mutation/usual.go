package main

import (
	"context"
	"encoding/json"
	"fmt"
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
		var failing []string
		if b.parts, failing = partsOf(text); !ok && ctx.Err() == nil {
			fmt.Printf("%s fails as it is, which is left out: %s\n", p.room(), strings.Join(failing, ", "))
		}
		if len(b.parts) == 0 {
			b.err = fmt.Errorf("%s: no test passes as it is:\n%s", p.room(), text)
		}
	})
	return b
}

// partsOf divides the tests that passed, by what they took, and names those that
// failed.
func partsOf(text string) (parts []part, failing []string) {
	var names []string
	var first, rest float64
	for line := range strings.Lines(text) {
		var event struct {
			Action, Test string
			Elapsed      float64
		}
		if json.Unmarshal([]byte(line), &event) != nil || event.Test == "" || strings.Contains(event.Test, "/") {
			continue
		}
		switch {
		case event.Action == "fail":
			failing = append(failing, event.Test)
		case event.Action != "pass":
		case event.Elapsed < quick:
			names = append(names, event.Test)
			first += event.Elapsed
		default:
			rest += event.Elapsed
		}
	}
	these := func(names []string) string { return "^(" + strings.Join(names, "|") + ")$" }
	seconds := func(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
	if len(names) > 0 {
		parts = append(parts, part{[]string{"-run", these(names), "-skip", timed}, seconds(first)})
	}
	if rest > 0 {
		parts = append(parts, part{[]string{"-skip", timed + "|" + these(append(names, failing...))}, seconds(rest)})
	}
	return parts, failing
}
