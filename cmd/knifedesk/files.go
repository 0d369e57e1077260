package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"knifedesk/jobs/view"
	"knifedesk/jobs/view/mended"
)

// writeFiles writes the mended drawing as far as there is artwork, and the files to
// cut from where the plan has come so far and no question about the machine is open.
func (p *planned) writeFiles(ctx context.Context, folder string, shown *view.Results) error {
	if shown.Artwork == nil {
		return nil
	}
	for _, format := range []view.Format{view.SVG, view.DXF} {
		f, err := mended.New(ctx, shown, p.request, format)
		if err != nil {
			return err
		}
		write := f.WriteSVG
		if format == view.DXF {
			write = f.WriteDXF
		}
		if err := writeFile(filepath.Join(folder, "mended."+string(format)), write); err != nil {
			return err
		}
	}
	if shown.Passes == nil || len(shown.Passes.Questions) > 0 {
		return nil
	}
	for load := 1; load <= len(shown.Passes.Loads); load++ {
		for _, format := range []view.Format{view.DXF, view.SVG, view.Plt} {
			name := filepath.Join(folder, fmt.Sprintf("load-%d.%s", load, format))
			err := writeFile(name, func(w io.Writer) error { return shown.WriteLoad(ctx, w, load, view.AllPasses, format) })
			if err != nil {
				return err
			}
		}
	}
	return nil
}

func writeFile(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return os.WriteFile(path, b.Bytes(), 0o644)
}
