package jobs

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// Sum is the SHA-256 of a file.
type Sum = [sha256.Size]byte

// Key names a result by all that goes into it: a SHA-256 in hex over the job,
// its revision, what it reads of the request, the file where it starts from
// one, and the keys of the results that it needs. So all keys of a plan are
// known before anything is computed.
type Key string

// Node is one result of a plan, computed or not: a job, the input it reads and
// the keys of the results it needs.
type Node struct {
	Row   *Row
	Reads json.RawMessage
	File  *Sum // nil: it does not start from a file
	Needs []Key
	Key   Key
}

// Graph returns the nodes of a plan for a file, in the order of the rows: every
// node comes after those that it needs.
func Graph(rows []*Row, request *plan.Request, file Sum) ([]Node, error) {
	nodes := make([]Node, 0, len(rows))
	keys := map[*Row]Key{}
	for _, row := range rows {
		var needs []Key
		for _, n := range row.needs {
			key, ok := keys[n]
			if !ok {
				return nil, fmt.Errorf("jobs: %s comes before %s, which it needs", row.Name, n.Name)
			}
			needs = append(needs, key)
		}
		node, err := NewNode(row, request, file, needs...)
		if err != nil {
			return nil, err
		}
		keys[row] = node.Key
		nodes = append(nodes, node)
	}
	return nodes, nil
}

// NewNode returns the node of a job that needs the results under the keys, which
// may be those of other plans. file counts where the job starts from one.
func NewNode(row *Row, request *plan.Request, file Sum, needs ...Key) (Node, error) {
	if len(needs) != len(row.needs) && !row.every {
		return Node{}, fmt.Errorf("jobs: %s needs %d results, not %d", row.Name, len(row.needs), len(needs))
	}
	reads, err := json.Marshal(row.reads(request)) // map keys are sorted
	if err != nil {
		return Node{}, fmt.Errorf("jobs: what %s reads: %w", row.Name, err)
	}
	n := Node{Row: row, Reads: reads, Needs: needs}
	if row.file {
		n.File = &file
	}
	n.Key = n.key()
	return n, nil
}

func (n *Node) key() Key {
	h := sha256.New()
	fmt.Fprintf(h, "%s %d %d %d\n", n.Row.Name, n.Row.Revision, len(n.Reads), len(n.Needs))
	h.Write(n.Reads)
	for _, k := range n.Needs {
		fmt.Fprintf(h, "\n%s", k)
	}
	if n.File != nil {
		h.Write(n.File[:])
	}
	return Key(hex.EncodeToString(h.Sum(nil)))
}

// Run computes the result of the node from the drawing's bytes and the results
// that it needs, in the order of Needs. It returns the result as later jobs get
// it, and the JSON that is stored. What is wrong with a drawing is a finding in
// the result; an error is an outage, a fault of the program, or the end of ctx.
func (n *Node) Run(ctx context.Context, file []byte, needs []Result) (Result, []byte, error) {
	if n.File == nil {
		file = nil
	}
	result, err := n.Row.run(ctx, input{reads: n.Reads, file: file, needs: needs})
	if err != nil {
		return nil, nil, fmt.Errorf("job %s: %w", n.Row.Name, err)
	}
	body, err := encodeJSON(ctx, result)
	if err != nil {
		return nil, nil, fmt.Errorf("job %s: result: %w", n.Row.Name, err)
	}
	if c, ok := result.(canonical); ok {
		c.Canonical()
	}
	return result, body, nil
}

// canonical is a result of which some values have several forms. Jobs get it in
// the form in which it comes back from the store, so that they compute the same
// whether it was stored meanwhile or not.
type canonical interface{ Canonical() }

// Decode reads a result as Run stores it.
func (r *Row) Decode(ctx context.Context, body []byte) (Result, error) {
	result, err := r.decode(ctx, body)
	if err != nil {
		return nil, fmt.Errorf("job %s: stored result: %w", r.Name, err)
	}
	return result, nil
}

// Digest returns what a result adds to the view of a plan.
func (r *Row) Digest(result Result) view.Digest {
	if r.digest == nil {
		return view.Digest{}
	}
	return r.digest(result)
}

// Revision returns the revision of a list of jobs: it grows with each job that
// is added and with each revision that is raised.
func Revision(rows []*Row) int {
	sum := len(rows)
	for _, r := range rows {
		sum += r.Revision
	}
	return sum
}
