package queue

import (
	"context"
	"encoding/json"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

// StageResult is the result of one stage of a plan made without a database.
type StageResult struct {
	Stage   string
	Key     string
	Body    json.RawMessage
	Outcome db.Outcome
}

// Local runs the stages on a file without a database or a queue: the same
// steps, which stop at the same places with the same bytes. It returns the
// results so far and whether the plan is ready, asking or refused; an error is
// a fault of the program or the end of ctx.
func Local(ctx context.Context, stages []plan.Stage, file []byte, request plan.Request) ([]StageResult, db.Status, error) {
	request, err := canonical(request)
	if err != nil {
		return nil, "", err
	}
	var results []StageResult
	bodies := map[string]json.RawMessage{}
	var c course
	for _, stage := range stages {
		if stop := c.before(stage); stop != "" {
			return results, stop, nil
		}
		in := inputOf(stage, file, &request, bodies)
		key, err := stage.Key(in)
		if err != nil {
			return results, "", err
		}
		done := execute(ctx, stage, in)
		if done.err != nil {
			return results, "", done.err
		}
		r := StageResult{Stage: stage.Name, Key: key, Body: done.body, Outcome: outcomeOf(done.res)}
		results = append(results, r)
		bodies[stage.Name] = r.Body
		if stop := c.after(r.Outcome); stop != "" {
			return results, stop, nil
		}
	}
	return results, c.end(), nil
}

// inputOf is what the queue would give the stage, and no more.
func inputOf(stage plan.Stage, file []byte, request *plan.Request, bodies map[string]json.RawMessage) plan.Input {
	in := plan.Input{Request: request, Results: map[string]json.RawMessage{}}
	if len(stage.Needs) == 0 {
		in.File = file
	}
	for _, need := range stage.Needs {
		if body, ok := bodies[need]; ok {
			in.Results[need] = body
		}
	}
	return in
}
