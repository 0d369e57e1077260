package share_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

var drawInto = flag.String("draw", "", "folder for the pictures, worksheets and files of the loads of the class set")

// classOn plans the class set on a stock as far as the members' weeding maps and the
// loads that they share, with the answers that are given to all. Members that are refused
// or ask are left out, and named in out.
func classOn(t testing.TB, choices plan.Choices) (done jobs.Results, list *jobs.List, request *plan.Request, out map[string]plan.Status) {
	t.Helper()
	tags, err := scenario.ClassSet()
	if err != nil {
		t.Fatal(err)
	}
	list = jobs.NewList()
	if request, err = list.Choose(workshop.Example(), choices); err != nil {
		t.Fatal(err)
	}
	files, out := map[jobs.Sum][]byte{}, map[string]plan.Status{}
	var nodes []jobs.Node
	var members []jobs.Sharer
	asFarAs := list.Rows[:4] // the weeding map
	for _, tag := range tags {
		_, status, err := local.Run(t.Context(), asFarAs, tag.Body, request)
		if err != nil {
			t.Fatal(err)
		}
		if status != plan.Ready {
			out[tag.Code] = status
			continue
		}
		sum := sha256.Sum256(tag.Body)
		files[sum] = tag.Body
		graph, err := jobs.Graph(asFarAs, request, sum)
		if err != nil {
			t.Fatal(err)
		}
		nodes = append(nodes, graph...)
		members = append(members, jobs.Sharer{Member: share.Member{Code: tag.Code, Copies: max(1, choices.Copies)}, Map: graph[3].Key})
	}
	shared, err := list.SharedNodes(request, members)
	if err != nil {
		t.Fatal(err)
	}
	all, err := local.Nodes(t.Context(), files, append(nodes, shared...)...)
	if err != nil {
		t.Fatal(err)
	}
	done = jobs.Results{}
	for _, n := range shared {
		done[n.Row.Name] = all[n.Key]
	}
	return done, list, request, out
}

// The class set on card: 25 of the 30 tags share sheets, two on a mat; four ask or are
// refused before that, and one fits on no sheet.
func TestClassSetSharesSheets(t *testing.T) {
	done, list, request, out := classOn(t, plan.Choices{Stock: "card-160-a4"})
	s := list.Share.In(done)
	for code, status := range out {
		t.Log(code, status)
	}
	for _, l := range s.Loads {
		t.Log(l.Number, l.WidthMM, l.LengthMM, len(l.Sheets), len(l.Places), s.Usage.Sheets)
	}
	for _, f := range s.Findings {
		t.Log(f.Code, f.Hint)
	}
	if p := list.SharePasses.In(done); p != nil {
		for _, f := range p.Findings {
			t.Log(f.Code, f.Hint)
		}
	}
	if *drawInto != "" {
		drawAll(t, list, request, done, *drawInto)
	}
}

// drawAll writes all that a person holds of common loads into a folder.
func drawAll(t testing.TB, list *jobs.List, request *plan.Request, done jobs.Results, into string) {
	t.Helper()
	if err := os.MkdirAll(into, 0o755); err != nil {
		t.Fatal(err)
	}
	shown := list.Shown(done)
	write := func(name string, body []byte, err error) {
		if err == nil {
			err = os.WriteFile(filepath.Join(into, name), body, 0o644)
		}
		if err != nil {
			t.Fatal(name, err)
		}
	}
	for load := 1; load <= shown.Loads(); load++ {
		for name, draw := range map[string]func(context.Context, *view.Results, int) (*figure.Picture, error){
			"layout": view.DrawLayout, "weeding": view.DrawWeeding, "passes": view.DrawPasses,
		} {
			p, err := draw(t.Context(), shown, load)
			if err != nil {
				t.Fatal(name, err)
			}
			body, err := p.SVG(t.Context())
			write(fmt.Sprintf("%s-%d.svg", name, load), body, err)
		}
		var file bytes.Buffer
		err := shown.WriteLoad(t.Context(), &file, load, view.AllPasses, view.DXF)
		write(fmt.Sprintf("load-%d.dxf", load), file.Bytes(), err)
	}
	var sheet bytes.Buffer
	err := shown.Worksheet(t.Context(), &sheet, view.About{Plan: "class-set", Request: request})
	write("worksheet.pdf", sheet.Bytes(), err)
}
