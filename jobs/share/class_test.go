package share_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/session"
	"knifedesk/jobs/share"
	"knifedesk/jobs/size"
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

// The class set on card: of the thirty tags three ask and one is refused before they come
// here, and one fits on no sheet, since the star beside its frame is said to be cut too. The 25 that are left take three sheets, nine on one
// (check-values.md, row 50), in the order of their codes.
func TestClassSetSharesSheets(t *testing.T) {
	done, list, request, out := classOn(t, plan.Choices{Stock: "card-160-a4", Replies: ask.Replies{size.BesideQuestionID: {Answer: size.AnswerCutToo}}})
	want := map[string]plan.Status{"T04": plan.Asking, "T10": plan.Asking, "T15": plan.Asking, "T21": plan.Refused}
	if !maps.Equal(out, want) {
		t.Errorf("left out %v, want %v", out, want)
	}
	s := list.Share.In(done)
	if s.Usage.Sheets != 3 || len(s.Loads) != 3 || len(s.Loads[0].Places) != 9 || len(s.Loads[2].Places) != 7 {
		t.Errorf("%d sheets, %d loads", s.Usage.Sheets, len(s.Loads))
	}
	if len(s.Findings) != 1 || s.Findings[0].Code != finding.MemberLeftOut || !strings.Contains(s.Findings[0].Hint, "T27") {
		t.Errorf("found %+v", s.Findings)
	}
	soundly(t, s, 25)
	if p := list.SharePasses.In(done); len(p.Loads) != 3 || len(p.Loads[0].Passes) != 2 {
		t.Errorf("%d loads have passes", len(p.Loads))
	}
	sumsUp(t, list, request, done)
	if *drawInto != "" {
		drawAll(t, list, request, done, *drawInto)
	}
}

// On film the names are cut, and all tags lie on one run of the roll: the star beside the
// page of one makes it large, and it lies whole.
func TestClassSetSharesARoll(t *testing.T) {
	choices := plan.Choices{Stock: "film-removable-610", Replies: ask.Replies{"artwork/operation:pen": {Answer: "cut"}, size.BesideQuestionID: {Answer: size.AnswerCutToo}}}
	done, list, request, _ := classOn(t, choices)
	s := list.Share.In(done)
	if len(s.Loads) != 1 || len(s.Loads[0].Places) != 26 || s.Usage.RollMM > 740 {
		t.Errorf("%d loads, %g mm of roll", len(s.Loads), s.Usage.RollMM)
	}
	if *drawInto != "" {
		drawAll(t, list, request, done, filepath.Join(*drawInto, "film"))
	}
}

// sumsUp holds that the minutes of the loads sum to those of the estimate, to the
// hundredth each, whatever they are counted with, and that a session can be planned of them.
func sumsUp(t testing.TB, list *jobs.List, request *plan.Request, done jobs.Results) {
	t.Helper()
	s, p := list.Share.In(done), list.SharePasses.In(done)
	fitted := &calibration.Calibration{Day: "2030-01-02", Cutter: &calibration.Fit{Values: []float64{2}, Cov: [][]float64{{0}}, Noise: 0.1, Reach: 2, Jobs: 23}}
	of := estimate.Request{Stock: request.Stock, Copies: 1, Prices: request.Prices, Calibration: fitted}
	slower := estimate.Of(of, s.Whole(), &s.Layout, p)
	if likely := list.ShareEstimate.In(done).CutterMin.Likely; slower.CutterMin.Likely < 1.2*likely {
		t.Errorf("with twice the motion it takes %g minutes, else %g", slower.CutterMin.Likely, likely)
	}
	var times []estimate.LoadTime
	for _, e := range []*estimate.Estimate{slower, list.ShareEstimate.In(done)} {
		times = e.Loads
		cutter, bench := 0.0, 0.0
		for _, l := range times {
			cutter += l.Prepare.High + l.Cut.High + l.Unload.High
			bench += l.Bench.High
		}
		if most := 0.02 * float64(len(times)); math.Abs(cutter-e.CutterMin.High) > most || math.Abs(bench-e.BenchMin.High) > most || e.TotalMinor <= 0 {
			t.Errorf("loads take %g and %g minutes, the estimate says %+v and %+v", cutter, bench, e.CutterMin, e.BenchMin)
		}
	}
	r := session.Default(120, 2)
	r.Loads = session.Of("L", times)
	if planned, err := session.Make(t.Context(), r); err != nil || len(planned.Runs) != len(times) {
		t.Errorf("session %+v, %v", planned, err)
	}
}

// soundly holds that all copies lie once on the loads, within the stock, and a gap apart;
// that shares sum to the whole; and that ranges are those of a copy.
func soundly(t testing.TB, s *share.Share, copies int) {
	t.Helper()
	seen := map[string]bool{}
	sum := int64(0)
	for _, l := range s.Loads {
		m := s.MapOf(&l, nil)
		stock := geometry.Box{Max: geometry.Pt(l.WidthMM, l.LengthMM)}
		back := l.Placements[0].Transform
		for i, p := range l.Places {
			name := fmt.Sprint(p.Code, "/", p.Copy)
			if seen[name] {
				t.Errorf("%s lies twice", name)
			}
			seen[name] = true
			if !stock.ContainsBox(p.Bounds) {
				t.Errorf("%s at %v lies off the stock", name, p.Bounds)
			}
			for _, q := range l.Places[:i] {
				if p.Bounds.Overlaps(q.Bounds) {
					t.Errorf("%s lies over %s", name, q.Code)
				}
			}
			for k := p.Strokes.From; k < p.Strokes.To; k++ {
				if b := m.Strokes[k].Path.Transform(back).Bounds(); !p.Bounds.Grow(1e-6).ContainsBox(b) {
					t.Errorf("stroke %d of %s at %v lies off its place %v", k, name, b, p.Bounds)
				}
			}
			for k := p.Regions.From; k < p.Regions.To; k++ {
				if r := m.Regions[k-1]; r.Number != k || !p.Bounds.Grow(0.01).ContainsBox(r.Outer.Transform(back).Bounds()) {
					t.Errorf("region %d of %s lies off its place", k, name)
				}
			}
		}
	}
	for _, p := range s.Shares {
		sum += p.Millionths
	}
	if len(seen) != copies || sum != 1_000_000 {
		t.Errorf("%d copies, want %d; shares sum to %d", len(seen), copies, sum)
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
