package jobs_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
)

// The name of a job stands as a literal in its own package, once, and nowhere
// else in the program: all others take it from there or from the list. What a key
// may do is another thing, of which one is called like a job.
func TestNamesOfJobsStandOnce(t *testing.T) {
	root := reference.ModuleRoot(t)
	found := map[string][]string{}
	for _, row := range jobs.NewList().Rows {
		found[row.Name] = nil
	}
	for _, room := range []string{"cmd", "api", "jobs", "geometry", "db"} {
		err := filepath.WalkDir(filepath.Join(root, room), func(path string, d fs.DirEntry, err error) error {
			if err == nil && d.IsDir() && path == filepath.Join(root, "api", "access") {
				return fs.SkipDir
			}
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, ".gen.go") {
				return err
			}
			return literals(path, func(text string, at token.Position) {
				if _, ok := found[text]; ok {
					found[text] = append(found[text], at.String())
				}
			})
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for name, at := range found {
		if len(at) != 1 {
			t.Errorf("%q stands in %d places, want 1:\n\t%s", name, len(at), strings.Join(at, "\n\t"))
		}
	}
}

// literals calls found for each string literal of a file, less import paths, the
// tags of fields, and keys, which name fields of values.
func literals(path string, found func(string, token.Position)) error {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, nil, 0)
	if err != nil {
		return err
	}
	var look func(ast.Node) bool
	look = func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec, *ast.Field:
			return false
		case *ast.KeyValueExpr:
			ast.Inspect(n.Value, look)
			return false
		case *ast.BasicLit:
			if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
				found(text, files.Position(n.Pos()))
			}
		}
		return true
	}
	ast.Inspect(file, look)
	return nil
}
