package read_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/read"
)

// Every file of the reference material gives findings whose hints have no gaps
// and which list no more places than they count.
func TestReferenceDrawings(t *testing.T) {
	for _, format := range []string{"dxf", "svg", "pdf"} {
		files, err := filepath.Glob(filepath.Join(reference.Path(t, "drawings", format), "*."+format))
		if err != nil || len(files) == 0 {
			t.Fatalf("no files of %s: %v", format, err)
		}
		for _, path := range files {
			file, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			r := drawn(t, file, read.Request{})
			for _, f := range r.Findings {
				if strings.ContainsAny(f.Hint+f.TechnicianHint, "{}") || f.Count < len(f.Places) {
					t.Errorf("%s: %+v", filepath.Base(path), f)
				}
			}
		}
	}
}
