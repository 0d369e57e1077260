package view_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// tipMM is how far the tip may leave the line as it was drawn, and the line the
// tip, by the format: what the issue asks of files in mm, and of those that count
// 0.025 mm.
func tipMM(f view.Format) float64 {
	if f == view.Plt {
		return 0.035
	}
	return 0.008
}

// offsetIn is the shop with machines that leave the knife to the file, and blades
// that trail so far.
func offsetIn(shop workshop.Data, offset float64) workshop.Data {
	shop = compensating(shop, workshop.CompensatesNothing)
	for i := range shop.Machines {
		m := &shop.Machines[i]
		m.Blade.OffsetMM = offset
		for k := range m.Blades {
			m.Blades[k].OffsetMM = offset
		}
	}
	return shop
}

// The file is what is tested: the tip that trails the lines of a downloaded file
// cuts what was drawn, dash by dash, round by round, in the order of the plan,
// however the blade stood when the load was begun. After each change of the tool
// nobody knows how it stands either.
func TestTheTipCutsWhatWasDrawn(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 7))
	for _, offset := range []float64{0.25, 0.5, 0.9} {
		for _, b := range benches() {
			t.Run(fmt.Sprintf("%s, %g mm", b.name, offset), func(t *testing.T) {
				choices := b.choices
				choices.Copies = 2
				p := planIn(t, offsetIn(b.shop(), offset), b.file, choices)
				formats := ownReaders()
				if offset == 0.5 {
					formats = readers() // others read the file alike by every offset
				}
				for load := range p.Passes.Loads {
					for _, r := range formats {
						checkTip(t, p, load, r, random.Float64()*2*math.Pi)
					}
				}
			})
		}
	}
}

// checkTip reads the file of a load and cuts along it.
func checkTip(t *testing.T, p *planned, load int, r reader, heading float64) {
	t.Helper()
	var file bytes.Buffer
	if err := p.WriteLoad(t.Context(), &file, load+1, view.AllPasses, r.format); err != nil {
		t.Fatal(err)
	}
	want, got := planOfLoad(t, p, load), r.read(t, file.Bytes())
	if len(got) != len(want) {
		t.Fatalf("%s: %d passes, the plan has %d", r.name, len(got), len(want))
	}
	known := false
	for i, pass := range p.Passes.Loads[load].Passes {
		known = known && !pass.Changed
		lines := got[i].lines
		where := fmt.Sprintf("%s, load %d, %s", r.name, load+1, want[i].name)
		knife := knifeTip{pass.Rule.OffsetMM, heading}
		if pass.Rule.OffsetMM > 0 && !known {
			if len(lines) == 0 {
				t.Fatal(where, "is empty")
			}
			checkLeadIn(t, where, p, load, knife.cut(lines[0]))
			lines, known = lines[1:], true
		}
		checkStrokes(t, where, tipMM(r.format), &knife, want[i].lines, lines, pass)
		heading = knife.heading
	}
}

// checkLeadIn holds that the tip cuts waste alone while the blade is turned.
func checkLeadIn(t *testing.T, where string, p *planned, load int, trail []geometry.Point) {
	t.Helper()
	for _, at := range p.Layout.Loads[load].Placements {
		for _, q := range trail {
			if at.Bounds.Grow(0.4).Contains(q) {
				t.Errorf("%s: the lead-in comes to %v, beside copy %d at %v", where, q, at.Copy, at.Bounds)
				return
			}
		}
	}
}

func checkStrokes(t *testing.T, where string, within float64, knife *knifeTip, want, lines []geometry.Path, pass passes.Pass) {
	t.Helper()
	if len(lines) != len(want) {
		t.Fatalf("%s: %d strokes, the plan has %d", where, len(lines), len(want))
	}
	for k, drawn := range want {
		trail := knife.cut(lines[k])
		if off := between(trail, drawn.Flatten(1e-4)); !(off <= within) {
			t.Errorf("%s: stroke %d and the tip lie %.4f mm apart", where, k+1, off)
		}
		if drawn.Closed && pass.Rule.OffsetMM > 0 {
			if gap := chainOf(trail[len(trail)/2:]).from(trail[0]); !(gap <= within) {
				t.Errorf("%s: stroke %d is open by %.4f mm", where, k+1, gap)
			}
		}
	}
}
