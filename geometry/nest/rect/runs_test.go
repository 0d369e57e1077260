package rect_test

import (
	"slices"
	"testing"

	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/nest/rect"

	"pgregory.net/rapid"
)

// times lists copies of rectangles: width, length and how many.
func times(all ...[3]int64) (items []rect.Item) {
	for _, one := range all {
		for range one[2] {
			items = append(items, rect.Item{W: one[0], H: one[1]})
		}
	}
	return items
}

// By hand, in tenths of a mm with a gap of 0.8 behind each: four of the six lie side by
// side on one run of 101, and two beside the long one on another of 158.6; each takes 65.2
// besides. Filled one after the other the runs took 44 mm more.
func TestRunsTakeTheLeastTogether(t *testing.T) {
	items := times([3]int64{463, 1018, 6}, [3]int64{676, 1594, 1})
	runs, ok := rect.Runs(nil, items, 1899, 2430, 652, rect.Effort{})
	sum := int64(0)
	for _, r := range runs {
		sum += r.Height + 652
	}
	if !ok || len(runs) != 2 || sum != 1018+1594+2*652 {
		t.Errorf("%d runs of %d", len(runs), sum)
	}
	holdsSheets(t, items, runs, 1899, 2430)
}

// Rows by the first that has room put these on four sheets; the skyline alone took five.
func TestSheetsOfLargeAndSmall(t *testing.T) {
	items := times([3]int64{553, 274, 4}, [3]int64{1835, 269, 4}, [3]int64{217, 854, 6}, [3]int64{1782, 1464, 4},
		[3]int64{456, 235, 4}, [3]int64{1768, 801, 1}, [3]int64{1701, 1002, 3}, [3]int64{1777, 377, 2})
	sheets, ok := rect.Sheets(nil, items, 2230, 3068, rect.Effort{})
	if !ok || len(sheets) != 4 {
		t.Errorf("%d sheets, want 4", len(sheets))
	}
	holdsSheets(t, items, sheets, 2230, 3068)
}

// holdsSheets holds that each item lies once, within a sheet and over no other.
func holdsSheets(t interface{ Errorf(string, ...any) }, items []rect.Item, sheets []rect.Sheet, width, length int64) {
	seen := make([]int, len(items))
	for _, s := range sheets {
		var boxes [][4]int64
		for i, id := range s.Items {
			seen[id]++
			w, h := items[id].W, items[id].H
			if s.Places[i].Turned {
				w, h = h, w
			}
			box := [4]int64{s.Places[i].X, s.Places[i].Y, s.Places[i].X + w, s.Places[i].Y + h}
			if box[0] < 0 || box[1] < 0 || box[2] > width || box[3] > length || box[3] > s.Height {
				t.Errorf("%v lies off a sheet that reaches %d", box, s.Height)
			}
			for _, o := range boxes {
				if box[0] < o[2] && o[0] < box[2] && box[1] < o[3] && o[1] < box[3] {
					t.Errorf("%v lies over %v", box, o)
				}
			}
			boxes = append(boxes, box)
		}
	}
	if slices.Max(seen) != 1 || slices.Min(seen) != 1 {
		t.Errorf("items lie %v times", seen)
	}
}

// Sheets are never more, nor runs longer together, than rows in which each rectangle, the
// longest first, lies on the first sheet with room for it.
func TestNeverWorseThanRows(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		width, length, each := rapid.Int64Range(100, 400).Draw(t, "width"), rapid.Int64Range(100, 400).Draw(t, "length"), rapid.Int64Range(0, 80).Draw(t, "each")
		var items []rect.Item
		for range rapid.IntRange(1, 20).Draw(t, "n") {
			items = append(items, rect.Item{W: rapid.Int64Range(5, width).Draw(t, "w"), H: rapid.Int64Range(5, length).Draw(t, "h")})
		}
		quick := rect.Effort{Steps: 20_000}
		sheets, _ := rect.Sheets(nil, items, width, length, quick)
		runs, _ := rect.Runs(nil, items, width, length, each, quick)
		holdsSheets(t, items, sheets, width, length)
		holdsSheets(t, items, runs, width, length)
		took := int64(0)
		for _, r := range runs {
			took += r.Height + each
		}
		n, sum := inRows(items, width, length)
		if len(sheets) > n || took > sum+int64(n)*each {
			t.Fatalf("%d sheets, in rows %d; runs take %d, in rows %d", len(sheets), n, took, sum+int64(n)*each)
		}
	})
}

// inRows counts the sheets of such rows, and how far all of them reach.
func inRows(items []rect.Item, width, length int64) (sheets int, reach int64) {
	all := slices.Clone(items)
	slices.SortStableFunc(all, func(p, q rect.Item) int { return int(q.H<<31 + q.W - p.H<<31 - p.W) })
	type row struct{ sheet, used, longest int64 }
	var rows []row
	var ends []int64
	for _, i := range all {
		at := slices.IndexFunc(rows, func(r row) bool { return r.used+i.W <= width && i.H <= r.longest })
		if at < 0 {
			on := slices.IndexFunc(ends, func(end int64) bool { return end+i.H <= length })
			if on < 0 {
				on, ends = len(ends), append(ends, 0)
			}
			at, rows = len(rows), append(rows, row{int64(on), 0, i.H})
			ends[on] += i.H
		}
		rows[at].used += i.W
	}
	for _, end := range ends {
		reach += end
	}
	return len(ends), reach
}
