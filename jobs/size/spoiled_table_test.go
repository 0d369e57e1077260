package size_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/internal/spoil"
)

// row counts the drawings of one kind.
type row struct {
	all, clear, clearAsked, settled, lucky, asked, wrong, warned int
	offered, byName, first                                       int
	reader                                                       int
}

// tally counts by kind.
type tally map[string]*row

// shares is from how many drawings on shares are held to their bars; of a few
// hundred they say too little.
const shares = 5000

// shown bounds how many drawings of a sort are described.
const shown = 12

func (s tally) add(t *testing.T, r *trial) {
	if s[r.c.Kind] == nil {
		s[r.c.Kind] = &row{}
	}
	k := s[r.c.Kind]
	class := r.c.Truth.Class
	k.all++
	if class == spoil.Clear {
		k.clear++
	}
	if r.asked {
		s.addAsked(t, r, k)
		return
	}
	k.settled++
	switch {
	case r.fault == "":
		if class == spoil.MustAsk || class == spoil.Contradictory {
			k.lucky++
		}
	case class == spoil.Unspoken && slices.Contains(codes(r.res), finding.SizeByHeaderAlone):
		k.warned++
	default:
		s.show(t, &k.wrong, r, "silently wrong: "+r.fault)
	}
}

func (s tally) addAsked(t *testing.T, r *trial, k *row) {
	k.asked++
	if r.fault != "" {
		s.show(t, &k.reader, r, r.fault)
	}
	if r.c.Truth.Class == spoil.Clear {
		s.show(t, &k.clearAsked, r, "asked although clear")
	}
	switch {
	case r.offered && r.byName && r.first:
		k.offered, k.byName, k.first = k.offered+1, k.byName+1, k.first+1
	case r.offered && r.byName:
		k.offered, k.byName = k.offered+1, k.byName+1
		miss := k.byName - k.first - 1
		s.show(t, &miss, r, "right is "+r.right)
	case r.offered:
		k.offered++
	default:
		miss := k.asked - k.offered - 1
		s.show(t, &miss, r, "the right answer is not offered")
	}
}

// show counts, and describes the first few.
func (s tally) show(t *testing.T, n *int, r *trial, what string) {
	if *n++; *n <= shown {
		r.describe(t, what)
		r.save(t)
	}
}

func (k *row) String() string {
	return fmt.Sprintf("%6d %6d %6d %8d %6d %6d %6d %7d %8d %7d %6d", k.all, k.clear, k.clearAsked, k.settled, k.lucky, k.asked, k.wrong, k.warned, k.offered, k.byName, k.first)
}

func (k *row) plus(o *row) {
	k.all, k.clear, k.clearAsked = k.all+o.all, k.clear+o.clear, k.clearAsked+o.clearAsked
	k.settled, k.lucky, k.asked, k.wrong, k.warned = k.settled+o.settled, k.lucky+o.lucky, k.asked+o.asked, k.wrong+o.wrong, k.warned+o.warned
	k.offered, k.byName, k.first, k.reader = k.offered+o.offered, k.byName+o.byName, k.first+o.first, k.reader+o.reader
}

// report prints the table and holds the sums against the bars.
func (s tally) report(t *testing.T) {
	var kinds []string
	for k := range s {
		kinds = append(kinds, k)
	}
	slices.Sort(kinds)
	sum := &row{}
	lines := []string{fmt.Sprintf("%-32s %6s %6s %6s %8s %6s %6s %6s %7s %8s %7s %6s", "kind", "all", "clear", "asked!", "settled", "lucky", "asked", "WRONG", "warned", "offered", "by name", "first")}
	for _, k := range kinds {
		lines = append(lines, fmt.Sprintf("%-32s %v", k, s[k]))
		sum.plus(s[k])
	}
	t.Logf("\n%s\n%-32s %v", strings.Join(lines, "\n"), "all", sum)
	if sum.wrong > 0 {
		t.Errorf("%d silently wrong", sum.wrong)
	}
	if sum.reader > 0 {
		t.Errorf("%d were refused or stopped by the reader", sum.reader)
	}
	if sum.offered < sum.asked {
		t.Errorf("%d questions without the right answer", sum.asked-sum.offered)
	}
	if sum.all < shares {
		return
	}
	if sum.clearAsked*50 > sum.clear {
		t.Errorf("%d of %d clear drawings were asked about", sum.clearAsked, sum.clear)
	}
	if sum.first*10 < sum.byName*9 {
		t.Errorf("the right answer is first in %d of the %d questions that have one beside the lengths", sum.first, sum.byName)
	}
}
