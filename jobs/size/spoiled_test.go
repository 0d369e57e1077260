package size_test

import (
	"flag"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/size/internal/spoil"
)

// The full run: go test ./jobs/size -run TestSpoiled -spoiled=10000 -v
var (
	spoiledCount = flag.Int("spoiled", 400, "how many spoiled drawings to repair")
	spoiledSeed  = flag.Uint64("spoiled-seed", 1, "seed of the spoiled drawings")
)

// errorMM is the bar: no drawing is silently wrong by more at the far corner.
const errorMM = 0.05

// The same seed and number give the same case.
func TestSpoilingRepeats(t *testing.T) {
	for n := range 50 {
		if a, b := spoil.Make(7, n), spoil.Make(7, n); !reflect.DeepEqual(a, b) {
			t.Fatalf("case %d differs from itself", n)
		}
	}
}

type tally struct {
	accepted, silentWrong, onHeaderWrong int
	stretchAccepted                      int
	clear, clearAsked                    int // intact and unambiguous or declared
	asked, contained, first, byValue     int
	why                                  map[finding.Code]int
}

// Source: the acceptance line on spoiled drawings: none silently wrong by more
// than 0.05 mm, at most 1 % of the clear ones asked, every question holds the
// right answer, first in at least 90 %.
func TestSpoiled(t *testing.T) {
	sum := tally{why: map[finding.Code]int{}}
	for n := range *spoiledCount {
		c := spoil.Make(*spoiledSeed, n)
		res := repair(t, c.Drawing, c.Request)
		sum.count(t, &c, res)
	}
	sum.report(t)
	if sum.silentWrong > 0 {
		t.Errorf("%d silently wrong", sum.silentWrong)
	}
	if sum.stretchAccepted > 0 {
		t.Errorf("%d stretched drawings accepted in silence", sum.stretchAccepted)
	}
	if sum.clearAsked*100 > sum.clear {
		t.Errorf("%d of %d clear drawings were asked about", sum.clearAsked, sum.clear)
	}
	if sum.contained < sum.asked {
		t.Errorf("%d questions without the right answer", sum.asked-sum.contained)
	}
	if sum.first*10 < sum.asked*9 {
		t.Errorf("the right answer is first in %d of %d questions", sum.first, sum.asked)
	}
}

func (s *tally) count(t *testing.T, c *spoil.Case, res *size.Result) {
	clear := c.Truth.Framed && c.Truth.Intact && c.Truth.Unambiguous
	if clear {
		s.clear++
	}
	if at := slices.IndexFunc(res.Questions, func(q ask.Question) bool { return q.ID == size.QuestionID }); at >= 0 {
		s.asked++
		s.why[res.Questions[at].Code]++
		if clear {
			s.clearAsked++
			describe(t, "asked although clear", c, res)
		}
		s.answer(t, c, res, res.Questions[at])
		return
	}
	s.accepted++
	if c.Truth.Stretched {
		s.stretchAccepted++
		describe(t, "stretched and accepted", c, res)
	}
	off := c.Truth.Error(res.Transform)
	switch {
	case off <= errorMM:
	case slices.Contains(codes(res), finding.SizeByHeaderAlone) && !c.Truth.Framed:
		s.onHeaderWrong++ // nothing in the drawing contradicts its header; the result warns
	default:
		s.silentWrong++
		describe(t, fmt.Sprintf("silently wrong by %.3f mm", off), c, res)
	}
}

// answer gives each answer in turn, as a person who knows the true width
// would, until one makes the drawing right.
func (s *tally) answer(t *testing.T, c *spoil.Case, asked *size.Result, q ask.Question) {
	for i, a := range q.Answers {
		reply := ask.Reply{Answer: a.ID, MM: trueLength(c, asked, q, a)}
		req := c.Request
		req.Replies = ask.Replies{size.QuestionID: reply}
		res := repair(t, c.Drawing, req)
		if c.Truth.Error(res.Transform) > errorMM {
			continue
		}
		s.contained++
		if i == 0 {
			s.first++
		} else {
			describe(t, "right answer is "+a.ID, c, asked)
		}
		if !a.NeedsMM {
			s.byValue++
		}
		return
	}
	describe(t, "no right answer", c, asked)
}

// trueLength is what a person who made the drawing says of the edge that an
// answer names, 0 where it names none.
func trueLength(c *spoil.Case, res *size.Result, q ask.Question, a ask.Answer) float64 {
	mm := c.Truth.AllMM
	if strings.Contains(q.Text, "without its frame") {
		mm = c.Truth.ArtMM
	}
	switch a.ID {
	case size.AnswerWidth:
		return mm[0]
	case size.AnswerHeight:
		return mm[1]
	case size.AnswerFrame:
		if c.Truth.Framed {
			return max(c.Truth.PageMM[0], c.Truth.PageMM[1])
		}
		return max(res.Frame.SideUnits[0], res.Frame.SideUnits[1]) * c.Truth.ToMM.MeanScale() // held to a ruler
	}
	return 0
}

func describe(t *testing.T, what string, c *spoil.Case, res *size.Result) {
	t.Logf("%s: number %d %v\n  rule: %s\n  unit %+v, frame %+v\n  %s: %s", what, c.Number, c.Truth.Spoilings, c.Truth.Rule, c.Drawing.Unit, res.Frame, res.Cause, res.Why)
	if len(res.Questions) > 0 {
		t.Logf("  %s: %v", res.Questions[0].Code, answers(res))
	}
}

func (s *tally) report(t *testing.T) {
	t.Logf("%d spoiled drawings: %d settled, %d asked %v", s.accepted+s.asked, s.accepted, s.asked, s.why)
	t.Logf("silently wrong by more than %g mm: %d; wrong header, no frame, settled with a warning: %d", errorMM, s.silentWrong, s.onHeaderWrong)
	t.Logf("clear (intact frame, unambiguous or declared): %d, asked %d (%.2f %%)", s.clear, s.clearAsked, 100*float64(s.clearAsked)/float64(max(s.clear, 1)))
	t.Logf("questions with the right answer: %d of %d, %d of them by a reading; first in %d (%.1f %%)", s.contained, s.asked, s.byValue, s.first, 100*float64(s.first)/float64(max(s.asked, 1)))
}
