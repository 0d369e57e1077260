package view_test

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"
)

var (
	errands      = flag.Uint64("errands", 3, "how many drawings in machines, blades and settings that are unlike each other have their files cut")
	errandsAfter = flag.Uint64("errands-after", 0, "the seed of the first of them, so that others are drawn")
)

// What a person downloads cuts what was drawn: drawings that a knife finds hard, in shops
// whose machines, blades, axes, settings and holds vary, several copies and loads. The
// tip that trails the lines of each file keeps to the drawing and closes what is closed;
// rounds, dashes, overcut and order are those of the data of the shop; each pass alone lies
// as in the file of all.
func TestDownloadedFilesCutWhatWasDrawn(t *testing.T) {
	ran, without := 0, 0
	for k := range *errands {
		seed := *errandsAfter + k
		e := errandAtRandom(seed)
		t.Run(e.name, func(t *testing.T) {
			ran++
			p := planOfErrand(t, e)
			if p == nil {
				without++
				return
			}
			formats := ownReaders()
			if seed%8 == 7 {
				formats = readers()
			}
			p.holdSums(t)
			p.holdFiles(t, formats, rand.New(rand.NewPCG(seed, 3)).Float64()*2*math.Pi)
		})
	}
	if 4*without > ran {
		t.Errorf("no files come of %d of %d drawings", without, ran)
	}
}
