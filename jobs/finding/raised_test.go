package finding_test

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
	"knifedesk/jobs/finding"
)

// Every code of the catalogue is raised somewhere outside of tests: by its
// constant, in any package of the module but for the catalogue itself.
func TestEveryCodeIsRaised(t *testing.T) {
	root := reference.ModuleRoot(t)
	code := constants(t, filepath.Join(root, "geometry", "finding"))
	raised := map[finding.Code]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		own := filepath.Dir(path) == filepath.Join(root, "geometry", "finding")
		if own && strings.HasPrefix(d.Name(), "catalogue") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				if x, ok := n.X.(*ast.Ident); ok && x.Name == "finding" {
					raised[code[n.Sel.Name]] = true
				}
			case *ast.Ident:
				if own {
					raised[code[n.Name]] = true
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range finding.Codes() {
		if !raised[c] {
			t.Errorf("nothing raises %s", c)
		}
	}
}

// constants returns the codes by the names of their constants, and holds every
// one to an entry in the catalogue.
func constants(t *testing.T, dir string) map[string]finding.Code {
	t.Helper()
	entries := map[finding.Code]bool{}
	for _, c := range finding.Codes() {
		entries[c] = true
	}
	files, err := filepath.Glob(filepath.Join(dir, "catalogue_*.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no catalogue in %s: %v", dir, err)
	}
	codes := map[string]finding.Code{}
	for _, path := range files {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || len(spec.Values) != 1 {
				return true
			}
			if text, ok := spec.Values[0].(*ast.BasicLit); ok {
				value, _ := strconv.Unquote(text.Value)
				codes[spec.Names[0].Name] = finding.Code(value)
				if !entries[finding.Code(value)] {
					t.Errorf("%s has no entry in the catalogue", value)
				}
			}
			return true
		})
	}
	return codes
}
