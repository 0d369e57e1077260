package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"knifedesk/cmd/knifedesk/scenario"
)

// The drawings that the page offers are those of the demo. -update writes them.
func TestExamplesOfThePage(t *testing.T) {
	for name, sheet := range map[string]scenario.Sheet{
		"sign.svg":    scenario.TideLabel().Scaled(scenario.PointsForMM),
		"tent.svg":    scenario.CaptionTent(),
		"stencil.svg": scenario.LighthouseStencil(),
	} {
		want, err := sheet.Bytes("svg")
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("..", "..", "api", "page", name)
		if *update {
			if err := os.WriteFile(file, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not the drawing of the demo (%v)", file, err)
		}
	}
}
