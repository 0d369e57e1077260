// Package reference finds the reference material and the independent tools
// that tests compare with. Both are optional on a developer's machine; with
// KNIFEDESK_NO_SKIP set, as in CI, a missing one fails the test.
package reference

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

const (
	noSkip  = "KNIFEDESK_NO_SKIP"
	missing = "reference material missing (set KNIFEDESK_REFERENCE): %v"
)

// Path returns the path of a file or folder of the reference material: under
// KNIFEDESK_REFERENCE, or under ../shared/reference beside the repository.
func Path(t testing.TB, elem ...string) string {
	t.Helper()
	path := filepath.Join(append([]string{root(t)}, elem...)...)
	if _, err := os.Stat(path); err != nil {
		Skip(t, missing, err)
	}
	return path
}

func root(t testing.TB) string {
	if dir := os.Getenv("KNIFEDESK_REFERENCE"); dir != "" {
		return dir
	}
	return filepath.Join(ModuleRoot(t), "..", "shared", "reference")
}

// Tool returns the path of an independent program, such as rsvg-convert.
func Tool(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Skip(t, "tool missing: %v", err)
	}
	return path
}

// Python returns the path of the system's Python, which .ci/install gives the
// modules that tests compare with; a module that it lacks is a missing tool.
func Python(t testing.TB, module string) string {
	t.Helper()
	python := Tool(t, "/usr/bin/python3")
	if out, err := exec.Command(python, "-c", "import "+module).CombinedOutput(); err != nil {
		Skip(t, "python module missing: %s: %s", module, out)
	}
	return python
}

// AxeCore returns the script of axe-core, which .ci/install fetches into the
// user's cache: a checker of accessibility, from npm.
func AxeCore(t testing.TB) string {
	t.Helper()
	cache, err := os.UserCacheDir()
	if err != nil {
		Skip(t, "no folder for caches: %v", err)
	}
	script, err := os.ReadFile(filepath.Join(cache, "knifedesk-ci", "axe.min.js"))
	if err != nil {
		Skip(t, "axe-core missing (bash .ci/install): %v", err)
	}
	return string(script)
}

// Contract returns the folder of the packages from npm that generate and compile
// clients of the specification; .ci/install fetches them into the user's cache.
func Contract(t testing.TB) string {
	t.Helper()
	cache, err := os.UserCacheDir()
	if err != nil {
		Skip(t, "no folder for caches: %v", err)
	}
	folder := filepath.Join(cache, "knifedesk-ci", "contract", "node_modules")
	if _, err := os.Stat(filepath.Join(folder, "openapi-typescript")); err != nil {
		Skip(t, "generators missing (bash .ci/install): %v", err)
	}
	return folder
}

// mostSeed is the size in bytes above which a file is no seed: a fuzzer makes
// no headway with inputs that take long.
const mostSeed = 1 << 16

// Seeds adds the files of a folder of the reference material to a fuzz target,
// less the large ones, or says that the material is missing.
func Seeds(f *testing.F, elem ...string) {
	f.Helper()
	dir := filepath.Join(append([]string{root(f)}, elem...)...)
	entries, err := os.ReadDir(dir)
	switch {
	case err != nil && os.Getenv(noSkip) != "":
		f.Fatalf(missing, err)
	case err != nil:
		f.Logf(missing+"; only the target's own seeds are tried", err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			f.Fatal(err)
		}
		if len(data) <= mostSeed {
			f.Add(data)
		}
	}
}

// Skip skips a test that lacks something, and says what; with KNIFEDESK_NO_SKIP
// set it fails it. No other code of this module skips a test, so that nothing is
// passed over unseen in CI.
func Skip(t testing.TB, format string, args ...any) {
	t.Helper()
	if os.Getenv(noSkip) != "" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}

// ModuleRoot returns the folder of go.mod, above the test's folder.
func ModuleRoot(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test's folder")
		}
		dir = up
	}
}
