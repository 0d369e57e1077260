package view_test

import (
	"crypto/sha256"
	"strings"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/workshop"
)

// sharedIn plans the loads that copies of several drawings share, by their codes.
func sharedIn(t *testing.T, shop workshop.Data, choices plan.Choices, drawings map[string]string) *planned {
	t.Helper()
	list := jobs.NewList()
	request, err := list.Choose(shop, choices)
	if err != nil {
		t.Fatal(err)
	}
	var nodes []jobs.Node
	var members []jobs.Sharer
	files := map[jobs.Sum][]byte{}
	for code, text := range drawings {
		sum := sha256.Sum256([]byte(text))
		files[sum] = []byte(text)
		graph, err := jobs.Graph(list.Rows[:4], request, sum)
		if err != nil {
			t.Fatal(err)
		}
		nodes = append(nodes, graph...)
		members = append(members, jobs.Sharer{Member: share.Member{Code: code, Copies: 2}, Map: graph[3].Key})
	}
	shared, err := list.SharedNodes(request, members)
	if err != nil {
		t.Fatal(err)
	}
	all, err := local.Nodes(t.Context(), files, append(nodes, shared...)...)
	if err != nil {
		t.Fatal(err)
	}
	results := jobs.Results{}
	for _, n := range shared {
		results[n.Row.Name] = all[n.Key]
	}
	return &planned{Results: list.Shown(results), request: request, status: plan.Ready}
}

// The files of loads that several drawings share cut what was drawn like any others, on
// card with all operations and on mirrored film.
func TestTheTipCutsSharedLoads(t *testing.T) {
	for _, b := range []bench{benches()[0], benches()[3]} {
		t.Run(b.name, func(t *testing.T) {
			other := strings.Replace(b.file, "<path", `<path d="M3 3h4v4h-4z"/><path`, 1)
			p := sharedIn(t, offsetIn(b.shop(), 0.5), b.choices, map[string]string{"A": b.file, "B": other})
			if p.Loads() == 0 || len(p.Layout.Loads[0].Places) < 4 {
				t.Fatalf("%d loads", p.Loads())
			}
			for load := range p.Passes.Loads {
				for _, r := range ownReaders() {
					checkTip(t, p, load, r, 1)
				}
			}
		})
	}
}
