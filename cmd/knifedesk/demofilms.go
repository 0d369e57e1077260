package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"knifedesk/cmd/knifedesk/scenario"
)

// runFilms submits a layered work and keeps the plan of each film, the lowest first, in a
// folder of its own. It lists what was not as expected of any of them.
func runFilms(ctx context.Context, c *client, k scenario.Case, out string) (kept []keptCase, wrong []string, err error) {
	first, asked, err := submitCase(ctx, c, k, out)
	if err != nil {
		return nil, nil, err
	}
	if first.Stack == nil || len(first.Stack.Films) != len(k.Films) {
		return nil, []string{fmt.Sprintf("%s: not planned as %d films", k.Name, len(k.Films))}, nil
	}
	for i, film := range first.Stack.Films {
		p, one := first, k
		one.Name = fmt.Sprintf("%s: film %d of %d, %s", k.Name, i+1, len(k.Films), film.Name)
		folder := folderOf(k)
		if film.PlanID != first.ID {
			folder += fmt.Sprintf("-film-%d", i+1)
			if p, err = keepFilm(ctx, c, film.PlanID, filepath.Join(out, folder)); err != nil {
				return nil, nil, err
			}
		}
		line := row(one, p, asked)
		kept = append(kept, keptCase{Folder: folder, File: k.File, Cells: line[:len(line)-1], Status: p.Status})
		for _, fault := range deviations(one, p, asked) {
			wrong = append(wrong, one.Name+": "+fault)
		}
	}
	return kept, wrong, nil
}

// keepFilm waits for the plan of another film and keeps it.
func keepFilm(ctx context.Context, c *client, id, folder string) (*planBody, error) {
	p, err := c.read(ctx, id)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	return p, keepPlan(ctx, c, p, folder)
}
