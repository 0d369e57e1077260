package finding_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/finding"
)

// Every code of the catalogue is raised somewhere outside of tests: by its
// constant here or, for what readers note, in package drawing, in any file of
// the module but for those that list the codes.
func TestEveryCodeIsRaised(t *testing.T) {
	root := reference.ModuleRoot(t)
	own := map[string]string{ // where codes are listed, and by what files
		filepath.Join(root, "jobs", "finding"): "catalogue_*.go", filepath.Join(root, "geometry", "drawing"): "code.go",
	}
	code := map[string]finding.Code{}
	for dir, files := range own {
		constants(t, filepath.Join(dir, files), code)
	}
	raised := map[finding.Code]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		lists, inside := own[filepath.Dir(path)]
		if is, _ := filepath.Match(lists, d.Name()); is {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				if x, ok := n.X.(*ast.Ident); ok && (x.Name == "finding" || x.Name == "drawing") {
					raised[code[n.Sel.Name]] = true
				}
			case *ast.Ident:
				if inside {
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

// constants adds the codes in files by the names of their constants, and holds
// every one to an entry in the catalogue.
func constants(t *testing.T, pattern string, codes map[string]finding.Code) {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		t.Fatalf("no codes in %s: %v", pattern, err)
	}
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
				if !slices.Contains(finding.Codes(), finding.Code(value)) {
					t.Errorf("%s has no entry in the catalogue", value)
				}
			}
			return true
		})
	}
}
