package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// wide is a plate that two sheets hold by two copies.
const wide = `<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="250mm" viewBox="0 0 180 250">
  <g id="CUT" fill="none" stroke="#007c91"><rect x="5" y="5" width="170" height="240"/></g>
</svg>`

// What plan writes into a folder: the results and pictures of every job that ran, a
// picture of each load, the worksheet and files to cut from once there is something to
// cut, and nothing else.
func TestPlanWritesWhatItFound(t *testing.T) {
	asked := []string{"artwork.json", "artwork.png", "artwork.svg", "drawing.png", "drawing.svg", "mended.dxf", "mended.svg", "proof.pdf", "read.json", "size.json", "size.png", "size.svg"}
	for _, tt := range []struct {
		name, drawing string
		flags         []string
		want          []string
	}{
		{"asking", foldedTwice, []string{"--stock=film-removable-610", "--frame=none"}, asked},
		{"film", square, []string{"--stock=film-removable-610", "--frame=none"}, slices.Concat(asked, []string{
			"estimate.json", "layout.json", "layout.png", "layout.svg", "load-1.dxf", "load-1.plt", "load-1.svg", "passes.json", "passes.png", "passes.svg",
			"weeding.json", "weeding.png", "weeding.svg", "worksheet.pdf"})},
		{"two loads", wide, []string{"--stock=card-220-a4", "--frame=none", "--copies=2"}, slices.Concat(asked, []string{
			"estimate.json", "layout-2.png", "layout-2.svg", "layout.json", "layout.png", "layout.svg", "load-1.dxf", "load-1.plt", "load-1.svg", "load-2.dxf", "load-2.plt", "load-2.svg",
			"passes-2.png", "passes-2.svg", "passes.json", "passes.png", "passes.svg", "weeding.json", "weeding.png", "weeding.svg", "worksheet.pdf"})},
	} {
		t.Run(tt.name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "out")
			code, printed, told := runPlan(t, tt.drawing, append([]string{"--out=" + folder}, tt.flags...)...)
			if want := map[bool]int{true: exitAsking}[tt.name == "asking"]; code != want {
				t.Fatalf("exit code %d: %s %s", code, printed, told)
			}
			entries, err := os.ReadDir(folder)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, e := range entries {
				got = append(got, e.Name())
				isWhole(t, filepath.Join(folder, e.Name()))
			}
			slices.Sort(tt.want)
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("the folder holds (-want +got):\n%s", diff)
			}
		})
	}
}

// isWhole holds that a file is of the kind that its name says, to its end.
func isWhole(t *testing.T, name string) {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	switch filepath.Ext(name) {
	case ".svg":
		dec := xml.NewDecoder(bytes.NewReader(text))
		for err == nil {
			_, err = dec.Token()
		}
		if !errors.Is(err, io.EOF) || !bytes.Contains(text, []byte("<svg")) {
			t.Errorf("%s: %v", name, err)
		}
	case ".png":
		if _, err := png.Decode(bytes.NewReader(text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	case ".pdf":
		if !bytes.HasPrefix(text, []byte("%PDF-")) || !strings.HasSuffix(strings.TrimSpace(string(text)), "%%EOF") {
			t.Errorf("%s is no PDF", name)
		}
	case ".dxf":
		if !strings.HasSuffix(strings.TrimSpace(string(text)), "EOF") {
			t.Errorf("%s is no DXF", name)
		}
	default:
		if len(text) == 0 {
			t.Errorf("%s is empty", name)
		}
	}
}
