package share_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/weeding"
)

// Whatever a load keeps is found again in the drawing that it is of, in each copy once: on
// card, on film with one border round all, and on film that is cut mirrored; turned too.
func TestPartsOfALoadAreFoundInTheirDrawings(t *testing.T) {
	for _, stock := range []string{"card-160-a4", "film-removable-610", "film-heat-500", "stencil-a3"} {
		purpose := weeding.Lettering
		switch stock {
		case "card-160-a4":
			purpose = weeding.Pieces
		case "stencil-a3":
			purpose = weeding.Stencil
		}
		s := onStock(t, stock, purpose)
		for i, text := range []string{"BOARD", "gale", "iii", "QUAY 8"} {
			s.add(t, 1+i, s.cuts(word(text, 18+4*float64(i))...)...)
		}
		s.add(t, 3, s.cuts(append(plate(30, 90), geometry.Circle(geometry.Pt(50, 20), 9))...)...)
		laid := s.lay(t)
		found, want := map[string]int{}, map[string]int{}
		for _, l := range laid.Loads {
			m := laid.MapOf(&l, nil)
			for _, r := range m.Regions {
				part, ok := laid.PartOn(l.Number, r.Number)
				if ok != r.Kept() {
					t.Errorf("%s: region %d of load %d is %s, found %v", stock, r.Number, l.Number, r.Class, ok)
				}
				if !ok {
					continue
				}
				own := s.mapOf(part.Code)
				n := own.KeptAt(nil, part.At)
				if n == 0 || math.Abs(own.Regions[n-1].AreaMM2-r.AreaMM2) > 1e-3*r.AreaMM2 {
					t.Errorf("%s: region %d of load %d, of %g mm², is region %d of %s", stock, r.Number, l.Number, r.AreaMM2, n, part.Code)
				}
				found[fmt.Sprintf("%s/%d: %d", part.Code, part.Copy, n)]++
			}
		}
		for i, member := range s.req.Members {
			for _, r := range s.maps[i].Regions {
				if at := s.maps[i].KeptAt(nil, r.Pick); !r.Kept() && at != 0 {
					t.Errorf("%s: in a %s of %s lies region %d", stock, r.Class, member.Code, at)
				}
			}
			for c := range member.Copies {
				for _, r := range s.maps[i].Regions {
					if r.Kept() {
						want[fmt.Sprintf("%s/%d: %d", member.Code, c+1, r.Number)] = 1
					}
				}
			}
		}
		if fmt.Sprint(found) != fmt.Sprint(want) {
			t.Errorf("%s: found %v\nwant %v", stock, found, want)
		}
	}
	s := onStock(t, "card-160-a4", weeding.Pieces)
	s.add(t, 1, s.cuts(plate(30, 20)...)...)
	laid := s.lay(t)
	for _, at := range [][2]int{{0, 1}, {2, 1}, {1, 0}, {1, 99}, {-1, 1}} {
		if part, ok := laid.PartOn(at[0], at[1]); ok {
			t.Errorf("region %d of load %d is %+v", at[1], at[0], part)
		}
	}
}
