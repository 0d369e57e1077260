package class_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/class"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// laid is two loads of a group: on the first two copies of 1 of 10 by 10 mm and one of 2 of
// 30 by 10, on the second one copy of 1 on three sheets; 3 fits on none.
func laid() (*share.Share, *passes.Plan, *estimate.Estimate) {
	at := func(code string, x, width float64) layout.MemberPlace {
		return layout.MemberPlace{Code: code, Bounds: geometry.BoxAround(geometry.Pt(x, 5), geometry.Pt(x+width, 15))}
	}
	s := &share.Share{
		Layout: layout.Layout{
			Loads: []layout.Load{
				{Number: 1, LengthMM: 297.5, Places: []layout.MemberPlace{at("1", 0, 10), at("2", 10, 30), at("1", 40, 10)}},
				{Number: 2, LengthMM: 450, Sheets: make([]geometry.Box, 3), Places: []layout.MemberPlace{at("1", 0, 10)}},
			},
			Findings: []finding.Finding{{Code: "laid"}},
		},
		Shares: []share.Portion{{Member: share.Member{Code: "1"}}, {Member: share.Member{Code: "2"}}, {Member: share.Member{Code: "3"}, Left: true}},
	}
	e := &estimate.Estimate{
		TotalMinor: 1000, Currency: "credit", MinorDigits: 2, Findings: []finding.Finding{{Code: "priced"}},
		Loads: []estimate.LoadTime{{Number: 1, Bench: estimate.Range{High: 7}}, {Number: 2, Bench: estimate.Range{High: 9}}},
	}
	return s, &passes.Plan{Findings: []finding.Finding{{Code: "cut"}}}, e
}

// The cost of all is divided among the loads by area, and that of a load among what lies on
// it. By hand: of 10.00 the loads have 500 and 100 of 600 mm², 8.33 and 1.67; of 8.33 the
// two copies have 200 of 500 mm², 3.332, and the other 4.998: the last hundredth goes to who
// lost more of one.
func TestGroupDividesTheCost(t *testing.T) {
	s, p, e := laid()
	request := &plan.Request{
		Stock: workshop.Stock{ID: "card", Name: "Card", Form: workshop.Sheet, Hold: workshop.Mat, MatTack: workshop.MediumTack},
		Machine: workshop.Machine{ID: "m", Mats: []workshop.MatSize{
			{ID: "M1", Tack: workshop.MediumTack}, {ID: "M2", Tack: workshop.LowTack}, {ID: "M3", Tack: workshop.MediumTack},
		}},
	}
	g := class.GroupOf(request, s, p, e)
	want := &class.Group{
		Stock: "card", StockName: "Card", Form: workshop.Sheet, Machine: "m", Hold: workshop.Mat, Mats: 2, Left: []string{"3"}, Currency: "credit", MinorDigits: 2,
		Findings: []finding.Finding{{Code: "laid"}, {Code: "cut"}, {Code: "priced"}},
		Loads: []class.GroupLoad{
			{Number: 1, Sheets: 1, CostMinor: 833, Time: e.Loads[0], Placed: []class.Placed{{Code: "1", Copies: 2, CostMinor: 333}, {Code: "2", Copies: 1, CostMinor: 500}}},
			{Number: 2, Sheets: 3, CostMinor: 167, Time: e.Loads[1], Placed: []class.Placed{{Code: "1", Copies: 1, CostMinor: 167}}},
		},
	}
	if diff := cmp.Diff(want, g); diff != "" {
		t.Errorf("the group is another:\n%s", diff)
	}
	for code, loads := range map[string][]int{"1": {1, 2}, "2": {1}, "3": nil} {
		if diff := cmp.Diff(loads, g.LoadsOf(code)); diff != "" {
			t.Errorf("%s lies on %s", code, diff)
		}
	}
	request.Stock.Form, request.Stock.Hold = workshop.Roll, workshop.Rollers
	roll := class.GroupOf(request, s, p, e)
	if roll.Mats != 1 || roll.Loads[0].Sheets != 0 || roll.Loads[0].RollMM != 297.5 || roll.Loads[1].RollMM != 450 {
		t.Errorf("of a roll: %+v", roll)
	}
	for _, none := range []*class.Group{class.GroupOf(request, s, nil, e), class.GroupOf(request, s, p, nil)} {
		if len(none.Loads) != 0 || none.Currency != "" || len(none.Left) != 1 || len(none.Findings) != 1 {
			t.Errorf("of what has no price: %+v", none)
		}
	}
}

// What holds for a load of several drawings is what was not said of one of them alone.
func TestCommonLeavesOutWhatIsOfOneDrawing(t *testing.T) {
	yes := ask.Reply{Answer: "yes"}
	mirror := true
	request := func() *plan.Request {
		return &plan.Request{
			Purpose: weeding.Lettering, Stock: workshop.Stock{ID: "film"}, Machine: workshop.Machine{ID: "m"}, Batch: "B 7", Mirror: &mirror,
			Copies: 4, Turned: []int{2}, Size: plan.Size{Frame: "A4", KnownLength: &size.KnownLength{Of: size.Width, MM: 80}}, Members: []share.Member{{Code: "1"}},
			Again: []layout.Again{{Copies: 1}}, DrawnFor: &workshop.Stock{ID: "card"}, Options: plan.Options{Page: 3, Novice: true, Nesting: layout.Thorough},
			Replies: ask.Replies{"layout/panels": yes, "passes/offset": yes, "size/true_size": yes, "weeding/edge": yes, ask.Rest: yes},
		}
	}
	r := request()
	got := (&class.Terms{Nesting: layout.Quick}).Common(r)
	want := &plan.Request{
		Purpose: weeding.Lettering, Stock: workshop.Stock{ID: "film"}, Machine: workshop.Machine{ID: "m"}, Batch: "B 7", Mirror: &mirror, Copies: 1,
		Options: plan.Options{Novice: true, Nesting: layout.Quick}, Replies: ask.Replies{"layout/panels": yes, "passes/offset": yes},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("in common is\n%s", diff)
	}
	if diff := cmp.Diff(request(), r); diff != "" {
		t.Errorf("the member's own request was changed:\n%s", diff)
	}
	r.Replies = ask.Replies{"size/true_size": yes, ask.Rest: yes}
	if got := (&class.Terms{Nesting: layout.Rows}).Common(r); got.Replies != nil || got.Options.Nesting != "" {
		t.Errorf("without an answer of the loads: %v, %q", got.Replies, got.Options.Nesting)
	}
	r.Stock.Hold = workshop.Rollers
	if got, want := class.TermsOf(r), (share.Terms{Stock: "film", Hold: workshop.Rollers, Machine: "m", Purpose: weeding.Lettering, Mirrored: true}); got != want {
		t.Errorf("the terms are %+v, want %+v", got, want)
	}
}
