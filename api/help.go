package api

import (
	"bytes"
	"context"
	"embed"
	"html/template"

	"github.com/labstack/echo/v4"

	"knifedesk/geometry/figure"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/lesson"
)

//go:embed help
var helpFiles embed.FS

// helpPath is where the page of a code is, before the code.
const helpPath = "/help/"

// help serves the pages that say what findings mean.
type help struct {
	*tools
	pages *template.Template
}

func newHelp(t *tools) (help, error) {
	pages, err := template.ParseFS(helpFiles, "help/*.html")
	return help{t, pages}, err
}

// index answers GET /help with a list of all pages.
func (h help) index(c echo.Context) error {
	return h.serve(c, "help", func(context.Context) (content, error) { return h.page("index.html", lesson.Groups()) })
}

// lesson answers GET /help/{code} with the page of a code.
func (h help) lesson(c echo.Context) error {
	l, group, ok := lesson.Of(finding.Code(c.Param("code")))
	if !ok {
		return notFound("page")
	}
	return h.serve(c, cacheKey("help", string(l.Code)), func(ctx context.Context) (content, error) {
		var shown *lessonPage
		err := h.turns.inTurn(ctx, func() (err error) {
			shown, err = showLesson(ctx, h.list, l, group)
			return err
		})
		if err != nil {
			return content{}, err
		}
		return h.page("lesson.html", shown)
	})
}

func (h help) serve(c echo.Context, key string, make func(context.Context) (content, error)) error {
	c.Response().Header().Set(echo.HeaderContentSecurityPolicy, pagePolicy)
	return h.sendMade(c, key, make)
}

func (h help) page(name string, of any) (content, error) {
	var b bytes.Buffer
	err := h.pages.ExecuteTemplate(&b, name, of)
	return newContent(echo.MIMETextHTMLCharsetUTF8, b.Bytes()), err
}

// lessonPage is what the page of a code shows.
type lessonPage struct {
	lesson.Lesson
	Group            string
	Pictures         []lessonPicture
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
	pictures, err := lesson.Draw(ctx, l.Code, group.Measured, wrong, right)
	if err != nil {
		return nil, err
	}
	page.Pictures, err = showPair(ctx, l, pictures)
	return page, err
}

func showPair(ctx context.Context, l lesson.Lesson, pictures [2]*figure.Picture) ([]lessonPicture, error) {
	pair := []lessonPicture{{Heading: "Like this it goes wrong.", Says: l.Wrong.Says}, {Heading: "Like this it is right.", Says: l.Right.Says}}
	for i, p := range pictures {
		if p == nil {
			continue
		}
		p.Title = pair[i].Says
		body, err := p.SVG(ctx)
		if err != nil {
			return nil, err
		}
		pair[i].SVG = template.HTML(body) // made by figure, which escapes all texts
	}
	return pair, nil
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
