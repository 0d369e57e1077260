package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// planWords is what the command line of a plan says beside the choices.
type planWords struct {
	replies     ask.Replies
	format, out string
}

// planFile computes one plan from a file with the example workshop's data and
// no database.
func planFile(ctx context.Context, args []string, _ func(string) string, stdout, _ io.Writer) error {
	var c plan.Choices
	var w planWords
	flags := planFlags(&c, &w)
	err := parse(flags, args, "plan --stock STOCK [flags] FILE", 1, stdout)
	if errors.Is(err, flag.ErrHelp) {
		io.WriteString(stdout, exitText)
	}
	if err != nil {
		return err
	}
	if w.format != "text" && w.format != "json" {
		return usageError(fmt.Sprintf("--format is %q; it takes text or json", w.format))
	}
	name := flags.Arg(0)
	file, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	if err := jobs.CheckPage(file, c.Options.Page); err != nil {
		return err
	}
	data := workshop.Example()
	films := jobs.Layered(data, c)
	var prices []*estimate.Estimate
	for i, one := range films {
		each := w
		if len(films) > 1 && w.out != "" {
			each.out = filepath.Join(w.out, fmt.Sprintf("film-%d", i+1))
		}
		if i > 0 && w.format == "text" {
			fmt.Fprintln(stdout)
		}
		p := &planned{list: jobs.NewList(), file: filepath.Base(name)}
		if p.request, err = p.list.Choose(data, one); err != nil {
			return err
		}
		if err := p.run(ctx, file, each, stdout); err != nil {
			return err // of the other films it would be the same
		}
		prices = append(prices, p.view().Estimate)
	}
	if sum := estimate.Together(prices); len(films) > 1 && sum != nil && w.format == "text" {
		fmt.Fprintf(stdout, "\nfilms      %s\n", view.TogetherText(sum, len(films)))
	}
	return nil
}

// run computes the plan, with the replies, and reports it.
func (p *planned) run(ctx context.Context, file []byte, w planWords, stdout io.Writer) error {
	if err := p.answered(ctx, file, w.replies); err != nil {
		return err
	}
	if err := p.report(ctx, w, stdout); err != nil {
		return err
	}
	return map[plan.Status]error{plan.Asking: errAsking, plan.Refused: errRefused}[p.status]
}

// planFlags are the flags of plan, which fill c and w.
func planFlags(c *plan.Choices, w *planWords) *flag.FlagSet {
	flags := flag.NewFlagSet("plan", flag.ContinueOnError)
	flags.StringVar(&c.Stock, "stock", "", "stock to cut from (needed), such as film-removable-610")
	filmFlags(flags, c)
	flags.StringVar((*string)(&c.Purpose), "purpose", "", "pieces, lettering or stencil; by the stock if left out")
	flags.StringVar(&c.Machine, "machine", "", "machine; the narrowest that takes the stock if left out")
	flags.Func("copies", "copies, from 1 (default 1)", wholeFrom1(&c.Copies))
	flags.StringVar(&c.Size.Frame, "frame", "", "what the frame in the drawing is, such as A4 or 210x297; none where every rectangle is cut")
	flags.StringVar(&c.Size.Unit, "unit", "", "unit of the numbers in the file: mm, cm, m, inch, pt or px")
	flags.Func("scale", "mm for one unit of the numbers in the file", above0(func(v float64) { c.Size.Scale = v }))
	flags.Func("width", "true width of the artwork in mm", above0(func(v float64) { c.Size.KnownLength = &size.KnownLength{Of: size.Width, MM: v} }))
	flags.Func("page", "page of a PDF file, from 1", wholeFrom1(&c.Options.Page))
	flags.Func("panels", "allowed or refused: whether work larger than the stock is made of panels; the plan asks if left out", func(text string) error {
		c.Options.Panels = layout.Allowance(text)
		if c.Options.Panels != layout.PanelsAllowed && c.Options.Panels != layout.PanelsRefused {
			return errors.New("write allowed or refused")
		}
		return nil
	})
	flags.BoolVar(&c.Options.OnWall, "wall", false, "the film goes to a wall, on tape even where one piece is kept")
	flags.StringVar((*string)(&c.Options.Nesting), "nesting", "", "rows, quick, normal or thorough: lay copies by their true shapes with so much search; in rows if left out")
	flags.BoolVar(&c.Options.OneBorder, "one-border", false, "one weed border round all copies on a sheet or run, where that takes less cutting than one each")
	flags.BoolVar(&c.Options.Novice, "novice", false, "a beginner does the weeding")
	flags.Func("answer", "answer to a question: question=answer, question=answer:MM or question=answer:REASON; may be repeated", func(text string) error {
		return addReply(&w.replies, text)
	})
	flags.StringVar(&w.format, "format", "text", "text or json")
	flags.StringVar(&w.out, "out", "", "folder to write the plan and its pictures to")
	return flags
}

// filmFlags are the flags of a layered work.
func filmFlags(flags *flag.FlagSet, c *plan.Choices) {
	flags.Func("film", "film of a layered work: stock=#rrggbb, or stock=LAYER; once for each colour, and no stock besides", func(text string) error {
		film, err := plan.ParseFilm(text)
		c.Films = append(c.Films, film)
		return err
	})
	flags.StringVar((*string)(&c.Meet), "meet", "", "underlap, knock_out or whole: what becomes of a film under another; underlap if left out")
	flags.Func("underlap", "mm that a film goes on under the edge of another; 0.5, or 1 for a novice, if left out", above0(func(v float64) { c.UnderlapMM = v }))
}

// wholeFrom1 reads a flag that is a whole number from 1. One below would be
// taken as left out.
func wholeFrom1(into *int) func(string) error {
	return func(text string) (err error) {
		if *into, err = strconv.Atoi(text); err != nil || *into < 1 {
			return errors.New("write a whole number from 1")
		}
		return nil
	}
}

// above0 reads a flag that is a number above 0.
func above0(set func(float64)) func(string) error {
	return func(text string) error {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v > 0) {
			return errors.New("write a number above 0")
		}
		set(v)
		return nil
	}
}

func addReply(into *ask.Replies, text string) error {
	question, r, err := ask.ParseReply(text)
	if err != nil {
		return err
	}
	if _, twice := (*into)[question]; twice {
		return errors.New("answer each question once")
	}
	if *into == nil {
		*into = ask.Replies{}
	}
	(*into)[question] = r
	return nil
}
