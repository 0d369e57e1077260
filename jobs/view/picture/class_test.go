package picture_test

import (
	"context"
	"crypto/sha256"
	"fmt"
	"sync"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/workshop"
)

// shared is the loads that drawings of a class have in common.
type shared struct{ view.Results }

// classSet plans the common loads of eight name tags. They are planned once.
var classSet = sync.OnceValues(func() (*shared, error) {
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "card-160-a4"})
	if err != nil {
		return nil, err
	}
	var nodes []jobs.Node
	var members []jobs.Sharer
	files := map[jobs.Sum][]byte{}
	for i, name := range []string{"SALTLARK", "KELPWREN", "QUILLFIN", "TIDEMOTH", "FOAMHARE", "GULLFERN", "MISTSEAL", "REEFHEN"} {
		file, err := scenario.ClassTag(name, 210, 297).SVG()
		if err != nil {
			return nil, err
		}
		sum := sha256.Sum256(file)
		files[sum] = file
		graph, err := jobs.Graph(list.Rows[:4], request, sum)
		if err != nil {
			return nil, err
		}
		nodes = append(nodes, graph...)
		members = append(members, jobs.Sharer{Member: share.Member{Code: fmt.Sprintf("T%02d", i+1), Copies: 1}, Map: graph[3].Key})
	}
	nodesOfAll, err := list.SharedNodes(request, members)
	if err != nil {
		return nil, err
	}
	all, err := local.Nodes(context.Background(), files, append(nodes, nodesOfAll...)...)
	if err != nil {
		return nil, err
	}
	results := jobs.Results{}
	for _, n := range nodesOfAll {
		results[n.Row.Name] = all[n.Key]
	}
	return &shared{*list.Shown(results)}, nil
})

// onLoads draws what there is to see of the first load.
func (s *shared) onLoads(ctx context.Context, t *testing.T) map[string]*figure.Picture {
	t.Helper()
	return map[string]*figure.Picture{
		"layout":  must(picture.Layout(ctx, s.Layout, s.MapOn(1), 1)),
		"weeding": must(picture.Weeding(ctx, s.MapOn(1))),
		"passes":  must(picture.Passes(ctx, s.Passes, s.Layout, s.MapOn(1), 1)),
	}
}
