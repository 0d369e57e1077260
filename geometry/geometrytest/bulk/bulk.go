// Package bulk leads tests over thousands of foreign drawings that are no part
// of the repository. `bash .ci/bulk` fetches them and names the folder with
// -bulk; without it such a test skips and says so.
package bulk

import (
	"flag"
	"io/fs"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
)

var (
	dir    = flag.String("bulk", "", "folder of unpacked drawings for the bulk tests, see .ci/bulk")
	sample = flag.Int("bulk-sample", 0, "how many of them the slower checks take, the usual number where 0")
	seed   = flag.Uint64("bulk-seed", 1, "seed of the sample")
)

// Files returns the drawings under the folder, sorted: those whose name ends
// with ext. It skips the test where no folder is named.
func Files(t *testing.T, ext string) []string {
	t.Helper()
	if *dir == "" {
		reference.Skip(t, "no -bulk=DIR is given: run `bash .ci/bulk`")
	}
	var files []string
	err := filepath.WalkDir(*dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ext) {
			files = append(files, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(files)
	return files
}

// Short is path as seen from the folder.
func Short(path string) string {
	if rel, err := filepath.Rel(*dir, path); err == nil {
		return rel
	}
	return path
}

// Sample draws n of the files, or as many as -bulk-sample says, or all where
// there are fewer. The same seed draws the same ones.
func Sample(files []string, n int) []string {
	if *sample > 0 {
		n = *sample
	}
	out := slices.Clone(files)
	rng := rand.New(rand.NewPCG(*seed, 0))
	rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	out = out[:min(n, len(out))]
	slices.Sort(out)
	return out
}
