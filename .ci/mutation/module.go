package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// pkg is a package as `go list -json` tells it.
type pkg struct {
	Dir, ImportPath, Name              string
	GoFiles, TestGoFiles, XTestGoFiles []string
	Imports, TestImports, XTestImports []string
	Deps                               []string
	Module                             struct{ Path, Dir string }

	read sync.Once
	text string // of the files that are no tests, once it was asked for
}

func (p *pkg) tested() bool { return len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 }

// says reports whether a text stands in the package's files that are no tests.
func (p *pkg) says(text string) bool {
	p.read.Do(func() {
		for _, name := range p.GoFiles {
			file, _ := os.ReadFile(filepath.Join(p.Dir, name)) // go list has just found it
			p.text += string(file)
		}
	})
	return strings.Contains(p.text, text)
}

// room is the package's path within the module.
func (p *pkg) room() string { return strings.TrimPrefix(p.ImportPath, p.Module.Path+"/") }

// module is all packages, and those whose code is to be spoiled.
type module struct {
	all    []*pkg
	chosen []*pkg
}

// load lists the module; chosen are the packages of the patterns (all where
// there are none) whose code changed since the commit, where one is given.
func load(patterns []string, since string) (*module, error) {
	all, err := list("./...")
	if err != nil {
		return nil, err
	}
	m := &module{all: all}
	if len(patterns) == 0 {
		patterns = []string{"./..."}
	}
	wanted, err := list(patterns...)
	if err != nil {
		return nil, err
	}
	changed := func(*pkg) bool { return true }
	if since != "" {
		if changed, err = changedSince(since); err != nil {
			return nil, err
		}
	}
	for _, p := range wanted {
		if !helper(p) && changed(p) {
			m.chosen = append(m.chosen, p)
		}
	}
	return m, nil
}

// helper reports whether a package only serves tests.
func helper(p *pkg) bool {
	r := p.room()
	return strings.Contains(r, "geometrytest") || strings.HasSuffix(r, "test") || strings.Contains(r, "/internal/")
}

func list(patterns ...string) ([]*pkg, error) {
	out, err := exec.Command("go", append([]string{"list", "-json"}, patterns...)...).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %v: %w", patterns, err)
	}
	var all []*pkg
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		p := &pkg{}
		switch err := dec.Decode(p); {
		case errors.Is(err, io.EOF):
			return all, nil
		case err != nil:
			return nil, err
		}
		all = append(all, p)
	}
}

// changedSince tells the packages of which a file that is no test differs from
// that of the commit.
func changedSince(commit string) (func(*pkg) bool, error) {
	out, err := exec.Command("git", "diff", "--name-only", commit, "--", "*.go").Output()
	if err != nil {
		return nil, fmt.Errorf("git diff %s: %w", commit, err)
	}
	folders := map[string]bool{}
	for _, file := range strings.Fields(string(out)) {
		if !strings.HasSuffix(file, "_test.go") {
			folders[filepath.ToSlash(filepath.Dir(file))] = true
		}
	}
	return func(p *pkg) bool { return folders[p.room()] }, nil
}

// callers returns the packages that import p, themselves or in their tests, and
// have tests: first those that call a function of this name, then those with the
// fewest packages below them, as they are the nearest.
func (m *module) callers(p *pkg, function string, most int) []*pkg {
	var found []*pkg
	for _, q := range m.all {
		imports := slices.Concat(q.Imports, q.TestImports, q.XTestImports)
		if q.ImportPath != p.ImportPath && q.tested() && slices.Contains(imports, p.ImportPath) {
			found = append(found, q)
		}
	}
	name := "." + function[strings.LastIndex(function, ".")+1:] + "("
	slices.SortStableFunc(found, func(a, b *pkg) int {
		if a, b := a.says(name), b.says(name); a != b {
			if a {
				return -1
			}
			return 1
		}
		return len(a.Deps) - len(b.Deps)
	})
	return found[:min(most, len(found))]
}
