package read_test

import (
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
