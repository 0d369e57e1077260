package ordeal

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"time"
)

// caller is a client that goes on until it is answered, as one should: it sends again,
// with the same Idempotency-Key, what got no answer or one of a service in trouble. A 500
// is none of these: in any trouble it is a fault of the service.
type caller struct {
	url, key string
	web      *http.Client
}

// planBody is what the caller reads of a plan.
type planBody struct {
	ID        string `json:"id"`
	Status    string `json:"status"`
	Drawing   string `json:"drawing_id"`
	Questions []struct {
		ID      string `json:"id"`
		Answers []struct {
			ID string `json:"id"`
		} `json:"answers"`
	} `json:"questions"`
	Stack struct {
		Films []struct {
			Plan string `json:"plan_id"`
		} `json:"films"`
	} `json:"stack"`
}

func (p planBody) settled() bool {
	return p.Status != "" && p.Status != "queued" && p.Status != "working"
}

// request is one request, which can be sent again.
type request struct {
	method, path string
	kind         string
	body         []byte
	once         string // Idempotency-Key
	wait         bool   // until the plan has settled
}

// send sends a request until it is answered, and returns the status and the body.
func (c caller) send(ctx context.Context, r request) (int, []byte, error) {
	for {
		status, body, err := c.try(ctx, r)
		again := err != nil || status > http.StatusInternalServerError || status == http.StatusTooManyRequests ||
			status == http.StatusConflict && bytes.Contains(body, []byte("still_working"))
		if !again {
			return status, body, nil
		}
		select {
		case <-ctx.Done():
			return status, body, errors.Join(ctx.Err(), err)
		case <-time.After(100 * time.Millisecond):
		}
	}
}

func (c caller) try(ctx context.Context, r request) (int, []byte, error) {
	req, err := http.NewRequestWithContext(ctx, r.method, c.url+r.path, bytes.NewReader(r.body))
	if err != nil {
		return 0, nil, err
	}
	req.Header.Set("Authorization", "Bearer "+c.key)
	if r.kind != "" {
		req.Header.Set("Content-Type", r.kind)
	}
	if r.once != "" {
		req.Header.Set("Idempotency-Key", r.once)
	}
	if r.wait {
		req.Header.Set("Prefer", "wait=20")
	}
	resp, err := c.web.Do(req)
	if err != nil {
		return 0, nil, err
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	return resp.StatusCode, body, err
}

// plan sends a request whose answer is a plan.
func (c caller) plan(ctx context.Context, r request) (p planBody, err error) {
	status, body, err := c.send(ctx, r)
	if err != nil {
		return p, err
	}
	if status >= 300 {
		return p, fmt.Errorf("%s %s: %d %s", r.method, r.path, status, body)
	}
	return p, json.Unmarshal(body, &p)
}

// submit asks for a plan.
func (c caller) submit(ctx context.Context, d drawing, once string, wait bool) (planBody, error) {
	kind, body, err := form(d.fields, d)
	if err != nil {
		return planBody{}, err
	}
	return c.plan(ctx, request{method: "POST", path: "/v1/plans", kind: kind, body: body, once: once, wait: wait})
}

// form builds a form of fields and drawings, whose files are called by their places.
func form(fields url.Values, drawings ...drawing) (kind string, body []byte, err error) {
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for i, d := range drawings {
		part, errPart := w.CreateFormFile("drawing", fmt.Sprintf("%d.svg", i))
		if errPart == nil {
			_, errPart = part.Write(d.file)
		}
		err = errors.Join(err, errPart)
	}
	for name, values := range fields {
		for _, value := range values {
			err = errors.Join(err, w.WriteField(name, value))
		}
	}
	err = errors.Join(err, w.Close())
	return w.FormDataContentType(), b.Bytes(), err
}

// settle waits until a plan has settled.
func (c caller) settle(ctx context.Context, id string) (planBody, error) {
	for {
		p, err := c.plan(ctx, request{method: "GET", path: "/v1/plans/" + id, wait: true})
		if err != nil || p.settled() {
			return p, err
		}
	}
}

// answer answers the first question of a plan with its first answer.
func (c caller) answer(ctx context.Context, p planBody, once string) (planBody, error) {
	q := p.Questions[0]
	body, err := json.Marshal(map[string]any{"answers": map[string]any{q.ID: map[string]string{"answer": q.Answers[0].ID}}})
	if err != nil {
		return p, err
	}
	return c.plan(ctx, request{method: "POST", path: "/v1/plans/" + p.ID + "/answers", kind: "application/json", body: body, once: once, wait: true})
}

// setBody is what the caller reads of a class set.
type setBody struct {
	ID      string
	Settled bool
	Loads   []json.RawMessage
	Members []struct {
		Plan string `json:"plan_id"`
	} `json:"members"`
}

// set sends a request whose answer is a class set.
func (c caller) set(ctx context.Context, r request) (s setBody, err error) {
	status, body, err := c.send(ctx, r)
	if err == nil && status >= 300 {
		err = fmt.Errorf("%s %s: %d %s", r.method, r.path, status, body)
	}
	if err != nil {
		return s, err
	}
	return s, json.Unmarshal(body, &s)
}

// course holds a course, from the set to its end: each drawing is a member's, who is called
// by its place. once, where it is said, makes the requests repeatable. What there is of the
// set comes back with an error too.
func (c caller) course(ctx context.Context, once string, wait bool, members ...drawing) (setBody, error) {
	step := func(what string) string {
		if once == "" {
			return ""
		}
		return once + what
	}
	names := make([]string, len(members))
	for i := range names {
		names[i] = fmt.Sprint(i)
	}
	terms, err := json.Marshal(map[string]any{"terms": map[string]any{"stock_ids": []string{"card-220-a4"}, "frame": "none"}, "roster": names})
	if err != nil {
		return setBody{}, err
	}
	set, err := c.set(ctx, request{method: "POST", path: "/v1/class-sets", kind: "application/json", body: terms, once: step("")})
	if err != nil {
		return set, err
	}
	path := "/v1/class-sets/" + set.ID
	kind, body, err := form(nil, members...)
	if err != nil {
		return set, err
	}
	set, err = c.set(ctx, request{method: "POST", path: path + "/members", kind: kind, body: body, once: step(" members"), wait: wait})
	for err == nil && !set.Settled {
		var now setBody
		if now, err = c.set(ctx, request{method: "GET", path: path}); err == nil {
			set = now
		}
		time.Sleep(20 * time.Millisecond)
	}
	if err == nil {
		_, err = c.set(ctx, request{method: "PATCH", path: path, kind: "application/json", body: []byte(`{"closed": true}`)})
	}
	return set, err
}
