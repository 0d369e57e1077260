package main

import (
	"context"
	"os"
	"time"
)

// Who saw that a place was spoiled.
const (
	own        = "own tests"
	caller     = "a caller's tests"
	nobody     = "nobody"
	harmless   = "nobody, and it does no harm" // by the list of these
	uncompiled = "the compiler"                // which makes it no place at all
	unfinished = "the clock"                   // the time was over before the tests were
)

// verdict is what came of a place; test is one of those that saw it.
type verdict struct {
	place    *place
	by, test string
}

// judge spoils a place and runs the tests of its package, and where they see
// nothing those of its nearest callers.
func (c *campaign) judge(ctx context.Context, p *place) (verdict, error) {
	folder := c.temp
	if !p.woven {
		alone, compiles, err := c.buildAlone(ctx, p)
		defer os.RemoveAll(alone)
		if err != nil || !compiles {
			return verdict{place: p, by: uncompiled}, err
		}
		folder = alone
	}
	for _, q := range c.witnesses(p) {
		seen, err := c.try(ctx, p, binary{folder, q})
		switch {
		case err != nil || ctx.Err() != nil:
			return verdict{place: p, by: unfinished}, err
		case seen != "" && q == p.pkg:
			return verdict{p, own, seen}, nil
		case seen != "":
			return verdict{p, caller, q.room() + " " + seen}, nil
		}
	}
	return verdict{place: p, by: nobody}, nil
}

// try runs the tests of a package that reach a place, the quickest first, some
// at once; seen is the first of those that fail together.
func (c *campaign) try(ctx context.Context, p *place, b binary) (seen string, err error) {
	usual := c.usually(ctx, b.of)
	if usual.err != nil {
		return "", usual.err
	}
	var names []string
	var took, atOnce time.Duration = 0, time.Second
	flush := func() bool {
		if len(names) == 0 {
			return false
		}
		ask := func() bool {
			return c.run(ctx, b, 4*took+5*time.Second, p.id, "", "-test.failfast", "-test.run", these(names...)).ok
		}
		// What waits for a database fails by chance where others work: once is not seen.
		fails := !ask() && (!c.startsDatabases(b.of) || !ask())
		if fails {
			seen = names[0]
			if len(names) > 1 {
				seen += " or a later one"
			}
		}
		names, took, atOnce = nil, 0, 2*atOnce
		return fails
	}
	for _, t := range usual.tests {
		if p.reach != 0 && !t.reaches[p.reach] {
			continue
		}
		names, took = append(names, t.name), took+t.took
		if took > atOnce && flush() {
			return seen, nil
		}
	}
	flush()
	return seen, nil
}
