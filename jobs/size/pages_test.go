package size_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size/internal/spoil"
	"knifedesk/jobs/workshop"
)

// drawers are the programs that draw the pages.
var drawers = [...]string{"gnuplot", "neato", "fig2dev", "pic2plot", "groff", "gs", "rsvg-convert", "pdftocairo", "chromium", "ogr2ogr"}

// foreign is a page that another program drew, a line of the list that
// .ci/pages writes.
type foreign struct {
	file, by, frame, unit, work string
	slack                       float64 // of the program's own rounding, mm
	why                         string
}

// Pages that general-purpose programs drew at a known size come out at it, with
// no more than a plain request says. Source: acceptance line on 25 pages of at
// least five other producers; the sizes are those given to the programs.
func TestPagesOfOtherPrograms(t *testing.T) {
	for _, tool := range drawers {
		if _, err := exec.LookPath(tool); err != nil {
			reference.Skip(t, "%s is not installed: pages of other programs are not compared (bash .ci/install)", tool)
		}
	}
	folder := t.TempDir()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	if out, err := exec.CommandContext(ctx, "bash", "../../.ci/pages", folder).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	pages := listed(t, folder)
	if len(pages) < 25 {
		t.Errorf("only %d pages were drawn", len(pages))
	}
	for _, p := range pages {
		t.Run(p.file, func(t *testing.T) { p.check(t, folder) })
	}
}

func listed(t *testing.T, folder string) []foreign {
	t.Helper()
	list, err := os.ReadFile(filepath.Join(folder, "pages.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var all []foreign
	for line := range strings.Lines(string(list)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		p := foreign{file: f[0], by: f[1], frame: f[2], unit: f[3], work: f[4], why: f[6]}
		if _, err := fmt.Sscan(f[5], &p.slack); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		all = append(all, p)
	}
	return all
}

// check reads the page, recovers its size and prints the line of the table.
func (p *foreign) check(t *testing.T, folder string) {
	file, err := os.ReadFile(filepath.Join(folder, p.file))
	if err != nil {
		t.Fatal(err)
	}
	choices := plan.Choices{Stock: "card-160-a4"}
	if p.unit != "-" {
		choices.Size.Unit = p.unit
	}
	run := &runner{list: spoiledList, c: &spoil.Case{File: file, Data: workshop.Neutral(), Choices: choices}, done: map[jobs.Key]jobs.Result{}}
	d, s, err := run.run(nil)
	if err != nil {
		t.Fatal(err)
	}
	frame := "-"
	if s.Frame != nil && len(s.FrameParts) > 0 {
		frame = fmt.Sprintf("%.0fx%.0f", s.Frame.SideMM[0], s.Frame.SideMM[1])
	}
	off := p.off(t, made(d, s))
	t.Logf("%-22s %-22s %-6s unit %-5s frame %-7s %-14s off by %.4f mm (bar %.2f, %s)", p.by, p.file, d.Unit.Name, p.unit, frame, s.Cause, off, errorMM+p.slack, p.why)
	if off > errorMM+p.slack {
		t.Errorf("the work is off by %.3f mm: %s", off, s.Why)
	}
	if frame != p.frame && !strings.HasPrefix(p.work, "=") { // a background may be taken out or not
		t.Errorf("frame %s, want %s", frame, p.frame)
	}
	if p.unit == "-" && (math.Abs(s.X/d.Unit.MM-1) > 1e-9 || s.X != s.Y) {
		t.Errorf("scaled by %g and %g: %s", s.X/d.Unit.MM, s.Y/d.Unit.MM, s.Why)
	}
	for _, q := range append(d.Questions, s.Questions...) {
		t.Errorf("asks %s (%s): %v", q.ID, q.Code, answersOf(q))
	}
	if stops(d, s) {
		t.Errorf("stopped by %v %v", d.Findings, s.Findings)
	}
}

// off is how far the work is from its size: all of it, or those paths of a
// chart that are known, each by the path nearest to it.
func (p *foreign) off(t *testing.T, boxes []geometry.Box) float64 {
	known, chart := strings.CutPrefix(p.work, "=")
	if !chart {
		boxes = []geometry.Box{union(boxes)}
	}
	worst := 0.0
	for _, text := range strings.Split(known, ",") {
		var w, h float64
		if _, err := fmt.Sscanf(text, "%fx%f", &w, &h); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		least := math.Inf(1)
		for _, b := range boxes {
			least = math.Min(least, math.Max(math.Abs(b.Width()-w), math.Abs(b.Height()-h)))
		}
		worst = math.Max(worst, least)
	}
	return worst
}
