package localpg

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Programs is one installation of PostgreSQL.
type Programs struct {
	Dir   string // holds initdb and postgres
	Major int    // major version
}

// oldest is the oldest major version that is used.
const oldest = 14

// variable names the folder of the programs.
const variable = "KNIFEDESK_PG_BIN"

// search says where programs are looked for.
type search struct {
	bin     string   // the only folder, where it is set
	path    []string // folders of PATH
	folders []string // patterns of the usual folders
}

func searchFrom(bin string) search {
	return search{
		bin:  cmp.Or(bin, os.Getenv(variable)),
		path: filepath.SplitList(os.Getenv("PATH")),
		folders: []string{
			"/usr/lib/postgresql/*/bin",
			"/usr/lib/postgresql*/bin",
			"/usr/libexec/postgresql*",
			"/usr/pgsql-*/bin",
			"/usr/local/pgsql*/bin",
			"/usr/local/opt/postgresql*/bin",
			"/opt/homebrew/opt/postgresql*/bin",
		},
	}
}

// find lists the installations, the newest first.
func find(s search) ([]Programs, error) {
	var found []Programs
	var rejected []error
	for _, dir := range s.candidates() {
		p, err := inspect(dir)
		switch {
		case err != nil:
			rejected = append(rejected, err)
		case !slices.ContainsFunc(found, func(q Programs) bool { return q.Dir == p.Dir }):
			found = append(found, p)
		}
	}
	if len(found) == 0 {
		return nil, s.missing(rejected)
	}
	slices.SortStableFunc(found, func(a, b Programs) int { return cmp.Compare(b.Major, a.Major) })
	return found, nil
}

func (s search) missing(rejected []error) error {
	if s.bin != "" {
		return fmt.Errorf("localpg: %w in %s, the folder that %s names: %w",
			ErrNoPrograms, s.bin, variable, errors.Join(rejected...))
	}
	err := fmt.Errorf("localpg: %w. Install them (Debian, Ubuntu: apt-get install postgresql), "+
		"or set %s to the folder that holds initdb and postgres, version %d or later, "+
		"or set DATABASE_URL to a server that runs already", ErrNoPrograms, variable, oldest)
	return errors.Join(append([]error{err}, rejected...)...)
}

// candidates lists the folders that hold something named postgres. A program
// in PATH may be a link to the real one, or a script in front of it; for the
// latter pg_config knows the folder.
func (s search) candidates() []string {
	if s.bin != "" {
		return []string{s.bin}
	}
	var dirs []string
	for _, dir := range s.path {
		if real, err := filepath.EvalSymlinks(filepath.Join(dir, "postgres")); err == nil && !isScript(real) {
			dirs = append(dirs, filepath.Dir(real))
		}
		if out, err := exec.Command(filepath.Join(dir, "pg_config"), "--bindir").Output(); err == nil {
			dirs = append(dirs, strings.TrimSpace(string(out)))
		}
	}
	for _, pattern := range s.folders {
		match, err := filepath.Glob(pattern)
		if err != nil {
			continue // a malformed pattern matches nothing
		}
		dirs = append(dirs, match...)
	}
	return slices.DeleteFunc(dirs, func(dir string) bool {
		_, err := os.Stat(filepath.Join(dir, "postgres"))
		return err != nil
	})
}

var versionText = regexp.MustCompile(`\(PostgreSQL\) (\d+)`)

// inspect checks that dir holds both programs, and asks for their version.
func inspect(dir string) (Programs, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return Programs{}, err
	}
	for _, name := range []string{"initdb", "postgres"} {
		if _, err := exec.LookPath(filepath.Join(dir, name)); err != nil {
			return Programs{}, err
		}
	}
	out, err := exec.Command(filepath.Join(dir, "postgres"), "--version").Output()
	if err != nil {
		return Programs{}, fmt.Errorf("%s/postgres --version: %w", dir, err)
	}
	m := versionText.FindSubmatch(out)
	if m == nil {
		return Programs{}, fmt.Errorf("%s/postgres does not say its version: %q", dir, bytes.TrimSpace(out))
	}
	major, err := strconv.Atoi(string(m[1]))
	if err != nil || major < oldest {
		return Programs{}, fmt.Errorf("%s holds PostgreSQL %s; %d or later is needed", dir, m[1], oldest)
	}
	return Programs{Dir: dir, Major: major}, nil
}

func isScript(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 2)
	_, err = io.ReadFull(f, head)
	return err == nil && string(head) == "#!"
}

// choose picks the installation for a data folder: the one of the folder's
// own version, or the newest for a folder that is still to be made.
func choose(installed []Programs, data string) (Programs, error) {
	text, err := os.ReadFile(filepath.Join(data, "PG_VERSION"))
	if errors.Is(err, os.ErrNotExist) {
		return installed[0], nil
	}
	if err != nil {
		return Programs{}, fmt.Errorf("localpg: %w", err)
	}
	has := strings.TrimSpace(string(text))
	var majors []string
	for _, p := range installed {
		if strconv.Itoa(p.Major) == has {
			return p, nil
		}
		majors = append(majors, strconv.Itoa(p.Major))
	}
	return Programs{}, fmt.Errorf("localpg: %w: %s was made by PostgreSQL %s, installed is %s. "+
		"Install PostgreSQL %s, or move the folder away to start afresh",
		ErrVersion, data, has, strings.Join(majors, ", "), has)
}
