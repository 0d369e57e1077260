package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// buildAll weaves all chosen places into the packages and builds every test
// binary that is to be asked, once. Places that the compiler refuses are none
// and are taken out.
func (c *campaign) buildAll(ctx context.Context) error {
	asked := c.askedFor(c.chosen)
	for range 20 {
		overlay, files, err := c.weaveAll()
		if err != nil {
			return err
		}
		refused, err := c.compile(ctx, overlay, files)
		if err != nil {
			return err
		}
		if len(refused) == 0 {
			return c.link(ctx, overlay, c.temp, asked)
		}
		c.chosen = slices.DeleteFunc(c.chosen, func(p *place) bool { return slices.Contains(refused, p.id) })
	}
	return fmt.Errorf("after twenty builds there are still places that do not compile")
}

// askedFor returns the packages whose tests are to see places.
func (c *campaign) askedFor(places []*place) (asked []*pkg) {
	for _, p := range places {
		for _, q := range c.witnesses(p) {
			if !slices.Contains(asked, q) {
				asked = append(asked, q)
			}
		}
	}
	return asked
}

// witnesses are the packages whose tests are to see a place: its own and those
// of its nearest callers.
func (c *campaign) witnesses(p *place) []*pkg {
	nearest := c.module.callers(p.pkg, p.function, c.callers)
	if p.pkg.tested() {
		return append([]*pkg{p.pkg}, nearest...)
	}
	return nearest
}

// weaveAll writes the woven files and the list that puts them in the place of
// the true ones; files are what was woven, by the names that the compiler calls
// them by.
func (c *campaign) weaveAll() (overlay string, files map[string]*woven, err error) {
	placed := map[string][]*place{}
	replace := map[string]string{}
	for _, p := range c.chosen {
		path := filepath.Join(p.pkg.Dir, p.file)
		placed[path] = append(placed[path], p)
		beside := filepath.Join(p.pkg.Dir, "spoiled__.go")
		if replace[beside] == "" {
			replace[beside] = filepath.Join(c.temp, fmt.Sprintf("helpers%d.go", len(replace)))
			if err := os.WriteFile(replace[beside], fmt.Appendf(nil, helpers, p.pkg.Name), 0o600); err != nil {
				return "", nil, err
			}
		}
	}
	files = map[string]*woven{}
	for path, places := range placed {
		w, err := weave(path, places)
		if err != nil {
			return "", nil, err
		}
		replace[path] = filepath.Join(c.temp, fmt.Sprintf("woven%d.go", len(replace)))
		if err := os.WriteFile(replace[path], w.text, 0o600); err != nil {
			return "", nil, err
		}
		files[replace[path]] = w
	}
	overlay, err = writeOverlay(c.temp, replace)
	return overlay, files, err
}

func writeOverlay(folder string, replace map[string]string) (string, error) {
	list, err := json.Marshal(map[string]map[string]string{"Replace": replace})
	if err != nil {
		return "", err
	}
	name := filepath.Join(folder, "overlay.json")
	return name, os.WriteFile(name, list, 0o600)
}

// every error of a package, and not the first ten
const everyError = "-gcflags=knifedesk/...=-e"

// compile compiles the woven packages and returns the places that the compiler
// refuses.
func (c *campaign) compile(ctx context.Context, overlay string, files map[string]*woven) (refused []int, err error) {
	if len(c.chosen) == 0 {
		return nil, nil // without a package the compiler would take the folder for one
	}
	args := []string{"build", "-o", os.DevNull, everyError, "-overlay", overlay}
	for _, p := range c.chosen {
		if !slices.Contains(args, p.pkg.ImportPath) {
			args = append(args, p.pkg.ImportPath)
		}
	}
	out, err := exec.CommandContext(ctx, "go", args...).CombinedOutput()
	if err == nil || ctx.Err() != nil {
		return nil, ctx.Err()
	}
	for _, m := range compilerError.FindAllStringSubmatch(string(out), -1) {
		line, _ := strconv.Atoi(m[2]) // digits
		if w := files[m[1]]; w != nil {
			refused = append(refused, w.behind(line)...)
		}
	}
	if len(refused) == 0 {
		return nil, fmt.Errorf("the woven packages do not compile:\n%s", out)
	}
	return refused, nil
}

var compilerError = regexp.MustCompile(`(?m)^(\S+\.go):(\d+):`)

// link builds test binaries into a folder.
func (c *campaign) link(ctx context.Context, overlay, folder string, of []*pkg) error {
	if len(of) == 0 {
		return nil // no tests are asked
	}
	args := []string{"test", "-c", "-vet", "off", everyError, "-overlay", overlay, "-o", folder + "/"}
	for _, q := range of {
		args = append(args, q.ImportPath)
	}
	if out, err := exec.CommandContext(ctx, "go", args...).CombinedOutput(); err != nil && ctx.Err() == nil {
		return fmt.Errorf("go %s: %w\n%s", strings.Join(args, " "), err, out)
	}
	return ctx.Err()
}

// buildAlone builds the test binaries that are to see a place that could not be
// woven. A place that does not compile is none.
func (c *campaign) buildAlone(ctx context.Context, p *place) (folder string, compiles bool, err error) {
	if folder, err = os.MkdirTemp(c.temp, "alone"); err != nil {
		return "", false, err
	}
	text, err := spoil(p)
	if err != nil {
		return "", false, err
	}
	file := filepath.Join(folder, "spoiled.go")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		return "", false, err
	}
	overlay, err := writeOverlay(folder, map[string]string{filepath.Join(p.pkg.Dir, p.file): file})
	if err != nil {
		return "", false, err
	}
	return folder, c.link(ctx, overlay, folder, c.witnesses(p)) == nil, nil
}
