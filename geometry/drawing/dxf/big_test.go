package dxf_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"
	"testing"
	"time"

	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/reference"
)

// repeated is a reader of a head, many times a body, and a tail.
type repeated struct {
	head, body, tail []byte
	times            int
}

func (r *repeated) Read(p []byte) (int, error) {
	switch {
	case len(r.head) > 0:
		n := copy(p, r.head)
		r.head = r.head[n:]
		return n, nil
	case r.times > 0:
		r.times--
		r.head = r.body
	case len(r.tail) > 0:
		r.head, r.tail = r.tail, nil
	default:
		return 0, io.EOF
	}
	return r.Read(p)
}

// allocated returns the bytes that f allocates.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// big makes the file of reference/peers/SPEEDS.md with n entities.
func big(t testing.TB, n int) string {
	t.Helper()
	f, err := os.Create(filepath.Join(t.TempDir(), "big.dxf"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	generate(f, n)
	return f.Name()
}

// TestGenerated checks the generated file by its sum, which is that of the
// file from reference/peers/gen_big_dxf.py, and the lengths read from it by
// those it was made with.
func TestGenerated(t *testing.T) {
	var b bytes.Buffer
	lines, arcs := generate(&b, 2000)
	const want = "3d060b02595cae55b6190b3ec910db6dc005f289c93f589ab64ed56d9c2922e9"
	if sum := sha256.Sum256(b.Bytes()); hex.EncodeToString(sum[:]) != want {
		t.Errorf("sum %x, want %s", sum, want)
	}
	d, err := dxf.Read(t.Context(), &b, dxf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sums := map[string]float64{}
	for _, s := range d.Shapes {
		sums[s.Source.Kind] += s.Paths[0].Length()
	}
	if len(d.Shapes) != 2000 || !near(sums["LINE"], lines, 1e-3) || !near(sums["ARC"], arcs, 1e-3) {
		t.Errorf("%d shapes, lines %v, arcs %v; want %v, %v", len(d.Shapes), sums["LINE"], sums["ARC"], lines, arcs)
	}
}

func BenchmarkRead(b *testing.B) {
	for _, n := range []int{10, 1000, 10000} {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			var data bytes.Buffer
			generate(&data, n)
			b.SetBytes(int64(data.Len()))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := dxf.Read(b.Context(), bytes.NewReader(data.Bytes()), dxf.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestBigFileAgainstPeer reads the 59 MB file in at most a fifth of the CPU
// time that ogrinfo takes to list its layers, in at most 1 GB. It takes half a
// minute, so it runs only with KNIFEDESK_PEERS set.
func TestBigFileAgainstPeer(t *testing.T) {
	if os.Getenv("KNIFEDESK_PEERS") == "" {
		reference.Skip(t, "set KNIFEDESK_PEERS to compare with ogrinfo")
	}
	if path := os.Getenv("DXF_BIG"); path != "" {
		readBig(t, path)
		return
	}
	path := big(t, 200000)
	ours, memory := measure(t, func(cmd *exec.Cmd) {
		cmd.Env = append(os.Environ(), "DXF_BIG="+path)
	}, os.Args[0], "-test.run=^TestBigFileAgainstPeer$")
	peer, _ := measure(t, func(*exec.Cmd) {}, reference.Tool(t, "ogrinfo"), "-so", "-al", path)
	t.Logf("%v and %d MB against %v of ogrinfo: %.2f of it", ours, memory>>20, peer, ours.Seconds()/peer.Seconds())
	if 5*ours > peer || memory > 1<<30 {
		t.Errorf("%v, wanted a fifth of %v; %d MB", ours, peer, memory>>20)
	}
}

func readBig(t *testing.T, path string) {
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := dxf.Read(t.Context(), f, dxf.Options{})
	if err != nil || len(d.Shapes) != 200000 || len(d.Notes) != 0 {
		t.Fatalf("%v, %d shapes, %v", err, len(d.Shapes), d.Notes)
	}
}

// measure runs a program three times and returns the least CPU time and the
// most memory.
func measure(t *testing.T, prepare func(*exec.Cmd), program string, args ...string) (time.Duration, int64) {
	t.Helper()
	least, most := time.Hour, int64(0)
	for range 3 {
		cmd := exec.Command(program, args...)
		prepare(cmd)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", program, err, out)
		}
		least = min(least, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime())
		most = max(most, cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss<<10)
	}
	return least, most
}
