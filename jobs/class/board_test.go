package class_test

import (
	"fmt"
	"testing"
	"time"

	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
)

// A member is as far as the load that is least so; who has to do something is shown as
// that, and nobody by name.
func TestBoard(t *testing.T) {
	now := time.Now()
	load := func(number int, issued, cut, done bool, codes ...string) class.Load {
		l := class.Load{Number: number}
		for at, is := range map[**time.Time]bool{&l.Issued: issued, &l.Cut: cut, &l.Done: done} {
			if is {
				*at = &now
			}
		}
		for _, c := range codes {
			l.Placed = append(l.Placed, class.Placed{Code: c, Copies: 1})
		}
		return l
	}
	member := func(code string, s plan.Status) class.Member {
		return class.Member{Reference: "name " + code, Code: code, Status: s}
	}
	left := member("09", plan.Ready)
	left.Left = true
	s := class.Set{
		Members: []class.Member{
			member("100", plan.Ready), member("01", plan.Ready), member("02", plan.Ready), member("03", plan.Ready), member("04", plan.Ready), member("05", plan.Asking),
			member("06", plan.Refused), member("07", plan.Failed), member("08", plan.Working), left, member("", plan.Queued),
		},
		Loads: []class.Load{load(1, true, true, true, "01", "02"), load(2, true, true, false, "02", "03"), load(3, true, false, false, "03", "04"), load(4, false, false, false, "04", "05")},
	}
	marks, unmarked := s.Board()
	got := ""
	for _, m := range marks {
		got += fmt.Sprintf("%s %s %v; ", m.Code, m.Standing, m.Loads)
	}
	want := "01 made [1]; 02 at_bench [1 2]; 03 at_cutter [2 3]; 04 waits [3 4]; 05 asks [4]; 06 to_mend []; 07 to_mend []; 08 worked_out []; 09 to_mend []; 100 waits []; "
	if got != want || unmarked != 1 {
		t.Errorf("%d without a code; %s", unmarked, got)
	}
}
