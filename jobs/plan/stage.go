package plan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Stage is one step of the computation: a pure function with a name and a
// revision. Whoever runs it stores the result under Key and need not run it
// again for the same input.
type Stage struct {
	Name string
	// Revision is raised whenever the result for the same input changes.
	Revision int
	// Needs names the stages whose results Run reads.
	Needs []string
	// Reads picks the parts of the request that Run depends on.
	Reads func(*Request) any
	// Checks says that the stage looks for faults in the drawing, and so runs
	// also for a plan that is refused already: whoever drew it is told all at
	// once.
	Checks bool
	// Run computes the result. An error is an outage or a fault of the
	// program; what is wrong with a drawing is a finding in the result.
	Run func(context.Context, Input) (Result, error)
}

// Input is all that a stage may look at.
type Input struct {
	File    []byte // the drawing as it was sent, for the first stage only
	Request *Request
	Results map[string]json.RawMessage // by stage name, those in Needs
}

// Result is what a stage hands on: a value that marshals to JSON, with what
// it found and what it has to ask.
type Result interface {
	// Outcome lists the findings and the open questions of the stage.
	Outcome() ([]finding.Finding, []ask.Question)
}

// Part is a result of which the rest can be looked at although something in
// it blocks the plan.
type Part interface {
	// Checkable reports whether there is such a rest.
	Checkable() bool
}

// From decodes the result of the stage name into v.
func (in Input) From(name string, v any) error {
	raw, ok := in.Results[name]
	if !ok {
		return fmt.Errorf("plan: the result of stage %s is missing", name)
	}
	if err := json.Unmarshal(raw, v); err != nil {
		return fmt.Errorf("plan: the result of stage %s: %w", name, err)
	}
	return nil
}

// Sum is the SHA-256 of a file or of a stored result.
type Sum = [sha256.Size]byte

// Sums stand for the bytes a stage builds on, so that a key can be found
// without loading them.
type Sums struct {
	File    Sum
	Results map[string]Sum // by stage name, those in Needs
}

// Key names the result of s for this input: a SHA-256 in hex over the stage,
// its revision, what it reads of the request, and the bytes it builds on.
func (s Stage) Key(in Input) (string, error) {
	sums := Sums{File: sha256.Sum256(in.File), Results: map[string]Sum{}}
	for name, raw := range in.Results {
		sums.Results[name] = sha256.Sum256(raw)
	}
	return s.KeyFromSums(in.Request, sums)
}

// KeyFromSums is Key for bytes of which only the sums are at hand.
func (s Stage) KeyFromSums(req *Request, sums Sums) (string, error) {
	part, err := json.Marshal(s.Reads(req)) // map keys are sorted
	if err != nil {
		return "", fmt.Errorf("plan: the request for stage %s: %w", s.Name, err)
	}
	h := sha256.New()
	fmt.Fprintf(h, "%s %d\n", s.Name, s.Revision)
	add := func(sum Sum) { h.Write(sum[:]) }
	add(sha256.Sum256(part))
	if len(s.Needs) == 0 {
		add(sums.File)
	}
	for _, need := range s.Needs {
		sum, ok := sums.Results[need]
		if !ok {
			return "", fmt.Errorf("plan: stage %s needs the result of %s", s.Name, need)
		}
		add(sum)
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// Execute runs s and returns its result as the JSON that is stored.
func (s Stage) Execute(ctx context.Context, in Input) (json.RawMessage, Result, error) {
	res, err := s.Run(ctx, in)
	if err != nil {
		return nil, nil, fmt.Errorf("stage %s: %w", s.Name, err)
	}
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(res); err != nil {
		return nil, nil, fmt.Errorf("stage %s: result: %w", s.Name, err)
	}
	return bytes.TrimSuffix(buf.Bytes(), []byte("\n")), res, nil
}
