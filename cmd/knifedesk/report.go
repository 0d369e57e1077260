package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/picture"
)

// planned is a plan that was made of a file.
type planned struct {
	list    *jobs.List
	file    string // its name
	request *plan.Request
	done    []local.Done
	status  plan.Status
}

// report prints the plan and writes it with its pictures to the folder.
func (p *planned) report(ctx context.Context, w planWords, stdout io.Writer) error {
	v := p.view()
	if w.out != "" {
		if err := p.write(ctx, w.out); err != nil {
			return err
		}
	}
	if w.format == "text" {
		_, err := io.WriteString(stdout, view.Text(p.status, v, view.CommandAnswer))
		return err
	}
	enc := json.NewEncoder(stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(map[string]any{
		"status": p.status, "findings": v.Findings, "questions": v.Questions, "size": v.Size,
		"weeding": v.Weeding, "layout": withoutMaps(p.list.Layout.In(local.Results(p.done))), "passes": v.Passes,
		"estimate": v.Estimate, "cautions": view.Cautions(v.Request.Family),
	})
}

// withoutMaps returns a layout without the weeding maps of its loads, which the folder
// of the plan holds.
func withoutMaps(l *layout.Layout) *layout.Layout {
	if l == nil || l.Maps == nil {
		return l
	}
	short := *l
	short.Maps = nil
	return &short
}

// view is what the service would show of the plan.
func (p *planned) view() *view.Plan {
	var progress []view.Progress
	for _, d := range p.done {
		progress = append(progress, view.Progress{Job: d.Row.Name, State: view.Done})
	}
	return view.Gather(p.status, p.request, progress, p.list.Parts(local.Results(p.done)))
}

// write writes the results as JSON, their pictures as SVG and PNG, the worksheet,
// and the files of writeFiles.
func (p *planned) write(ctx context.Context, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, d := range p.done {
		if err := os.WriteFile(filepath.Join(folder, d.Row.Name+".json"), d.Body, 0o644); err != nil {
			return err
		}
	}
	shown := p.list.Shown(local.Results(p.done))
	if shown.Passes != nil {
		var sheet bytes.Buffer
		if err := shown.Worksheet(ctx, &sheet, view.About{Plan: "of a file", Request: p.request}); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, "worksheet.pdf"), sheet.Bytes(), 0o644); err != nil {
			return err
		}
	}
	if err := p.writeFiles(ctx, folder, shown); err != nil {
		return err
	}
	return p.draw(ctx, folder, shown)
}

// draw writes the pictures: of the drawing, and of all jobs that have one, each
// load by itself: "layout" for the first, then "layout-2".
func (p *planned) draw(ctx context.Context, folder string, shown *view.Results) error {
	read, err := picture.Drawing(ctx, shown.Drawing)
	if err != nil {
		return err
	}
	if err := writePicture(ctx, filepath.Join(folder, "drawing"), read); err != nil {
		return err
	}
	if err := drawStack(ctx, folder, shown); err != nil {
		return err
	}
	for _, d := range p.done {
		loads := 1
		if d.Row.ByLoad || d.Row.ByPanel && shown.Panelled() {
			loads = shown.Loads()
		}
		if d.Row.Draw == nil {
			continue
		}
		for load := 1; load <= loads; load++ {
			drawn, err := d.Row.Draw(ctx, shown, load)
			if err != nil {
				return err
			}
			name := d.Row.Name
			if load > 1 {
				name += fmt.Sprintf("-%d", load)
			}
			if drawn == nil {
				continue
			}
			if err := writePicture(ctx, filepath.Join(folder, name), drawn); err != nil {
				return err
			}
		}
	}
	return nil
}

// drawStack writes the picture of the films of a layered work.
func drawStack(ctx context.Context, folder string, shown *view.Results) error {
	stack, err := view.DrawStack(ctx, shown)
	if err != nil || stack == nil {
		return err
	}
	return writePicture(ctx, filepath.Join(folder, "stack"), stack)
}

func writePicture(ctx context.Context, path string, p *figure.Picture) error {
	svg, err := p.SVG(ctx)
	if err != nil {
		return err
	}
	if err := os.WriteFile(path+".svg", svg, 0o644); err != nil {
		return err
	}
	png, err := p.PNG(ctx, p.ScaleUpTo(1.5))
	if err != nil {
		return err
	}
	return os.WriteFile(path+".png", png, 0o644)
}
