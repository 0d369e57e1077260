package localpg

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
)

// processesOn lists the server processes on a data folder, found by their
// command lines: those are open to everybody, other than their folders. The
// first process names the data folder there, its children show the server's
// name. A dead process that nobody has collected has none and is left out.
func processesOn(data string) ([]process, error) {
	lines, err := filepath.Glob("/proc/[0-9]*/cmdline")
	if err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	var found []process
	for _, path := range lines {
		line, err := os.ReadFile(path)
		if err != nil {
			continue // it ended meanwhile
		}
		first := isFirst(line, data)
		if !first && !bytes.HasPrefix(line, []byte("postgres: "+clusterName(data)+":")) {
			continue
		}
		pid, err := strconv.Atoi(filepath.Base(filepath.Dir(path)))
		if err != nil {
			return nil, fmt.Errorf("localpg: %w", err)
		}
		found = append(found, process{pid: pid, first: first})
	}
	return found, nil
}

func isFirst(line []byte, data string) bool {
	args := bytes.Split(line, []byte{0})
	return filepath.Base(string(args[0])) == "postgres" && len(args) > 2 &&
		string(args[1]) == "-D" && string(args[2]) == data
}
