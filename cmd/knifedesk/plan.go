package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"knifedesk/db"
	"knifedesk/geometry/ask"
	"knifedesk/geometry/plan"
	"knifedesk/geometry/preview"
	"knifedesk/geometry/size"
	"knifedesk/geometry/workshop"
	"knifedesk/jobs"
	"knifedesk/jobs/summary"
)

// planFile computes one plan from a file with the starter workshop's data and
// no database.
func planFile(ctx context.Context, args []string, _ func(string) string, stdout, _ io.Writer) error {
	var c plan.Choices
	flags := flag.NewFlagSet("plan", flag.ContinueOnError)
	flags.StringVar(&c.Stock, "stock", "", "stock to cut from (needed), such as film-removable-610")
	flags.StringVar((*string)(&c.Purpose), "purpose", "", "pieces, lettering or stencil; by the stock if left out")
	flags.StringVar(&c.Machine, "machine", "", "machine; the narrowest that takes the stock if left out")
	flags.IntVar(&c.Copies, "copies", 1, "copies")
	flags.StringVar(&c.Size.Frame, "frame", "", "what the frame in the drawing is, such as A4 or 210x297; none where every rectangle is cut")
	flags.StringVar(&c.Size.Unit, "unit", "", "unit of the numbers in the file: mm, cm, m, inch, pt or px")
	flags.Float64Var(&c.Size.Scale, "scale", 0, "mm for one unit of the numbers in the file")
	width := flags.Float64("width", 0, "true width of the artwork in mm")
	flags.BoolVar(&c.Options.Novice, "novice", false, "a beginner does the weeding")
	flags.Func("answer", "answer to a question: question=answer or question=answer:MM; may be repeated", func(text string) error {
		return addReply(&c.Replies, text)
	})
	format := flags.String("format", "text", "text or json")
	out := flags.String("out", "", "folder to write the plan and its pictures to")
	if err := parse(flags, args, "plan --stock STOCK [flags] FILE", 1, stdout); err != nil {
		return err
	}
	if *width > 0 {
		c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: *width}
	}
	if *format != "text" && *format != "json" {
		return fmt.Errorf("--format is %q; it takes text or json", *format)
	}
	name := flags.Arg(0)
	file, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	req, err := plan.Choose(workshop.Starter(), c)
	if err != nil {
		return err
	}
	stages, status, err := jobs.Local(ctx, jobs.Stages(), file, *req)
	if err != nil {
		return err
	}
	results := map[string]json.RawMessage{}
	for _, s := range stages {
		results[s.Stage] = s.Body
	}
	return report(results, status, req, filepath.Base(name), *format, *out, stdout)
}

func addReply(into *ask.Replies, text string) error {
	question, r, err := ask.ParseReply(text)
	if err != nil {
		return err
	}
	if *into == nil {
		*into = ask.Replies{}
	}
	(*into)[question] = r
	return nil
}

// report prints the plan and writes it with its pictures to the folder.
func report(results map[string]json.RawMessage, status db.Status, req *plan.Request, name, format, folder string, stdout io.Writer) error {
	v, err := summary.Decode(results)
	if err != nil {
		return err
	}
	if folder != "" {
		if err := writePlan(folder, results, v, summary.About{Plan: "of a file", Drawing: name, Request: req}); err != nil {
			return err
		}
	}
	if format == "text" {
		_, err = io.WriteString(stdout, summary.Text(string(status), req, v))
		return err
	}
	findings, questions := v.Outcome()
	enc := json.NewEncoder(stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(map[string]any{
		"status": status, "findings": findings, "questions": questions, "size": v.SizeShort(),
		"weeding": v.WeedingShort(req.Copies), "layout": v.Layout, "passes": v.PassesShort(),
		"estimate": v.Estimate, "cautions": summary.Cautions(req.Stock),
	})
}

// writePlan writes the stages' results as JSON, their pictures as SVG and PNG,
// and the worksheet.
func writePlan(folder string, results map[string]json.RawMessage, v *summary.View, about summary.About) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for stage, raw := range results {
		if err := os.WriteFile(filepath.Join(folder, stage+".json"), raw, 0o644); err != nil {
			return err
		}
	}
	if v.Passes != nil {
		var sheet bytes.Buffer
		if err := v.Worksheet(&sheet, about); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, "worksheet.pdf"), sheet.Bytes(), 0o644); err != nil {
			return err
		}
	}
	pictures, err := v.Pictures()
	if err != nil {
		return err
	}
	for name, p := range pictures {
		if err := writePicture(filepath.Join(folder, name), p); err != nil {
			return err
		}
	}
	return nil
}

func writePicture(path string, p *preview.Picture) error {
	if err := os.WriteFile(path+".svg", p.SVG(), 0o644); err != nil {
		return err
	}
	png, err := p.PNG(1.5)
	if err != nil {
		return err
	}
	return os.WriteFile(path+".png", png, 0o644)
}
