// Package property checks properties on random inputs without leaving anything
// in the working tree: an input that fails is printed with the seed that makes
// it again (go test -rapid.seed=N), and not kept for later runs.
package property

import (
	"flag"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// keepNothing is set once, since tests may run side by side.
var keepNothing = sync.OnceValue(func() error { return flag.Set("rapid.nofailfile", "true") })

// Check runs prop on random inputs.
func Check(t *testing.T, prop func(*rapid.T)) {
	t.Helper()
	if err := keepNothing(); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, prop)
}
