package local_test

import (
	"context"
	"crypto/sha256"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/plan"
)

// list is the list of jobs; nothing changes it.
var list = jobs.NewList()

// steps are the jobs of a plan that are run one by one, so that a test sees what
// each has to say and decides where to stop.
type steps struct {
	file    []byte
	request *plan.Request
	done    map[jobs.Key]jobs.Result
	ctx     context.Context
	around  func(job string, run func()) // what measures a run
}

func stepsOf(file []byte, request *plan.Request) *steps {
	return &steps{file, request, map[jobs.Key]jobs.Result{}, context.Background(), func(_ string, run func()) { run() }}
}

// nodes are those of the plan, as the request stands now.
func (s *steps) nodes() ([]jobs.Node, error) {
	return jobs.Graph(list.Rows, s.request, sha256.Sum256(s.file))
}

// run computes a node, of which all needs are done.
func (s *steps) run(n *jobs.Node) (jobs.Result, error) {
	needs := make([]jobs.Result, len(n.Needs))
	for i, key := range n.Needs {
		needs[i] = s.done[key]
	}
	var r jobs.Result
	var err error
	s.around(n.Row.Name, func() { r, _, err = n.Run(s.ctx, s.file, needs) })
	s.done[n.Key] = r
	return r, err
}

// each runs the jobs in their order as long as on says so.
func (s *steps) each(on func(name string, r jobs.Result) bool) error {
	nodes, err := s.nodes()
	if err != nil {
		return err
	}
	for i := range nodes {
		r, err := s.run(&nodes[i])
		if err != nil || !on(nodes[i].Row.Name, r) {
			return err
		}
	}
	return nil
}

// result returns the result of a job, which has to be there.
func result[R any](t *testing.T, of jobs.Job[R], results jobs.Results) *R {
	t.Helper()
	r := of.In(results)
	if r == nil {
		t.Fatalf("no result of %s", of.Row().Name)
	}
	return r
}
