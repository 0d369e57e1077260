package planar_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/planar"
	"knifedesk/geometry/planar/internal/sets"
)

// BenchmarkArrange makes maps of the generated sets at 10³ to 10⁶ segments.
func BenchmarkArrange(b *testing.B) {
	for _, kind := range sets.Kinds {
		for n := 1000; n <= 1_000_000; n *= 10 {
			b.Run(fmt.Sprintf("%s/%d", kind, n), func(b *testing.B) {
				lines := setLines(sets.Generate(kind, n, 7))
				b.ReportAllocs()
				runtime.GC()
				before := processorSeconds()
				b.ResetTimer()
				for b.Loop() {
					if _, err := planar.Arrange(nil, lines); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric((processorSeconds()-before)*1e9/float64(b.N)/float64(n), "cpu-ns/segment")
			})
		}
	}
}

// BenchmarkGrowth reports the exponent with which processor time grows with
// the number of segments: the slope of the best line through the logarithms,
// from 10³ to 10⁶, each the least of three runs.
func BenchmarkGrowth(b *testing.B) {
	for _, kind := range sets.Kinds {
		b.Run(kind, func(b *testing.B) {
			for b.Loop() {
				var x, y, xx, xy, count float64
				for n := 1000; n <= 1_000_000; n *= 10 {
					lines := setLines(sets.Generate(kind, n, 7))
					least := math.Inf(1)
					for range 3 {
						runtime.GC()
						before := processorSeconds()
						if _, err := planar.Arrange(nil, lines); err != nil {
							b.Fatal(err)
						}
						least = min(least, processorSeconds()-before)
					}
					u, v := math.Log(float64(n)), math.Log(least)
					x, y, xx, xy, count = x+u, y+v, xx+u*u, xy+u*v, count+1
				}
				b.ReportMetric((count*xy-x*y)/(count*xx-x*x), "exponent")
			}
		})
	}
}

// BenchmarkBesideGEOS runs GEOS and Arrange on the same sets, each in a
// process of its own, one after the other, and reports processor time and
// peak memory of both. GEOS is reached by peers/bench_polygonize.py with the
// system's Python, which .ci/install gives shapely and numpy:
//
//	go test -run '^$' -bench BesideGEOS/shapes -benchtime 1x -timeout 0
func BenchmarkBesideGEOS(b *testing.B) {
	for _, kind := range sets.Kinds {
		for n := 1000; n <= 1_000_000; n *= 10 {
			b.Run(fmt.Sprintf("%s/%d", kind, n), func(b *testing.B) {
				script := reference.Path(b, "peers", "bench_polygonize.py")
				python := reference.Python(b, "shapely")
				for b.Loop() {
					var peer struct {
						Node       float64 `json:"node_cpu_s"`
						Polygonize float64 `json:"polygonize_cpu_s"`
						MB         float64 `json:"peak_rss_mb"`
					}
					runJSON(b, exec.Command(python, script, kind, fmt.Sprint(n), "7", "1"), &peer)
					var own cost
					child := exec.Command(os.Args[0])
					child.Env = append(os.Environ(), costOf+"="+fmt.Sprint(kind, " ", n))
					runJSON(b, child, &own)
					theirs := peer.Node + peer.Polygonize
					b.ReportMetric(own.Seconds, "cpu-s")
					b.ReportMetric(theirs, "geos-cpu-s")
					b.ReportMetric(theirs/own.Seconds, "times-faster")
					b.ReportMetric(own.MB, "peak-MB")
					b.ReportMetric(peer.MB, "geos-peak-MB")
					holdRatios(b, n, theirs/own.Seconds, peer.MB/own.MB)
				}
			})
		}
	}
}

// holdRatios fails where a set takes more than a tenth of the time of GEOS or
// half its memory. Sets of less than 10,000 segments are over before either can
// be measured.
func holdRatios(b *testing.B, n int, time, memory float64) {
	b.Helper()
	const times, share = 10, 2
	if n >= 10_000 && (time < times || memory < share) {
		b.Errorf("GEOS takes %.1f times the time and %.1f times the memory, wanted %d and %d", time, memory, times, share)
	}
}

// costOf is the environment variable that has the test binary arrange one set
// and print the cost.
const costOf = "KNIFEDESK_COST_OF"

type cost struct {
	Seconds float64 `json:"cpu_s"` // of the processor, least of the runs
	MB      float64 `json:"peak_rss_mb"`
}

func TestMain(m *testing.M) {
	if set := os.Getenv(costOf); set != "" {
		printCost(set)
		return
	}
	os.Exit(m.Run())
}

func printCost(set string) {
	var kind string
	var n int
	if _, err := fmt.Sscan(set, &kind, &n); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	lines := setLines(sets.Generate(kind, n, 7))
	runtime.GC()
	before := processorSeconds()
	m, err := planar.Arrange(nil, lines)
	c := cost{Seconds: processorSeconds() - before, MB: peakMB()}
	if err != nil || m.Euler() != nil {
		fmt.Fprintln(os.Stderr, err, m.Euler())
		os.Exit(2)
	}
	_ = json.NewEncoder(os.Stdout).Encode(c)
}

func runJSON(b *testing.B, command *exec.Cmd, into any) {
	command.Stderr = os.Stderr
	out, err := command.Output()
	if err == nil {
		err = json.Unmarshal(out, into)
	}
	if err != nil {
		b.Fatalf("%v: %v", command.Args, err)
	}
}

// processorSeconds returns the processor time of this process, of all threads.
func processorSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return math.NaN()
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// peakMB returns the largest resident memory so far. It reads the kernel's
// high-water mark: the figure of getrusage starts from the parent's size.
func peakMB() float64 {
	text, _ := os.ReadFile("/proc/self/status")
	for line := range strings.Lines(string(text)) {
		var kb float64
		if _, err := fmt.Sscanf(line, "VmHWM: %f kB", &kb); err == nil {
			return kb / 1024
		}
	}
	return math.NaN()
}
