// Mutation says how much of the code the tests hold. It spoils seeded places one
// at a time (a condition negated, an operator or a constant changed, a statement
// taken out) and runs the tests of the package that reach it, then those of its
// nearest callers. All places are woven into one build, through an overlay that
// leaves the files alone, and a variable of the environment says which is
// spoiled. It prints the share that was seen by room, and every place whose
// spoiling nobody saw.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"sync"
	"time"
)

func main() {
	var c campaign
	flag.Uint64Var(&c.seed, "seed", 1, "of the choice of places")
	flag.IntVar(&c.n, "n", 20, "how many places to judge")
	least := flag.Float64("least", 0, "fail where a smaller percentage is seen")
	flag.DurationVar(&c.within, "within", time.Hour, "stop after this time of judging with what has been judged")
	since := flag.String("since", "", "only packages whose code changed since this commit")
	at := flag.String("at", "", "only places whose line in the report matches this expression")
	flag.StringVar(&c.only, "run", ".", "only tests whose name matches this expression")
	verbose := flag.Bool("v", false, "print each place and the test that saw it")
	flag.IntVar(&c.callers, "callers", 2, "how many callers' tests are asked where the own ones see nothing")
	flag.IntVar(&c.parallel, "parallel", 2, "how many are judged at once")
	flag.Parse()
	c.verbose = *verbose
	if err := c.all(flag.Args(), *since, *at, *least); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

// campaign is one run of this command.
type campaign struct {
	seed       uint64
	n, callers int
	parallel   int
	within     time.Duration
	module     *module
	verbose    bool
	only       string // which tests are asked
	temp       string
	chosen     []*place
	clock      *clock
	mu         sync.Mutex
	usual      map[string]*baseline
	judged     []verdict
	harmless   reasons
	named      map[string]bool // what entries of the list can name
}

// all is the whole run.
func (c *campaign) all(patterns []string, since, at string, least float64) (err error) {
	if c.module, err = load(patterns, since); err != nil {
		return err
	}
	if c.harmless, err = readReasons("."); err != nil {
		return err
	}
	if len(c.module.chosen) == 0 {
		fmt.Println("no package's code has changed: nothing to spoil")
		return nil
	}
	if c.temp, err = os.MkdirTemp("", "mutate"); err != nil {
		return err
	}
	defer os.RemoveAll(c.temp)
	if err := c.choose(at); err != nil {
		return err
	}
	if err := c.judgeAll(); err != nil {
		return err
	}
	return c.report(least)
}

// choose takes places of the chosen packages in a seeded order, some more than
// are to be judged, as the compiler refuses a few.
func (c *campaign) choose(at string) error {
	which, err := regexp.Compile(at)
	if err != nil {
		return err
	}
	all, err := c.places()
	if err != nil {
		return err
	}
	random := rand.New(rand.NewPCG(c.seed, 0))
	random.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	fmt.Printf("%d places in %d packages, seed %d\n", len(all), len(c.module.chosen), c.seed)
	all = slices.DeleteFunc(all, func(p *place) bool { return !which.MatchString(p.String()) })
	c.chosen = all[:min(len(all), c.n+c.n/8+1)]
	for i, p := range c.chosen {
		p.id = i + 1
	}
	return nil
}

// places returns all places of the chosen packages, each with its name.
func (c *campaign) places() (all []*place, err error) {
	c.named = map[string]bool{}
	for _, p := range c.module.chosen {
		before := len(all)
		for _, file := range p.GoFiles {
			found, err := placesOf(p, file)
			if err != nil {
				return nil, err
			}
			all = append(all, found...)
		}
		name(all[before:])
	}
	for _, p := range all {
		c.named[p.name] = true
	}
	return all, nil
}

// judgeAll builds the tests and judges places in their order until n have been
// judged.
func (c *campaign) judgeAll() error {
	ctx, cancel := context.WithCancelCause(context.Background())
	defer cancel(nil)
	c.clock = newClock(c.within, func() { cancel(nil) })
	defer c.clock.hold()
	c.usual = map[string]*baseline{}
	if err := c.buildAll(ctx); err != nil {
		return ended(err)
	}
	c.clock.goOn()
	next := make(chan *place)
	var workers sync.WaitGroup
	for range c.parallel {
		workers.Go(func() {
			for p := range next {
				v, err := c.judge(ctx, p)
				if err != nil {
					cancel(err)
					continue
				}
				c.note(v)
			}
		})
	}
	for _, p := range c.chosen {
		if c.enough() || ctx.Err() != nil {
			break
		}
		next <- p
	}
	close(next)
	workers.Wait()
	return ended(context.Cause(ctx))
}

// ended leaves out that the time was over: what has been judged by then counts.
func ended(err error) error {
	if errors.Is(err, context.Canceled) {
		return nil
	}
	return err
}

func (c *campaign) enough() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.judged) >= c.n
}

func (c *campaign) note(v verdict) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if v.by == uncompiled || v.by == unfinished || len(c.judged) >= c.n {
		return
	}
	if v.by == nobody && c.harmless[v.place.name] != "" {
		v.by = harmless
	}
	c.judged = append(c.judged, v)
	switch {
	case v.by == nobody:
		fmt.Println("unseen:", v.place)
	case c.verbose:
		fmt.Printf("seen by %s: %v\n", v.test, v.place)
	}
}

// report prints the places that do no harm and the table by room.
func (c *campaign) report(least float64) error {
	rooms := map[string][]verdict{}
	for _, v := range c.judged {
		rooms[v.place.room] = append(rooms[v.place.room], v)
	}
	names := make([]string, 0, len(rooms))
	for name := range rooms {
		names = append(names, name)
	}
	slices.Sort(names)
	c.tellHarmless()
	if len(c.judged) == 0 {
		if len(c.chosen) == 0 {
			fmt.Println("no place was judged: these packages have none that -at matches and the compiler takes")
		} else {
			fmt.Println("no place was judged: allow more time with -within")
		}
		if least > 0 {
			return fmt.Errorf("nothing was judged, at least %.1f %% are to be seen", least)
		}
		return nil
	}
	fmt.Printf("\n%-34s %7s %5s %8s %8s %7s %6s\n", "room", "spoiled", "own", "callers", "harmless", "unseen", "seen")
	for _, name := range names {
		row(name, rooms[name])
	}
	seen := row("all", c.judged)
	if seen < least {
		return fmt.Errorf("%.1f %% were seen, at least %.1f %% are to be", seen, least)
	}
	return nil
}

// row prints one line of the table and returns the percentage that was seen of
// what does harm.
func row(name string, all []verdict) float64 {
	count := map[string]int{}
	for _, v := range all {
		count[v.by]++
	}
	seen := 100.0
	if of := len(all) - count[harmless]; of > 0 {
		seen = 100 * float64(of-count[nobody]) / float64(of)
	}
	fmt.Printf("%-34s %7d %5d %8d %8d %7d %5.1f%%\n", name, len(all), count[own], count[caller], count[harmless], count[nobody], seen)
	return seen
}
