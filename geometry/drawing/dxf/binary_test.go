package dxf_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

// binaryOf turns a text file into a binary one: codes of two bytes, or of one
// as up to release 12. The forms of values are those of the group code table
// in the DXF reference, as far as tests use them.
func binaryOf(text string, wide bool) []byte {
	b := []byte("maker__ Binary DXF\r\n\x1a\x00")
	lines := strings.Split(text, "\n")
	for i := 0; i+1 < len(lines); i += 2 {
		code, _ := strconv.Atoi(lines[i])
		if wide {
			b = binary.LittleEndian.AppendUint16(b, uint16(code))
		} else if code < 255 {
			b = append(b, byte(code))
		} else {
			b = binary.LittleEndian.AppendUint16(append(b, 255), uint16(code))
		}
		real, _ := strconv.ParseFloat(lines[i+1], 64)
		switch {
		case code >= 10 && code <= 59, code >= 210 && code <= 239:
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(real))
		case code >= 60 && code <= 79, code == 370:
			b = binary.LittleEndian.AppendUint16(b, uint16(int16(real)))
		case code >= 90 && code <= 99, code == 420:
			b = binary.LittleEndian.AppendUint32(b, uint32(int32(real)))
		default:
			b = append(append(b, lines[i+1]...), 0)
		}
	}
	return b
}

// TestBinaryIsText: a file reads the same in its three forms.
func TestBinaryIsText(t *testing.T) {
	text := file("TABLE 2=LAYER LAYER 2=CUT 70=0 62=-1 420=255 370=35 ENDTAB",
		"BLOCK 2=B 10=1 20=2 LINE 8=CUT 10=0 20=0 11=0.1 21=1e-3 ENDBLK",
		"INSERT 5=2A 8=CUT 2=B 10=0 20=0 41=-2 999=why? 42=3 210=0 220=0 230=-1 330=1F 1000=note "+square+
			"POLYLINE 8=0 70=1 VERTEX 10=0 20=0 42=0.5 VERTEX 10=9 20=0 SEQEND SPLINE 8=0 71=1 72=4 73=2 40=0 40=0 40=1 40=1 10=0 20=0 10=7 20=7")
	want := read(t, text, dxf.Options{KeepHidden: true})
	for _, wide := range []bool{true, false} {
		data := binaryOf(text, wide)
		if !dxf.Sniff(data) {
			t.Error("the binary file is not taken for DXF")
		}
		got, err := dxf.Read(t.Context(), bytes.NewReader(data), dxf.Options{KeepHidden: true})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got, cmpopts.IgnoreFields(drawing.Source{}, "Line")); diff != "" {
			t.Errorf("wide %v: %s", wide, diff)
		}
	}
}

// TestBinaryCutAnywhere: what is left of a binary file reads without a panic,
// and the loss is found.
func TestBinaryCutAnywhere(t *testing.T) {
	data := binaryOf(file("", "", square+square), true)
	for n := 60; n < len(data)-1; n++ {
		d, err := dxf.Read(t.Context(), bytes.NewReader(data[:n]), dxf.Options{})
		if err == nil && len(d.Notes) == 0 {
			t.Fatalf("cut after byte %d: nothing found", n)
		}
	}
}
