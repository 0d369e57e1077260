// Package help makes the pages at /help, which say what findings mean: an index, and of
// each code what happened, a drawing that has the fault and one that has not, and how to
// see it in one's own.
package help

import (
	"bytes"
	"context"
	"embed"
	"html/template"

	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/lesson"
)

//go:embed *.html
var files embed.FS

// Pages are the templates of the pages.
type Pages struct{ of *template.Template }

// New reads the templates.
func New() (Pages, error) {
	of, err := template.ParseFS(files, "*.html")
	return Pages{of}, err
}

// Index returns the page that lists all codes, as HTML.
func (p Pages) Index() ([]byte, error) { return p.render("index.html", lesson.Groups()) }

// Lesson returns the page of a code, as HTML, and runs the two drawings of the lesson for
// it. It fails with the error of ctx.
func (p Pages) Lesson(ctx context.Context, list *jobs.List, l lesson.Lesson, group lesson.Group) ([]byte, error) {
	shown, err := showLesson(ctx, list, l, group)
	if err != nil {
		return nil, err
	}
	return p.render("lesson.html", shown)
}

func (p Pages) render(name string, of any) ([]byte, error) {
	var b bytes.Buffer
	err := p.of.ExecuteTemplate(&b, name, of)
	return b.Bytes(), err
}

// lessonPage is what the page of a code shows.
type lessonPage struct {
	lesson.Lesson
	Group            string
	Pictures         []lessonPicture
	Alike            bool // the pictures are the same
	Hint, Technician string
	Weight           string
	Question         *ask.Question
}

// lessonPicture is one of the two drawings of a lesson; SVG is empty where nothing was
// read.
type lessonPicture struct {
	Heading, Says string
	SVG           template.HTML
}

// showLesson runs the examples of a lesson and draws them.
func showLesson(ctx context.Context, list *jobs.List, l lesson.Lesson, group lesson.Group) (*lessonPage, error) {
	page := &lessonPage{Lesson: l, Group: group.Name}
	told := finding.New(l.Code, 1, nil)
	page.Weight = weightText(told.Severity)
	if l.Wrong.File == "" {
		return page, nil
	}
	wrong, err := l.Wrong.Run(ctx, list)
	if err != nil {
		return nil, err
	}
	right, err := l.Right.Run(ctx, list)
	if err != nil {
		return nil, err
	}
	if f := wrong.Find(l.Code); f != nil {
		told = *f
	}
	page.Hint, page.Technician, page.Weight = told.Hint, told.TechnicianHint, weightText(told.Severity)
	page.Question = wrong.Question(l.Code)
	pictures, err := lesson.Draw(ctx, l.Code, group, wrong, right)
	if err != nil {
		return nil, err
	}
	return page, page.showPair(ctx, pictures)
}

// showPair shows both drawings, or one where they look the same, as where the fault is in
// the file or in the workshop and not in what is drawn.
func (l *lessonPage) showPair(ctx context.Context, pictures [2]*figure.Picture) error {
	l.Pictures = []lessonPicture{{Heading: "Like this it goes wrong.", Says: l.Wrong.Says}, {Heading: "Like this it is right.", Says: l.Right.Says}}
	var bare [2][]byte
	for i, p := range pictures {
		if p == nil {
			continue
		}
		var err error
		if bare[i], err = p.SVG(ctx); err != nil {
			return err
		}
		p.Title = l.Pictures[i].Says
		body, err := p.SVG(ctx)
		if err != nil {
			return err
		}
		l.Pictures[i].SVG = template.HTML(body) // made by figure, which escapes all texts
	}
	l.Alike = bare[0] != nil && bytes.Equal(bare[0], bare[1])
	return nil
}

// weightText says what a finding does to a plan.
func weightText(s finding.Severity) string {
	switch s {
	case finding.Block:
		return "Nothing is cut before it is changed."
	case finding.Ask:
		return "The plan waits for your answer."
	case finding.Mended:
		return "It was put right for you; the plan goes on."
	}
	return "The plan goes on; have a look before you cut."
}
