// Package local runs the jobs of a plan in this process, without a database or a
// queue: the same nodes in the same order, which stop at the same places with
// the same results as with them.
package local

import (
	"context"
	"crypto/sha256"
	"fmt"

	"knifedesk/jobs"
	"knifedesk/jobs/plan"
)

// Done is a node that was computed.
type Done struct {
	jobs.Node
	Result jobs.Result
	Body   []byte // the JSON of Result
}

// Run computes a plan for a file as far as it comes. It returns what was
// computed and whether the plan is ready, asking or refused; an error is a
// fault of the program or the end of ctx.
func Run(ctx context.Context, rows []*jobs.Row, file []byte, request *plan.Request) ([]Done, plan.Status, error) {
	nodes, err := jobs.Graph(rows, request, sha256.Sum256(file))
	if err != nil {
		return nil, "", err
	}
	var done []Done
	var course jobs.Course
	results := map[jobs.Key]jobs.Result{}
	for _, n := range nodes {
		if stop := course.Before(n.Row); stop != "" {
			return done, stop, nil
		}
		r, body, err := compute(ctx, &n, file, results)
		if err != nil {
			return done, "", err
		}
		done = append(done, Done{n, r, body})
		if stop := course.After(jobs.OutcomeOf(r)); stop != "" {
			return done, stop, nil
		}
	}
	return done, course.End(), nil
}

// Nodes computes nodes of any plans, each after those that it needs, to the end
// and whatever they find. Equal nodes are computed once.
func Nodes(ctx context.Context, files map[jobs.Sum][]byte, nodes ...jobs.Node) (map[jobs.Key]jobs.Result, error) {
	results := map[jobs.Key]jobs.Result{}
	for _, n := range nodes {
		if _, there := results[n.Key]; there {
			continue
		}
		var file []byte
		if n.File != nil {
			file = files[*n.File]
		}
		if _, _, err := compute(ctx, &n, file, results); err != nil {
			return nil, err
		}
	}
	return results, nil
}

// compute computes a node and keeps its result among the others.
func compute(ctx context.Context, n *jobs.Node, file []byte, results map[jobs.Key]jobs.Result) (jobs.Result, []byte, error) {
	needs := make([]jobs.Result, len(n.Needs))
	for i, key := range n.Needs {
		r, ok := results[key]
		if !ok {
			return nil, nil, fmt.Errorf("local: %s comes before a result that it needs", n.Row.Name)
		}
		needs[i] = r
	}
	r, body, err := n.Run(ctx, file, needs)
	if err == nil {
		results[n.Key] = r
	}
	return r, body, err
}

// Results are those of a plan by the names of their jobs.
func Results(done []Done) jobs.Results {
	all := jobs.Results{}
	for _, d := range done {
		all[d.Row.Name] = d.Result
	}
	return all
}
