package api

import (
	"bytes"
	"context"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/passes"
	"knifedesk/jobs/view"
)

// GetPlanFile answers GET /v1/plans/{plan_id}/files/load-N.dxf, .svg and .plt,
// one pass of it as load-N-pass-M, and the list of its passes as .json and .txt.
func (p parts) GetPlanFile(c echo.Context, id PlanID, file string) error {
	asked, ok := readFileName(file)
	if !ok {
		return notFound("file")
	}
	found, err := p.find(c, id)
	if err != nil {
		return err
	}
	if !found.has(passes.Name) {
		return notYet(passes.Name)
	}
	return p.sendMade(c, cacheKey("file", found.sum(), file), func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		return p.writeFile(ctx, r, asked)
	})
}

// cutFile is which file of a plan is asked for.
type cutFile struct {
	load, pass int // pass: view.AllPasses for the whole load
	ending     string
}

// readFileName takes a name apart that fits the pattern of the specification.
func readFileName(file string) (cutFile, bool) {
	name, ending, _ := strings.Cut(file, ".")
	load, pass, one := strings.Cut(strings.TrimPrefix(name, "load-"), "-pass-")
	f := cutFile{pass: view.AllPasses, ending: ending}
	var err error
	if f.load, err = strconv.Atoi(load); err == nil && one {
		f.pass, err = strconv.Atoi(pass)
	}
	return f, err == nil
}

// writeFile writes a file to cut from, or the list of the passes.
func (p parts) writeFile(ctx context.Context, r *view.Results, f cutFile) (content, error) {
	if len(r.Passes.Questions) > 0 {
		return content{}, notYet("file to cut from")
	}
	if f.load > len(r.Passes.Loads) {
		return content{}, noLoad(len(r.Passes.Loads))
	}
	if f.pass > len(r.Passes.Loads[f.load-1].Passes) {
		return content{}, notFound("file")
	}
	switch f.ending {
	case "json", "txt":
		return passList(r, f)
	}
	var b bytes.Buffer
	format := view.Format(f.ending)
	if err := p.turns.inTurn(ctx, func() error { return r.WriteLoad(ctx, &b, f.load, f.pass, format) }); err != nil {
		return content{}, err
	}
	out := newContent(fileKind(format), b.Bytes())
	out.file = r.FileName(f.load, f.pass, format)
	return out, nil
}

// passList writes the list of the passes of a load.
func passList(r *view.Results, f cutFile) (content, error) {
	list, err := r.ListPasses(f.load)
	if err != nil {
		return content{}, err
	}
	if f.ending == "json" {
		return jsonContent(showPassList(list))
	}
	return newContent(echo.MIMETextPlainCharsetUTF8, []byte(list.Text())), nil
}

// fileKind returns the media type of a file to cut from.
func fileKind(format view.Format) string {
	switch format {
	case view.SVG:
		return "image/svg+xml"
	case view.Plt:
		return "application/vnd.hp-hpgl"
	}
	return "image/vnd.dxf"
}
