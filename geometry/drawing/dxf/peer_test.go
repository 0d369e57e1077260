package dxf_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/reference"
)

// TestBesidePeer reads files with random curves and inserts and compares the
// length and box of each with those by ezdxf, which wrote them. Its chords
// stray by 2e-4, up to 8 times that in scaled blocks, and shorten curves by
// less than 1e-4 of their length.
func TestBesidePeer(t *testing.T) {
	python := reference.Python(t, "ezdxf")
	for i, c := range [][2]string{{"R12", "asc"}, {"R2000", "bin"}, {"R2007", "asc"}, {"R2018", "bin"}} {
		t.Run(c[0], func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "curves.dxf")
			out, err := exec.Command(python, "testdata/peer.py", fmt.Sprint(i), c[0], c[1], path).CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			besidePeer(t, path)
		})
	}
}

func besidePeer(t *testing.T, path string) {
	data, err := os.ReadFile(path + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var want map[string][5]float64
	if err := json.Unmarshal(data, &want); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := dxf.Read(t.Context(), f, dxf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	lengths, boxes := map[string]float64{}, map[string]geometry.Box{}
	for _, s := range d.Shapes {
		if lengths[s.Layer] == 0 {
			boxes[s.Layer] = geometry.EmptyBox()
		}
		lengths[s.Layer] += s.Paths[0].Length()
		boxes[s.Layer] = boxes[s.Layer].Union(s.Bounds())
	}
	if len(want) != 80 {
		t.Fatalf("%d entities, want 80", len(want))
	}
	for layer, w := range want {
		if !near(lengths[layer], w[0], 1e-3+1e-4*w[0]) {
			t.Errorf("%s: length %.6f, ezdxf %.6f", layer, lengths[layer], w[0])
		}
		b := boxes[layer]
		for i, v := range [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
			if !near(v, w[i+1], 2e-3) {
				t.Errorf("%s: side %d of the box at %.6f, ezdxf %.6f", layer, i, v, w[i+1])
			}
		}
	}
}
