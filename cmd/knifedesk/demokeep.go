package main

import (
	"context"
	_ "embed"
	"encoding/json"
	"html/template"
	"os"
	"path/filepath"
	"strings"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
)

// keptCase is a case of the demo as its index shows it.
type keptCase struct {
	Folder, File string
	Cells        []string // as in the table printed
	Status       string
}

// pictures names the pictures that a case may have, without their ending, in the
// order of the jobs.
func pictures() []string {
	names := []string{"drawing"}
	for _, row := range jobs.NewList().Rows {
		if row.Draw != nil {
			names = append(names, row.Name)
		}
		if row.Name == artwork.Name {
			names = append(names, "stack")
		}
	}
	return names
}

//go:embed demoindex.html
var indexText string

// writeIndex writes the page that shows all cases and the class set, to be opened from the folder.
func writeIndex(out string, kept []keptCase, set *classBody) error {
	page, err := template.New("index").Parse(indexText)
	if err != nil {
		return err
	}
	f, err := os.Create(filepath.Join(out, "index.html"))
	if err != nil {
		return err
	}
	defer f.Close()
	exists := func(folder, name string) bool {
		_, err := os.Stat(filepath.Join(out, folder, name))
		return err == nil
	}
	type entry struct {
		keptCase
		Shown []string // the pictures that there are
		Files []string
	}
	entries := make([]entry, len(kept))
	for i, k := range kept {
		entries[i].keptCase = k
		for _, name := range pictures() {
			if exists(k.Folder, name+".svg") {
				entries[i].Shown = append(entries[i].Shown, name)
			}
		}
		for _, name := range []string{k.File, "plan.txt", "plan.json", "worksheet.pdf", "load-1.dxf"} {
			if exists(k.Folder, name) {
				entries[i].Files = append(entries[i].Files, name)
			}
		}
	}
	if err := page.Execute(f, map[string]any{"Heads": heads, "Cases": entries, "Class": set, "ClassFolder": classFolder}); err != nil {
		return err
	}
	return f.Close()
}

// folderOf names the folder that a case's files are kept in.
func folderOf(k scenario.Case) string { return strings.TrimSuffix(k.File, filepath.Ext(k.File)) }

// keepPlan writes the plan as JSON and as text, its pictures, its worksheet and
// its file to cut from.
func keepPlan(ctx context.Context, c *client, p *planBody, folder string) error {
	var pretty json.RawMessage = p.raw
	if indented, err := json.MarshalIndent(pretty, "", "  "); err == nil {
		pretty = indented
	}
	if err := os.WriteFile(filepath.Join(folder, "plan.json"), pretty, 0o644); err != nil {
		return err
	}
	text, err := c.get(ctx, p.Links["self"], "text/plain")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "plan.txt"), text, 0o644); err != nil {
		return err
	}
	for name, link := range p.Links {
		stage, ok := strings.CutSuffix(name, "_preview")
		if !ok {
			continue
		}
		for _, ending := range []string{".svg", ".png"} {
			picture, err := c.get(ctx, strings.TrimSuffix(link, ".svg")+ending, "*/*")
			if err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(folder, stage+ending), picture, 0o644); err != nil {
				return err
			}
		}
	}
	for link, name := range map[string]string{"worksheet": "worksheet.pdf", "cut_file": "load-1.dxf"} {
		if p.Links[link] == "" {
			continue
		}
		file, err := c.get(ctx, p.Links[link], "*/*")
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, name), file, 0o644); err != nil {
			return err
		}
	}
	return nil
}
