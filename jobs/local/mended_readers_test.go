package local_test

import (
	"bytes"
	"encoding/json"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/view/mended"
)

// extents prints the box of all that is not on a frame's layer, by file.
const extents = `
import json, sys, ezdxf
from ezdxf import path
out = {}
for name in sys.argv[1:]:
    d = ezdxf.readfile(name)
    assert d.header['$INSUNITS'] == 4, 'mm by the header'
    pts = []
    for e in d.modelspace():
        if not e.dxf.layer.startswith('PAGE') and e.dxf.layer != 'NOTES':
            line = e.construction_tool() if e.dxftype() == 'SPLINE' else path.make_path(e)
            pts += [(v.x, v.y) for v in line.flattening(0.005, 4)]
    xs, ys = [p[0] for p in pts], [p[1] for p in pts]
    out[name] = [max(xs) - min(xs), max(ys) - min(ys)]
json.dump(out, sys.stdout)
`

// A library of another project reads the mended DXF files of the demo at the size of
// the work. Source: ezdxf; it makes cubics of arcs, which stray by 2.7e-4 of their
// radius.
func readByEzdxf(t *testing.T, demo map[string]givenBack) {
	args, want := []string{"-c", extents}, map[string]geometry.Box{}
	folder := t.TempDir()
	for name, g := range demo {
		file := filepath.Join(folder, name+".dxf")
		if err := os.WriteFile(file, g.write(t, "dxf"), 0o600); err != nil {
			t.Fatal(err)
		}
		args, want[file] = append(args, file), workOf(t, g)
	}
	out, err := exec.Command(reference.Python(t, "ezdxf"), args...).Output()
	if err != nil {
		t.Fatal(err)
	}
	var got map[string][2]float64
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	for file, box := range want {
		w, h := got[file][0], got[file][1]
		if off := max(w-box.Width(), box.Width()-w, h-box.Height(), box.Height()-h); off > 0.03 {
			t.Errorf("%s measures %.4f × %.4f mm, want %.4f × %.4f", filepath.Base(file), w, h, box.Width(), box.Height())
		}
	}
}

// A renderer of another project shows the mended SVG with all ink of the work at its
// size. Source: librsvg, 5 pixels to the mm.
func showByRsvg(t *testing.T, g givenBack) {
	cmd := exec.Command(reference.Tool(t, "rsvg-convert"), "-d", "127", "-p", "127", "-b", "white")
	cmd.Stdin = bytes.NewReader(bytes.ReplaceAll(g.write(t, "svg"), []byte(`stroke="#909090"`), []byte(`stroke="none"`))) // no frame
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	box := geometry.EmptyBox()
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0xf000 {
				box = box.Include(geometry.Pt(float64(x), float64(y))).Include(geometry.Pt(float64(x+1), float64(y+1)))
			}
		}
	}
	want, w, h := workOf(t, g), box.Width()/5, box.Height()/5
	if off := max(w-want.Width(), want.Width()-w, h-want.Height(), want.Height()-h); off > 0.5 {
		t.Errorf("it shows %.1f × %.1f mm, want %.1f × %.1f", w, h, want.Width(), want.Height())
	}
}

// workOf is the box of all that a mended file draws.
func workOf(t *testing.T, g givenBack) geometry.Box {
	t.Helper()
	box := geometry.EmptyBox()
	for _, s := range mended.Strokes(nil, list.Shown(g.results), g.request) {
		box = box.Union(s.Path.Bounds())
	}
	return box
}
