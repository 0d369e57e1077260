//go:build unix && !linux

package localpg

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// processesOn lists the first process of the server on a data folder, from
// the mark it keeps there, where that process still is a postgres.
func processesOn(data string) ([]process, error) {
	mark, err := os.ReadFile(filepath.Join(data, "postmaster.pid"))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	first, _, _ := strings.Cut(string(mark), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return nil, nil // half written
	}
	line, err := exec.Command("ps", "-o", "command=", "-p", strconv.Itoa(pid)).Output()
	if err != nil || !strings.Contains(string(line), data) {
		return nil, nil
	}
	return []process{{pid: pid, first: true}}, nil
}
