package planar_test

import (
	"encoding/binary"
	"errors"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// FuzzArrange reads lines of five bytes each, ends on a small lattice whose
// pitch the first byte chooses, and checks all that holds of a map.
func FuzzArrange(f *testing.F) {
	f.Add([]byte{0, 0, 0, 9, 9, 0, 9, 9, 0})
	f.Add([]byte{1, 0, 0, 40, 1, 0, 1, 40, 0, 20, 0, 21, 2})
	f.Add([]byte{2, 0, 0, 9, 0, 9, 0, 9, 9, 9, 9, 0, 9, 0, 9, 0, 0, 3, 3, 4, 4})
	f.Add([]byte{3, 7, 7, 200, 201, 7, 8, 200, 200, 100, 0, 100, 255})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 5 || len(data) > 200 {
			return
		}
		pitch := []int64{1, 3, 1000, 3_900_000}[data[0]%4]
		var lines []planar.Line
		for d := data[1:]; len(d) >= 4; d = d[4:] {
			at := func(i int) int64 { return (int64(d[i]) - 128) * pitch }
			// A step off the lattice makes crossings that nearly coincide.
			lines = append(lines, line(at(0), at(1)+int64(d[0]&1), at(2), at(3)-int64(d[3]&1), len(lines)))
		}
		m, err := planar.Arrange(nil, lines)
		if err != nil {
			t.Fatal(err)
		}
		checkMap(t, lines, m)
	})
}

// FuzzArrangeAnyNumbers takes coordinates as they come: a map that is proper,
// or the documented error.
func FuzzArrangeAnyNumbers(f *testing.F) {
	add := func(v ...float64) {
		var data []byte
		for _, x := range v {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(x))
		}
		f.Add(data)
	}
	add(0, 0, 1, 1, 0, 1, 1, 0)
	add(math.NaN(), 0, 1, 1)
	add(4.5e8, 5.3e9, 4.5e8+1, 5.3e9+1)
	add(-60000, 0, 60000, 0)
	add(1e300, 0, 1e300, 1)
	add(math.Inf(1), 0, 0, 0)
	f.Fuzz(func(t *testing.T, data []byte) {
		var lines []planar.Line
		for ; len(data) >= 32 && len(lines) < 40; data = data[32:] {
			at := func(i int) geometry.Point {
				x := binary.LittleEndian.Uint64(data[16*i:])
				y := binary.LittleEndian.Uint64(data[16*i+8:])
				return geometry.Pt(math.Float64frombits(x), math.Float64frombits(y))
			}
			lines = append(lines, planar.Line{A: at(0), B: at(1), Source: int32(len(lines))})
		}
		m, err := planar.Arrange(nil, lines)
		if err == nil {
			if err := m.Euler(); err != nil {
				t.Error(err)
			}
			return
		}
		var where *planar.LineError
		if !errors.As(err, &where) || where.Line >= len(lines) ||
			!errors.Is(err, planar.ErrNotFinite) && !errors.Is(err, planar.ErrExtent) {
			t.Errorf("undocumented error %v", err)
		}
	})
}
