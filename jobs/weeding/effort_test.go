package weeding_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/weeding"
)

// The worked example of the design (computations, time and money): a label
// with 2.4 m of kept contour, no ground, 18 counters, 5 fragile pieces and
// letters of 10 mm takes 173.7 s, six of them with the start-up 1072.2 s.
func TestWorkedExample(t *testing.T) {
	e := weeding.DefaultTimes().Weigh(weeding.Effort{KeptContourM: 2.4, Counters: 18, Fragile: 5, LeastHeightMM: 10}, false)
	if e.Difficulty != 1.5 || math.Abs(e.CopyS-173.7) > 1e-9 || math.Abs(e.Seconds(6)-1072.2) > 1e-9 {
		t.Errorf("D %g, one copy %g s, six %g s; want 1.5, 173.7, 1072.2", e.Difficulty, e.CopyS, e.Seconds(6))
	}
	if n := weeding.DefaultTimes().Weigh(e, true); math.Abs(n.Seconds(6)-2*1072.2) > 1e-9 {
		t.Errorf("a novice takes %g s, want twice 1072.2", n.Seconds(6))
	}
}

// D is 1 from the reference height up, grows as letters get lower, and stops
// at 4.
func TestDifficulty(t *testing.T) {
	for h, want := range map[float64]float64{0: 1, 40: 1, 15: 1, 10: 1.5, 7.5: 2, 3.75: 4, 1: 4} {
		if got := weeding.DefaultTimes().Difficulty(h); math.Abs(got-want) > 1e-12 {
			t.Errorf("letters of %g mm: D %g, want %g", h, got, want)
		}
	}
}

// The steps of a map add up to the time of one copy, where the surround is
// peeled too.
func TestStepsAddUp(t *testing.T) {
	for _, novice := range []bool{false, true} {
		m := chart(t, goBold(t, 9, "Board 86"), weeding.Request{
			Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true, Novice: novice,
		})
		sum := 0.0
		for i, s := range m.Steps {
			sum += s.Seconds
			if s.Order != i+1 || s.Seconds <= 0 {
				t.Errorf("step %d has order %d and %g s", i+1, s.Order, s.Seconds)
			}
		}
		if math.Abs(sum-m.Effort.CopyS) > 1e-9 {
			t.Errorf("novice %v: steps take %g s, a copy %g", novice, sum, m.Effort.CopyS)
		}
	}
}

// Counters come first below letters of 10 mm and last above; grounds come
// before counters, the larger first.
func TestOrderOfPeeling(t *testing.T) {
	first := func(em float64) weeding.Class {
		m := chart(t, goBold(t, em, "BOARD"), weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true})
		return m.Regions[m.Steps[0].Region-1].Class
	}
	if c := first(12); c != weeding.Counter { // capitals of 8.7 mm
		t.Errorf("small letters begin with a %s, want a counter", c)
	}
	if c := first(30); c != weeding.Surround {
		t.Errorf("large letters begin with a %s, want the surround", c)
	}
	m := chart(t, drawn(t, "M0 0H50V50H0Z", "M5 5H20V45H5Z", "M10 10H15V15H10Z", "M25 5H48V45H25Z", "M30 10H35V15H30Z", "M40 10H45V15H40Z", "M6 30H9V33H6Z", "M7 31H8V32H7Z"),
		weeding.Request{Purpose: weeding.Pieces, Stock: film})
	var got []weeding.Class
	last := math.Inf(1)
	for _, s := range m.Steps {
		r := m.Regions[s.Region-1]
		got = append(got, r.Class)
		if r.Class == weeding.Ground {
			if r.AreaMM2 > last/0.8 {
				t.Errorf("a ground of %g mm² after one of %g", r.AreaMM2, last)
			}
			last = r.AreaMM2
		}
	}
	want := []weeding.Class{weeding.Ground, weeding.Ground, weeding.Counter}
	if len(got) != len(want) {
		t.Fatalf("steps %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("steps %v, want %v", got, want)
		}
	}
}

// Where nothing but counters comes out, none of them is last or first: of a plate with
// windows, and of one with low letters cut out of it.
func TestNothingIsLastWhereNothingComesBefore(t *testing.T) {
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true}
	low := append([]string{"M-20 -20H60V40H-20Z"}, "M0 0h6v7h-6zM9 0h6v7h-2v-5h-2v5h-2zM18 0h6v7h-2v-5h-2v5h-2z")
	for name, m := range map[string]*weeding.Map{"windows": chart(t, drawn(t, "M0 0H60V60H0Z", "M10 10H20V50H10Z", "M30 10H40V50H30Z"), req), "low letters": chart(t, drawn(t, low...), req)} {
		if len(m.Steps) < 2 || m.Steps[0].Hint != "Lift the counters, each from its middle." {
			t.Errorf("%s: %+v", name, m.Steps)
		}
	}
	if m := chart(t, goBold(t, 30, "BOARD"), req); !strings.Contains(m.Steps[1].Hint, "counters last") {
		t.Errorf("letters: %q", m.Steps[1].Hint)
	}
}

// Grounds of like size are peeled in reading order, so that the next step lies
// beside the last: here one large and nine small ones, three by three, whose
// sizes differ by a hundredth.
func TestGroundsOfLikeSizeInReadingOrder(t *testing.T) {
	data := []string{"M0 0H100V200H0Z", "M5 105H95V195H5Z", "M40 140H60V160H40Z"}
	for i := range 9 {
		x, y := 5+30*(i%3), 70-30*(i/3)
		grow := float64((i*4)%9) / 100
		data = append(data, fmt.Sprintf("M%d %dh%gv20h-%gz", x, y, 20+grow, 20+grow), fmt.Sprintf("M%d %dh6v6h-6z", x+7, y+7))
	}
	m := chart(t, drawn(t, data...), weeding.Request{Purpose: weeding.Pieces, Stock: film, Relief: true})
	last := geometry.Pt(0, 1000)
	for i, s := range m.Steps[1:] {
		at := m.Regions[s.Region-1].Outer.Bounds().Min
		if at.Y > last.Y || at.Y == last.Y && at.X <= last.X {
			t.Errorf("step %d is at %v, after %v", i+2, at, last)
		}
		last = at
	}
	if first := m.Regions[m.Steps[0].Region-1]; len(m.Steps) != 10 || first.AreaMM2 < 5000 {
		t.Errorf("%d steps, the first of %g mm²", len(m.Steps), first.AreaMM2)
	}
}

// Each step says which way to pull: a surround or ground from the corner where
// it begins into the film, back over itself; a counter along its longer side.
// The surround begins at the corner farthest from what is fragile.
func TestWhichWayToPeel(t *testing.T) {
	// A large square with two counters, one lying and one upright, and a small
	// piece at the upper right.
	a := drawn(t, "M0 0H80V80H0Z", "M10 10H50V20H10Z", "M60 30H70V70H60Z", "M110 78H112V80H110Z")
	m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: film, Border: true})
	if len(m.Steps) != 3 {
		t.Fatalf("%d steps", len(m.Steps))
	}
	for i, want := range []weeding.Class{weeding.Surround, weeding.Counter, weeding.Counter} {
		s := m.Steps[i]
		r := m.Regions[s.Region-1]
		if r.Class != want {
			t.Fatalf("step %d is a %s", i+1, r.Class)
		}
		switch b := r.Outer.Bounds(); {
		case r.Class == weeding.Surround:
			sin, cos := math.Sincos(s.PeelDeg * math.Pi / 180)
			if d := s.Pick.Dist(m.Bounds.Min); d > 6 || !inRegion(s.Pick, &r) {
				t.Errorf("begins at %v, %.1f mm from the corner farthest from the small piece", s.Pick, d)
			}
			if cos <= 0 || sin <= 0 {
				t.Errorf("pulls at %.0f° from the lower left corner", s.PeelDeg)
			}
		case b.Width() > b.Height() && s.PeelDeg != 0, b.Width() < b.Height() && s.PeelDeg != 90:
			t.Errorf("a counter of %.0f × %.0f mm is pulled at %.0f°", b.Width(), b.Height(), s.PeelDeg)
		}
		if i > 0 && s.Pick.Dist(r.Pick) > 0 {
			t.Errorf("a counter is lifted at %v, its pole is at %v", s.Pick, r.Pick)
		}
	}
	// The small piece at the lower left: then it begins at the upper right.
	b := drawn(t, "M0 0H80V80H0Z", "M-30 0H-28V2H-30Z")
	m = chart(t, b, weeding.Request{Purpose: weeding.Pieces, Stock: film, Border: true})
	if s := m.Steps[0]; s.Pick.Dist(m.Bounds.Max) > 6 || s.PeelDeg > -90 {
		t.Errorf("begins at %v and pulls at %.0f°, want from the upper right", s.Pick, s.PeelDeg)
	}
}
