package pdf_test

import (
	"encoding/json"
	"path/filepath"
	"sync"
	"testing"

	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/geometrytest/reference"
)

// Several workers read at once, and the same file gives the same drawing. With
// the race detector this also watches what the structure library shares.
func TestReadConcurrently(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(reference.Path(t, "drawings", "pdf"), "*.pdf"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files: %v", err)
	}
	const workers = 4
	results := make([]map[string]string, workers)
	var all sync.WaitGroup
	for w := range workers {
		results[w] = map[string]string{}
		all.Go(func() {
			for _, path := range files {
				d, err := read(t, path, pdf.Options{})
				if err != nil {
					results[w][path] = err.Error()
					continue
				}
				text, err := json.Marshal([]any{d, d.Notes})
				if err != nil {
					text = []byte(err.Error())
				}
				results[w][path] = string(text)
			}
		})
	}
	all.Wait()
	for _, path := range files {
		for w := range workers {
			if results[w][path] != results[0][path] {
				t.Errorf("%s: read differently by worker %d", filepath.Base(path), w)
			}
		}
	}
}
