// Package erasures keeps a list of what was erased in a file outside the database,
// so that a database which is restored from an older copy does not bring it back.
// The list holds ids and salted sums, and no names.
//
// Under a heading each line is a time, what was erased and which, with spaces between:
//
//	# knifedesk: what was erased, to be erased again after a restore
//	2031-07-04T09:30:00.123456Z plan 5a1c0f2e-7d43-4c1f-9a52-0c6f5b9d1e77
package erasures

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"knifedesk/db"
)

// Journal is the list in a file. Its methods may be called from several goroutines,
// and several processes may have the same file.
type Journal struct {
	path string
	mu   sync.Mutex
	all  []db.Erasure
	has  map[string]bool // lines without their times
	torn bool            // the last line was cut short, by a crash
	bare bool            // there is no heading yet
	// Skipped is how many lines could not be read: such as were cut short.
	Skipped int
}

const heading = "# knifedesk: what was erased, to be erased again after a restore"

// Open reads the list; a file that is not there is an empty one, and is made with the
// first line.
func Open(path string) (*Journal, error) {
	j := &Journal{path: path, has: map[string]bool{}}
	text, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("erasures: %w", err)
	}
	lines := strings.Split(string(text), "\n")
	if j.bare = len(text) == 0; !j.bare && lines[0] != heading {
		return nil, fmt.Errorf("erasures: %s is no list of what was erased: it does not begin with %q", path, heading)
	}
	last := len(lines) - 1 // empty, unless the line was cut short
	j.torn = lines[last] != ""
	for _, line := range lines[min(1, last):] {
		if e, err := parse(line); err == nil {
			j.take(e)
		} else if line != "" {
			j.Skipped++
		}
	}
	return j, nil
}

func parse(line string) (e db.Erasure, err error) {
	parts := strings.Fields(line)
	if len(parts) != 3 {
		return e, errors.New("not a time, what was erased and which")
	}
	e.What, e.Which = parts[1], parts[2]
	e.Erased, err = time.Parse(time.RFC3339Nano, parts[0])
	return e, err
}

func (j *Journal) take(e db.Erasure) (fresh bool) {
	line := e.What + " " + e.Which
	if j.has[line] {
		return false
	}
	j.has[line] = true
	j.all = append(j.all, e)
	return true
}

// add writes what the list does not hold yet to the disk.
func (j *Journal) add(erased []db.Erasure) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	var b strings.Builder
	if j.bare {
		b.WriteString(heading + "\n")
	}
	if j.torn {
		b.WriteByte('\n')
	}
	before := len(j.all)
	for _, e := range erased {
		if j.take(e) {
			fmt.Fprintf(&b, "%s %s %s\n", e.Erased.UTC().Format(time.RFC3339Nano), e.What, e.Which)
		}
	}
	if len(j.all) == before {
		return nil
	}
	err := appendTo(j.path, b.String())
	if err != nil {
		for _, e := range j.all[before:] {
			delete(j.has, e.What+" "+e.Which)
		}
		j.all = j.all[:before]
		return fmt.Errorf("erasures: %w", err)
	}
	j.torn, j.bare = false, false
	return nil
}

func appendTo(path, text string) error {
	file, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = file.WriteString(text)
	return errors.Join(err, file.Sync(), file.Close())
}

// list returns what is on the list.
func (j *Journal) list() []db.Erasure {
	j.mu.Lock()
	defer j.mu.Unlock()
	return slices.Clone(j.all)
}

// newest is the time of the last erasure on the list.
func (j *Journal) newest() (last time.Time) {
	for _, e := range j.list() {
		if e.Erased.After(last) {
			last = e.Erased
		}
	}
	return last
}
