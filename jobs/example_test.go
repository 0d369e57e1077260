package jobs_test

import (
	"context"
	"crypto/sha256"
	"fmt"

	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// A square sign with a round hole, drawn in inches on the college's convention.
const sign = `<svg xmlns="http://www.w3.org/2000/svg" width="4in" height="4in" viewBox="0 0 4 4">
	<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.01"><path d="M0.5 0.5H3.5V3.5H0.5Z"/><circle cx="2" cy="2" r="0.5"/></g></svg>`

// The whole computation: three copies of the sign on removable film.
func Example() {
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610", Copies: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	done, status, err := local.Run(context.Background(), list.Rows, []byte(sign), request)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range done {
		fmt.Print(d.Row.Name, " ")
	}
	fmt.Println("→", status)

	results := local.Results(done)
	s, l, p := list.Size.In(results), list.Layout.In(results), list.Passes.In(results)
	fmt.Printf("size: %.1f × %.1f mm (%s)\n", s.WidthMM, s.HeightMM, s.Cause)
	for _, r := range list.Weeding.In(results).Regions {
		fmt.Printf("region %d: %s, %.0f mm²\n", r.Number, r.Class, r.AreaMM2)
	}
	fmt.Printf("layout: %d copies, %.1f mm of roll\n", len(l.Loads[0].Placements), l.Usage.RollMM)
	fmt.Printf("passes: %s, %d runs\n", p.Loads[0].Passes[0].Operation, len(p.Loads[0].Passes[0].Runs))
	// Output:
	// read size artwork weeding layout passes estimate → ready
	// size: 76.2 × 76.2 mm (declared_unit)
	// region 1: kept, 5300 mm²
	// region 2: counter, 506 mm²
	// layout: 3 copies, 176.2 mm of roll
	// passes: kiss_cut, 6 runs
}

// A job that is added to the list: how many pieces all members of a class keep.
// Its package would hold the result and the function,
type tally struct {
	Kept int `json:"kept"`
}

func (tally) Outcome() ([]finding.Finding, []ask.Question) { return nil, nil }

func count(_ context.Context, _ struct{}, members []*weeding.Map) (*tally, error) {
	t := &tally{}
	for _, m := range members {
		for i := range m.Regions {
			if m.Regions[i].Kept() {
				t.Kept++
			}
		}
	}
	return t, nil
}

// and the list would hold this row.
func tallyOf(list *jobs.List) jobs.Job[tally] {
	return jobs.DefineAll(jobs.Row{Name: "tally", Revision: 1}, list.Weeding, func(*plan.Request) (none struct{}) { return none }, count)
}

// A job may need results of several plans. Here two that share a drawing, one on
// film and one on card, are counted together; what they share is computed once.
func ExampleDefineAll() {
	list := jobs.NewList()
	row := tallyOf(list)
	file := sha256.Sum256([]byte(sign))
	var nodes []jobs.Node
	var members []jobs.Key
	for _, stock := range []string{"film-removable-610", "card-220-a4"} {
		request, err := list.Choose(workshop.Example(), plan.Choices{Stock: stock})
		if err != nil {
			fmt.Println(err)
			return
		}
		graph, err := jobs.Graph(list.Rows[:4], request, file) // as far as the weeding map
		if err != nil {
			fmt.Println(err)
			return
		}
		nodes = append(nodes, graph...)
		members = append(members, graph[3].Key)
	}
	root, err := jobs.NewNode(row.Row(), &plan.Request{}, file, members...)
	if err != nil {
		fmt.Println(err)
		return
	}
	results, err := local.Nodes(context.Background(), map[jobs.Sum][]byte{file: []byte(sign)}, append(nodes, root)...)
	if err != nil {
		fmt.Println(err)
		return
	}
	kept := row.In(jobs.Results{"tally": results[root.Key]}).Kept
	fmt.Printf("%d results of %d nodes; %d pieces kept\n", len(results), len(nodes)+1, kept)
	// Output:
	// 8 results of 9 nodes; 2 pieces kept
}
