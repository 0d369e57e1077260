package read_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs/read"
)

// fileToRead names the file that this program reads alone, instead of testing.
const fileToRead = "KNIFEDESK_TEST_READ_FILE"

func TestMain(m *testing.M) {
	path := os.Getenv(fileToRead)
	if path == "" {
		os.Exit(m.Run())
	}
	file, err := os.ReadFile(path)
	if err == nil {
		_, err = read.Drawing(context.Background(), file, read.Request{})
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	status, _ := os.ReadFile("/proc/self/status")
	for line := range strings.SplitSeq(string(status), "\n") {
		if kB, is := strings.CutPrefix(line, "VmHWM:"); is {
			fmt.Println(strings.TrimSuffix(strings.TrimSpace(kB), " kB"))
		}
	}
}

// greedy are small files that ask for much memory.
func greedy() map[string]string {
	const catalog = "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n3 0 obj\n<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>\nendobj\n"
	object := func(text string) string {
		return fmt.Sprintf("%s4 0 obj\n%s\nendobj\ntrailer<</Root 1 0 R/Size 9>>\nstartxref\n9\n%%%%EOF", catalog, text)
	}
	table := func(dict, data string, n int) string {
		return fmt.Sprintf("%s4 0 obj\n[]\nendobj\n5 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF", catalog, deflated("/Type/XRef/Root 1 0 R"+dict, data, n), len(catalog)+len("4 0 obj\n[]\nendobj\n"))
	}
	const svg = `<svg xmlns="http://www.w3.org/2000/svg">`
	uses := svg + `<path id="x0" d="M0 0h9v9z"/>`
	for i := range 12 {
		uses += fmt.Sprintf(`<g id="x%d">%s</g>`, i+1, strings.Repeat(fmt.Sprintf(`<use href="#x%d"/>`, i), 10))
	}
	return map[string]string{
		"pdf: open arrays":              object(strings.Repeat("[", 120)),
		"pdf: many open arrays":         object(strings.Repeat("[", 900_000)),
		"pdf: arrays in an array":       object("[" + strings.Repeat("[]", 450_000) + "]"),
		"pdf: open dictionaries":        object(strings.Repeat("<</A", 200_000)),
		"pdf: entries at one array":     table("/Size 900000/W[1 1 1]", "\x01\xd0\x00", 900_000),
		"pdf: an endless index":         table("/Size 1000000000/W[1 2 1]/Index[0 1000000000]", "\x00", 100),
		"pdf: many indexes":             table("/Size 900000/W[0 1 0]/Index["+strings.Repeat("0 300000 ", 300)+"]", "\x00", 9_000_000),
		"pdf: wide entries":             table("/Size 9/W[1000000000 1000000000 1]", "\x00", 100),
		"pdf: a predictor's columns":    object(deflated("/DecodeParms<</Predictor 12/Columns 1000000000/Colors 32/BitsPerComponent 16>>", "\x02", 1000)),
		"pdf: an object stream's count": object(deflated("/Type/ObjStm/N 1000000000/First 1000000000", "5 0 ", 1000)),
		"pdf: objects in one place":     object(deflated("/Type/ObjStm/N 300000/First 2400000", "5 0 ", 600_000)),
		"pdf: an array in a stream":     object(deflated("/Type/ObjStm/N 1/First 4", "5 0 "+strings.Repeat("[] ", 1000), 3000)),
		"pdf: many filters":             object("<</Filter[" + strings.Repeat("/FlateDecode", 70_000) + "]/Length 9>>\nstream\n123456789\nendstream"),
		"svg: deep groups":              svg + strings.Repeat("<g>", 300_000),
		"svg: one attribute":            svg + `<path d="` + strings.Repeat("M0 0h9", 160_000) + `"/></svg>`,
		"svg: one style":                svg + `<path style="` + strings.Repeat("fill:red;", 100_000) + `"/></svg>`,
		"svg: copies of copies":         uses + `<use href="#x12"/></svg>`,
		"dxf: an insert of inserts":     "0\nSECTION\n2\nENTITIES\n" + strings.Repeat("0\nINSERT\n2\nA\n70\n32000\n71\n32000\n", 20_000),
		"dxf: vertices":                 "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n90\n2000000000\n" + strings.Repeat("10\n1\n20\n2\n", 90_000),
		"dxf: a spline":                 "0\nSECTION\n2\nENTITIES\n0\nSPLINE\n71\n2000000000\n72\n2000000000\n73\n2000000000\n" + strings.Repeat("40\n1\n", 180_000),
	}
}

// deflated is a stream of n times data.
func deflated(dict, data string, n int) string {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	for range n {
		_, _ = z.Write([]byte(data)) // a buffer takes all
	}
	_ = z.Close()
	return fmt.Sprintf("<<%s/Filter/FlateDecode/Length %d>>\nstream\n%s\nendstream", dict, b.Len(), b.String())
}

// A process that reads a hostile file of at most 1 MB needs at most 256 MB in
// all, what the program itself takes included, and 2 s of processor time: the
// acceptance of the readers.
func TestHostileFilesInAProcessOfTheirOwn(t *testing.T) {
	cost.Unwatched(t)
	const mostMemory, mostTime = 256 << 10, 2 * time.Second // kB
	path := filepath.Join(t.TempDir(), "drawing")
	for name, text := range greedy() {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		alone := exec.Command(os.Args[0])
		alone.Env = append(os.Environ(), fileToRead+"="+path)
		out, err := alone.Output()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var kB int
		if _, err := fmt.Sscan(string(out), &kB); err != nil {
			t.Fatal(err)
		}
		used := alone.ProcessState.SysUsage().(*syscall.Rusage)
		took := time.Duration(used.Utime.Nano() + used.Stime.Nano())
		t.Logf("%-32s %4d kB, %5d ms, %4d MB", name, len(text)>>10, took.Milliseconds(), kB>>10)
		if kB > mostMemory || took > mostTime {
			t.Errorf("%s: took %v and %d MB", name, took, kB>>10)
		}
	}
}
