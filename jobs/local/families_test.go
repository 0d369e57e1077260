package local_test

import (
	"context"
	"flag"
	"math"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

var (
	familiesOf    = flag.Int("families", 0, "segments of the largest drawing of each family, to measure time and memory")
	familiesOnly  = flag.String("family", "", "the one family to measure")
	familiesSeed  = flag.Uint64("families-seed", 1, "seed of the drawings of the families")
	familiesWild  = flag.Uint64("families-wild", 8, "how many families are put together by chance")
	familiesStock = flag.String("families-stock", "film-removable-610", "the stock on which they are planned")
)

// mostGrowth is the exponent with which the steps of a plan may grow.
const mostGrowth = 1.25

// misses are the families that do not keep to mostGrowth between 250 and 1,000
// segments, with the exponents that they keep to. The walk has more crossings a
// segment the longer it is; pieces of the T-junctions and of the hatch are longer than
// a hand, and cut, only in the larger drawing, those of the hatch until the steps
// allowed for cuts are used up; all lines of the fan end at one point, and up to 1,000
// of them all ends there are held against each other (from 1,000 to 4,000 lines n^0.1),
// which is told more plainly the less the weeding of 250 takes.
var misses = map[string]float64{"hatch": 2.15, "T-junctions": 1.6, "random walk": 1.3, "fan": 1.4}

// counter is a context that counts how often it is asked whether it has ended:
// once in 512 steps of a computation.
type counter struct {
	context.Context
	looks atomic.Int64
}

func (c *counter) Err() error {
	c.looks.Add(1)
	return c.Context.Err()
}

// spent is what the jobs of one plan took.
type spent struct {
	looks int64
	cpu   map[string]time.Duration // by job
	peak  uint64
	ended string
}

func (s *spent) total() (sum time.Duration) {
	for _, d := range s.cpu {
		sum += d
	}
	return sum
}

// spend plans a drawing, each question answered with its first answer. A job
// that runs again after an answer counts by its longest run.
func spend(t *testing.T, file []byte, watched bool) *spent {
	t.Helper()
	req, err := list.Choose(workshop.Example(), plan.Choices{Stock: *familiesStock, Replies: ask.Replies{}})
	if err != nil {
		t.Fatal(err)
	}
	ctx := &counter{Context: context.Background()}
	looks := map[string]int64{}
	s := &spent{cpu: map[string]time.Duration{}}
	steps := stepsOf(file, req)
	steps.ctx = ctx
	steps.around = func(job string, run func()) {
		before := ctx.looks.Load()
		defer func() { looks[job] = max(looks[job], ctx.looks.Load()-before) }()
		if watched {
			took, peak := cost.Of(run)
			s.cpu[job], s.peak = max(s.cpu[job], took), max(s.peak, peak)
		} else {
			run()
		}
	}
	results := jobs.Results{}
	for {
		last, open, err := steps.untilAsked(results, func(string, time.Duration) {})
		if err != nil {
			t.Fatal(err)
		}
		s.ended = last
		if open == nil || len(req.Replies) == mostQuestions {
			break
		}
		req.Replies[open.ID] = onward(open)
	}
	for _, n := range looks {
		s.looks += n
	}
	return s
}

// onward is the first answer, but for what is too fine, which is let pass so that
// the jobs after the weeding run too.
func onward(q *ask.Question) ask.Reply {
	for _, a := range q.Answers {
		if a.NeedsReason {
			return ask.Reply{Answer: a.ID, Reason: "measured"}
		}
	}
	return ask.Reply{Answer: q.Answers[0].ID, MM: 100}
}

// Planning drawings of any kind grows about as they do, by the steps that the
// jobs count. With -families=100000 -v the table says what they take.
func TestFamilies(t *testing.T) {
	for _, f := range families() {
		if *familiesOnly != "" && f.name != *familiesOnly {
			continue
		}
		if *familiesOf > 0 {
			measureFamily(t, f, *familiesOf)
			continue
		}
		const few, factor = 250, 4
		for try := 1; ; try++ { // what is done side by side looks a tenth more or less often, as it happens
			a, b := spend(t, f.drawn(few, *familiesSeed), false), spend(t, f.drawn(few*factor, *familiesSeed), false)
			t.Logf("%-20s %d looks to %q, then %d to %q", f.name, a.looks, a.ended, b.looks, b.ended)
			grows := math.Log(float64(b.looks)/float64(a.looks)) / math.Log(factor)
			if grows <= max(mostGrowth, misses[f.name]) {
				break
			}
			if try == 3 {
				t.Errorf("%s: steps grow as n^%.2f, from %d × 512 to %d × 512", f.name, grows, a.looks, b.looks)
				break
			}
		}
	}
}

// measureFamily prints what the largest drawing of a family takes, and how that
// has grown from one of 8 % of its segments.
func measureFamily(t *testing.T, f family, most int) {
	cost.Unwatched(t)
	few := most * 8 / 100
	before := spend(t, f.drawn(few, *familiesSeed), true)
	s := spend(t, f.drawn(most, *familiesSeed), true)
	grows := math.Log(float64(s.total())/float64(before.total())) / math.Log(float64(most)/float64(few))
	t.Logf("%-20s %6d: %6.2f s, %4d MB, n^%.2f, %s %v", f.name, most, s.total().Seconds(), s.peak>>20, grows, s.ended, s.cpu)
}
