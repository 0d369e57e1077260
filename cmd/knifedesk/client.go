package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/view"
)

// client speaks to the service as a booking system would: over HTTP.
type client struct{ base string }

// planBody is what the client reads of a plan.
type planBody struct {
	ID        string             `json:"id"`
	Status    string             `json:"status"`
	Questions []ask.Question     `json:"questions"`
	Findings  []finding.Finding  `json:"findings"`
	Size      *view.Size         `json:"size"`
	Weeding   *view.Weeding      `json:"weeding"`
	Usage     *layout.Usage      `json:"usage"`
	Estimate  *estimate.Estimate `json:"estimate"`
	Cautions  []string           `json:"cautions"`
	Links     map[string]string  `json:"links"`
	Stack     *stackBody         `json:"stack"`
	raw       []byte
}

// stackBody is what the client reads of the films of a layered work.
type stackBody struct {
	Films []struct {
		PlanID string `json:"plan_id"`
		Name   string `json:"name"`
	} `json:"films"`
}

func (p *planBody) codes() []string {
	var codes []string
	for _, f := range p.Findings {
		codes = append(codes, string(f.Code))
	}
	return codes
}

// submit sends a drawing with its choices, and the films of a layered work, as one form and
// waits.
func (c *client) submit(ctx context.Context, name string, file []byte, fields map[string]string, films ...string) (*planBody, error) {
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	part, err := form.CreateFormFile("drawing", name)
	if err != nil {
		return nil, err
	}
	if _, err := part.Write(file); err != nil {
		return nil, err
	}
	for field, value := range fields {
		if err := form.WriteField(field, value); err != nil {
			return nil, err
		}
	}
	for _, film := range films {
		if err := form.WriteField("film", film); err != nil {
			return nil, err
		}
	}
	if err := form.Close(); err != nil {
		return nil, err
	}
	return c.plan(ctx, "/v1/plans", form.FormDataContentType(), &body, demoPrefer)
}

// answer answers one question and waits.
func (c *client) answer(ctx context.Context, p *planBody, question string, answer ask.Reply) (*planBody, error) {
	body, err := json.Marshal(map[string]any{"answers": ask.Replies{question: answer}})
	if err != nil {
		return nil, err
	}
	return c.plan(ctx, p.Links["answers"], "application/json", bytes.NewReader(body), demoPrefer)
}

// plan posts a body and decodes the plan that comes back. prefer is the Prefer
// header; without one the answer comes at once.
func (c *client) plan(ctx context.Context, path, kind string, body io.Reader, prefer string) (*planBody, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, c.base+path, body)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", kind)
	if prefer != "" {
		req.Header.Set("Prefer", prefer)
	}
	raw, err := do(req)
	if err != nil {
		return nil, err
	}
	p := &planBody{raw: raw}
	return p, json.Unmarshal(raw, p)
}

// get fetches a path in the form that accept names.
func (c *client) get(ctx context.Context, path, accept string) ([]byte, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, c.base+path, nil)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Accept", accept)
	return do(req)
}

// read waits for a plan that was made along with another one.
func (c *client) read(ctx context.Context, id string) (*planBody, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, c.base+"/v1/plans/"+id, nil)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Prefer", demoPrefer)
	raw, err := do(req)
	if err != nil {
		return nil, err
	}
	p := &planBody{raw: raw}
	return p, json.Unmarshal(raw, p)
}

// do sends a request and returns the body of a good answer.
func do(req *http.Request) ([]byte, error) {
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		return nil, err
	}
	if resp.StatusCode >= 300 {
		return nil, fmt.Errorf("%s %s: %s: %s", req.Method, req.URL.Path, resp.Status, body)
	}
	return body, nil
}
