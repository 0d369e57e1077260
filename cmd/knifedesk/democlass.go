package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
)

// classBody is what the demo reads of a class set.
type classBody struct {
	Answer  string `json:"answer"`
	Roster  struct{ Of, Ready, Asking, Refused int }
	Members []struct {
		Reference, Status string
		Changes           []struct{ Text string }
	}
	Loads []struct {
		Number int
		Links  map[string]string
	}
	Links map[string]string
	raw   []byte
}

// classFolder is where the class set is kept.
const classFolder = "class-set"

// runClass sends the thirty tags of a class as one set, prints who has to do what, and
// keeps its loads. It fails where the set is not as expected.
func runClass(ctx context.Context, c *client, out string, stdout io.Writer) (*classBody, error) {
	tags, err := scenario.ClassSet()
	if err != nil {
		return nil, err
	}
	order := `{"client_reference":"name tags","terms":{"stock_ids":["card-160-a4"]},"session":{"minutes":120,"places":2}}`
	set, err := c.class(ctx, "/v1/class-sets", "application/json", strings.NewReader(order))
	if err != nil {
		return nil, err
	}
	body, kind, err := tagForm(tags)
	if err != nil {
		return nil, err
	}
	if set, err = c.class(ctx, set.Links["self"]+"/members", kind, body); err != nil {
		return nil, err
	}
	text, err := keepClass(ctx, c, set, tags, filepath.Join(out, classFolder))
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(stdout, "\nA class of thirty:\n%s", text)
	return set, set.deviation(tags)
}

// tagForm is a form with all tags, each called by its file's name.
func tagForm(tags []scenario.Tag) (io.Reader, string, error) {
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for _, t := range tags {
		part, err := form.CreateFormFile("drawing", t.File)
		if err != nil {
			return nil, "", err
		}
		if _, err := part.Write(t.Body); err != nil {
			return nil, "", err
		}
	}
	return &body, form.FormDataContentType(), form.Close()
}

// class posts a body and decodes the set that comes back, once it is settled.
func (c *client) class(ctx context.Context, path, kind string, body io.Reader) (*classBody, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, c.base+path, body)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", kind)
	req.Header.Set("Prefer", "wait=60")
	raw, err := do(req)
	if err != nil {
		return nil, err
	}
	s := &classBody{raw: raw}
	return s, json.Unmarshal(raw, s)
}

// keepClass writes the drawings, the set as text, JSON and table, and of each load its
// pictures, worksheet and file to cut from. It returns the text.
func keepClass(ctx context.Context, c *client, s *classBody, tags []scenario.Tag, folder string) ([]byte, error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	text, err := c.get(ctx, s.Links["self"], "text/plain")
	if err != nil {
		return nil, err
	}
	table, err := c.get(ctx, s.Links["table"], "*/*")
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{"set.txt": text, "set.json": s.raw, "members.csv": table}
	for _, t := range tags {
		files[t.File] = t.Body
	}
	for _, l := range s.Loads {
		for name, link := range classFiles() {
			if files[fmt.Sprintf("load-%d-%s", l.Number, name)], err = c.get(ctx, l.Links[link], "*/*"); err != nil {
				return nil, err
			}
		}
	}
	for name, file := range files {
		if err := os.WriteFile(filepath.Join(folder, name), file, 0o644); err != nil {
			return nil, err
		}
	}
	return text, nil
}

// classFiles are what is kept of each load, by name, and the links to it.
func classFiles() map[string]string {
	return map[string]string{
		"layout.svg": "preview", "weeding.svg": weeding.Name, "passes.svg": "passes_preview", "passes.txt": passes.Name, "worksheet.pdf": "worksheet", "cut.dxf": "dxf",
	}
}

// deviation says what is not as expected: 25 are ready, and the five that carry a fault
// are named with what to do.
func (s *classBody) deviation(tags []scenario.Tag) error {
	var wrong []string
	for i, m := range s.Members { // in the order of the tags, by their files' names
		faulty := tags[i].Fault != ""
		if faulty == (m.Status == "ready") || faulty && len(m.Changes) == 0 {
			wrong = append(wrong, fmt.Sprintf("%s (%s) is %s with %d things to do", m.Reference, tags[i].Fault, m.Status, len(m.Changes)))
		}
	}
	r := s.Roster
	if len(s.Members) != len(tags) || r.Of != 30 || r.Ready != 25 || r.Asking+r.Refused != 5 || len(s.Loads) == 0 || !strings.HasPrefix(s.Answer, "Yes: ") {
		wrong = append(wrong, fmt.Sprintf("%q, %+v", s.Answer, r))
	}
	if len(wrong) > 0 {
		slices.Sort(wrong)
		return fmt.Errorf("class set: not as expected:\n  %s", strings.Join(wrong, "\n  "))
	}
	return nil
}
