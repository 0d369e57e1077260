package api_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/api"
	"knifedesk/geometry/geometrytest/reference"
)

// What a client prints that goes the walk-through.
const walked = `asking true
artwork/operation:score operation_unsupported
ready 80 40 15
200 %PDF-
200 true
404 no_such_load
`

// served is the specification as the service gives it out, in a file.
func served(t *testing.T, d *desk, folder string) string {
	t.Helper()
	file := filepath.Join(folder, "openapi.yaml")
	if err := os.WriteFile(file, d.call(t, "GET", "/openapi.yaml", nil).body, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// run runs a program in a folder and returns what it prints.
func run(t *testing.T, folder, program string, args ...string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), program, args...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", filepath.Base(program), err, out)
	}
	return string(out)
}

func copied(t *testing.T, from, to string, change ...string) {
	t.Helper()
	text, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, []byte(strings.NewReplacer(change...).Replace(string(text))), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A client in Go, generated from what is served, compiles as a module of its own
// and goes the walk-through.
func TestClientInGo(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	folder := t.TempDir()
	spec := served(t, g.desk, folder)
	if err := os.Mkdir(filepath.Join(folder, "desk"), 0o755); err != nil {
		t.Fatal(err)
	}
	code := run(t, ".", "go", "run", "github.com/oapi-codegen/oapi-codegen/v2/cmd/oapi-codegen@v2.8.2", "-generate", "types,client", "-package", "desk", spec)
	if err := os.WriteFile(filepath.Join(folder, "desk", "desk.go"), []byte(code), 0o644); err != nil {
		t.Fatal(err)
	}
	copied(t, "../go.mod", filepath.Join(folder, "go.mod"), "module knifedesk", "module walk")
	copied(t, "../go.sum", filepath.Join(folder, "go.sum"))
	copied(t, "testdata/clients/walk.go", filepath.Join(folder, "walk.go"))
	if out := run(t, folder, "go", "run", ".", g.URL, bare(g.key(t, "booking", "submit", "read"))); out != walked {
		t.Errorf("it prints\n%s", out)
	}
}

// A client in TypeScript, by another generator, likewise.
func TestClientInTypeScript(t *testing.T) {
	node := reference.Tool(t, "node")
	modules := reference.Contract(t)
	g := openGuarded(t, api.Config{PerMinute: -1})
	folder := t.TempDir()
	spec := served(t, g.desk, folder)
	if err := os.Symlink(modules, filepath.Join(folder, "node_modules")); err != nil {
		t.Fatal(err)
	}
	copied(t, "testdata/clients/walk.ts", filepath.Join(folder, "walk.ts"))
	for name, text := range map[string]string{
		"package.json":  `{"type":"module"}`,
		"tsconfig.json": `{"compilerOptions":{"strict":true,"noUncheckedIndexedAccess":true,"skipLibCheck":true,"target":"es2022","module":"nodenext","types":[]}}`,
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run(t, folder, node, filepath.Join(modules, "openapi-typescript", "bin", "cli.js"), spec, "-o", "desk.d.ts")
	run(t, folder, node, filepath.Join(modules, "typescript", "bin", "tsc"))
	if out := run(t, folder, node, "walk.js", g.URL, bare(g.key(t, "booking", "submit", "read"))); out != walked {
		t.Errorf("it prints\n%s", out)
	}
}
