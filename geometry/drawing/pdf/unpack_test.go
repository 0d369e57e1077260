package pdf_test

import (
	"encoding/ascii85"
	"encoding/hex"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/pdf"
)

func base85(s string) string {
	out := make([]byte, ascii85.MaxEncodedLen(len(s)))
	return string(out[:ascii85.Encode(out, []byte(s))]) + "~>"
}

// Each filter gives the content that went in, alone and after another (ISO
// 32000-1, 7.4).
func TestFilters(t *testing.T) {
	const line = "0 0 m 9 9 l S"
	up := "\x02" + line[:1] // rows of one byte, each less the one above (PNG, filter type 2)
	for i := 1; i < len(line); i++ {
		up += "\x02" + string([]byte{line[i] - line[i-1]})
	}
	predicted := strings.Replace(packed("", up, 1), "/Filter/FlateDecode", "/Filter/FlateDecode/DecodeParms<</Predictor 12/Columns 1>>", 1)
	flate := packed("", line, 1)
	data := flate[strings.Index(flate, "stream\n")+len("stream\n") : strings.LastIndex(flate, "\nendstream")]
	for name, content := range map[string]string{
		"hex":                 stream("/Filter/ASCIIHexDecode", hex.EncodeToString([]byte(line))+">"),
		"base 85":             stream("/Filter/ASCII85Decode", base85(line)),
		"run lengths":         stream("/Filter/RunLengthDecode", "\x0c"+line+"\x80"),
		"repeated bytes":      stream("/Filter/RunLengthDecode", "\x00"+line[:1]+"\xf0 "+"\x0b"+line[1:]+"\x80"),
		"runs without an end": stream("/Filter/RunLengthDecode", "\x0c"+line),
		"flate":               flate,
		"predicted":           predicted,
		"base 85 of flate":    stream("/Filter[/ASCII85Decode/FlateDecode]", base85(data)),
	} {
		if d := parse(t, onPageOf(content), pdf.Options{}); len(d.Shapes) != 1 || len(d.Notes) != 0 {
			t.Errorf("%s: %d shapes, %v", name, len(d.Shapes), codes(d))
		}
	}
	// The example of 7.4.4.2.
	d := parse(t, onPageOf(stream("/Filter/LZWDecode", "\x80\x0b\x60\x50\x22\x0c\x0c\x85\x01")), pdf.Options{})
	if len(d.Notes) == 0 || strings.Join(d.Notes[0].Names, " ") != "operator -----A---B" {
		t.Errorf("LZW: %+v", d.Notes)
	}
}

// What is broken is told, and what came before the fault is kept where it is
// content.
func TestBrokenFilters(t *testing.T) {
	const line = "0 0 m 9 9 l S "
	for name, c := range map[string]struct {
		content string
		shapes  int
	}{
		"cut run":         {stream("/Filter/RunLengthDecode", "\x0d"+line+"\x20 1 2"), 1},
		"no end of 85":    {stream("/Filter/ASCII85Decode", strings.TrimSuffix(base85(line), "~>")), 1},
		"first of two":    {stream("/Filter[/RunLengthDecode/ASCIIHexDecode]", "\x20 30"), 0},
		"picture":         {stream("/Filter/DCTDecode", line), 0},
		"row of no kind":  {strings.Replace(packed("", "\x09x", 1), "/Filter/FlateDecode", "/Filter/FlateDecode/DecodeParms<</Predictor 12>>", 1), 0},
		"unknown by name": {stream("/Filter/CryptDecode", line), 0},
	} {
		d := parse(t, onPageOf(c.content), pdf.Options{})
		broken := false
		for _, n := range d.Notes {
			broken = broken || n.Code == drawing.ContentBroken
		}
		if len(d.Shapes) != c.shapes || !broken {
			t.Errorf("%s: %d shapes, %v", name, len(d.Shapes), codes(d))
		}
	}
}

// onPageOf makes a file of one page with the given content stream.
func onPageOf(content string) string {
	return file("<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>", "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>", content)
}
