package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// demo runs the invented exhibition through a real service: private Postgres,
// HTTP on a free loopback port, every drawing submitted and followed. It fails
// when an outcome is not the expected one.
func demo(ctx context.Context, args []string, _ func(string) string, stdout, _ io.Writer) error {
	flags := flag.NewFlagSet("demo", flag.ContinueOnError)
	keep := flags.Bool("keep", false, "leave the service running until interrupted")
	out := flags.String("out", "", "folder for drawings, plans and pictures; a new temporary one if left out")
	if err := parse(flags, args, "demo [flags]", 0, stdout); err != nil {
		return err
	}
	data, err := os.MkdirTemp("", "knifedesk-demo-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(data)
	if err := os.Chmod(data, 0o711); err != nil { // the account that Postgres runs under passes through
		return err
	}
	if *out == "" {
		if *out, err = os.MkdirTemp("", "knifedesk-pictures-"); err != nil {
			return err
		}
	}
	s, err := startExample(ctx, filepath.Join(data, "postgres"))
	if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "serving %s\n\n", s.url)
	err = runCases(ctx, &client{base: s.url}, *out, stdout)
	fmt.Fprintf(stdout, "\nDrawings, plans, pictures, worksheets and files to cut from are in %s; open index.html there.\n", *out)
	if *keep && err == nil {
		fmt.Fprintf(stdout, "The service stays at %s (form at /, how to use it at /docs). Stop it with Ctrl-C.\n", s.url)
		err = s.wait(ctx)
	}
	return errors.Join(err, s.stop())
}

// startExample starts a service for the example workshop, whose private
// Postgres keeps its data in the given folder.
func startExample(ctx context.Context, data string) (*service, error) {
	log := slog.New(slog.DiscardHandler)
	store, err := openDatabase(ctx, "", data, log)
	if err != nil {
		return nil, err
	}
	if err := queue.Seed(ctx, store.DB, workshop.Example()); err != nil {
		store.close()
		return nil, err
	}
	return start(ctx, serveConfig{listen: "127.0.0.1:0", role: "all", workers: 2}, store, log)
}

// runCases submits all cases and the class set, prints the table, and returns an error that lists
// what was not as expected.
func runCases(ctx context.Context, c *client, out string, stdout io.Writer) error {
	var wrong []string
	var kept []keptCase
	w := tabwriter.NewWriter(stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, strings.Join(heads, "\t")+"\t")
	for _, k := range scenario.Cases() {
		p, asked, err := submitCase(ctx, c, k, out)
		if err != nil {
			return fmt.Errorf("%s: %w", k.Name, err)
		}
		line := row(k, p, asked)
		fmt.Fprintln(w, strings.Join(line, "\t"))
		kept = append(kept, keptCase{Folder: folderOf(k), File: k.File, Cells: line[:len(line)-1], Status: p.Status})
		for _, fault := range deviations(k, p, asked) {
			wrong = append(wrong, k.Name+": "+fault)
		}
	}
	for _, k := range scenario.Layered() {
		films, faults, err := runFilms(ctx, c, k, out)
		if err != nil {
			return fmt.Errorf("%s: %w", k.Name, err)
		}
		for _, one := range films {
			fmt.Fprintln(w, strings.Join(append(one.Cells, ""), "\t"))
		}
		kept, wrong = append(kept, films...), append(wrong, faults...)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	set, wrongSet := runClass(ctx, c, out, stdout)
	if err := writeIndex(out, kept, set); err != nil {
		return errors.Join(err, wrongSet)
	}
	if len(wrong) > 0 {
		return errors.Join(fmt.Errorf("not as expected:\n  %s", strings.Join(wrong, "\n  ")), wrongSet)
	}
	return wrongSet
}

// submitCase sends one drawing, answers what is asked, and writes all that
// comes back into a folder of its own.
func submitCase(ctx context.Context, c *client, k scenario.Case, out string) (*planBody, []string, error) {
	file, err := k.Sheet.Bytes(strings.TrimPrefix(filepath.Ext(k.File), "."))
	if err != nil {
		return nil, nil, err
	}
	folder := filepath.Join(out, folderOf(k))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, nil, err
	}
	if err := os.WriteFile(filepath.Join(folder, k.File), file, 0o644); err != nil {
		return nil, nil, err
	}
	p, err := c.submit(ctx, k.File, file, k.Fields, k.Films...)
	var asked []string
	for i := 0; err == nil && p.Status == "asking" && i < len(k.Answers); i++ {
		var id, answer string
		if id, answer, err = choose(p, k.Answers[i]); err != nil {
			break
		}
		asked = append(asked, id+"="+answer)
		p, err = c.answer(ctx, p, id, ask.Reply{Answer: answer, Reason: k.Answers[i].Reason})
	}
	if err != nil {
		return nil, nil, err
	}
	return p, asked, keepPlan(ctx, c, p, folder)
}

// choose finds the question and the answer to give.
func choose(p *planBody, want scenario.Answer) (question, answer string, err error) {
	for _, q := range p.Questions {
		if q.ID != want.Question {
			continue
		}
		for _, a := range q.Answers {
			if want.Choose == "" || a.ID == want.Choose {
				return q.ID, a.ID, nil
			}
		}
		return "", "", fmt.Errorf("question %s offers no answer %q", q.ID, want.Choose)
	}
	return "", "", fmt.Errorf("question %q is not asked but %s", want.Question, questionIDs(p))
}

func questionIDs(p *planBody) string {
	var ids []string
	for _, q := range p.Questions {
		ids = append(ids, q.ID)
	}
	return strings.Join(ids, ", ")
}

// heads are the heads of the table's columns.
var heads = []string{"drawing", "status", "true size", "why", "questions", "stock", "cutter", "bench", "price"}

// row is one line of the table, with an empty last cell.
func row(k scenario.Case, p *planBody, asked []string) []string {
	size, why := "-", "-"
	if p.Size != nil {
		size, why = fmt.Sprintf("%.2f × %.2f", p.Size.WidthMM, p.Size.HeightMM), p.Size.Cause
	}
	stock := "-"
	if u := p.Usage; u != nil && u.Sheets > 0 {
		stock = finding.Fill("{n} {n:sheet|sheets}", finding.Values{"n": finding.Int(u.Sheets)})
	} else if u != nil && u.RollMM > 0 {
		stock = fmt.Sprintf("%.0f mm of roll", u.RollMM)
	}
	cutter, bench, price := "-", "-", "-"
	if e := p.Estimate; e != nil {
		cutter, bench = minutes(e.CutterMin.Likely), minutes(e.BenchMin.Likely)
		price = e.TotalText
	}
	questions := strings.Join(asked, ", ")
	if questions == "" {
		questions = "none"
	}
	return []string{k.Name, p.Status, size, why, questions, stock, cutter, bench, price, ""}
}

func minutes(v float64) string { return fmt.Sprintf("%.1f min", v) }

// demoPrefer lets one submission take its time.
const demoPrefer = "wait=30"
