//go:build ignore

// Count measures the code of this module: of each package its files, functions,
// methods and documented names. Tests and generated files are left out. Lines
// are those of the text, blank ones and comments included; a function's lines
// run from its first to its closing brace; a branch is an if, a loop, a case
// (not the default), and each && and ||.
package main

import (
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"
)

// The limits that -check holds.
const (
	medianFile     = 101 // lines, of all files
	medianFunction = 10  // lines, of all functions
	p90Function    = 24  // lines, nine functions in ten have no more
	documented     = 98  // percent of the exported names
	mostMethods    = 25  // of a type
	mostLines      = 60  // of a function
	mostBranches   = 20  // of a function
	mostShare      = 9.0 // percent of the code in one package
)

func main() {
	check := flag.Bool("check", false, "fail where a limit is passed")
	flag.Parse()
	rooms, err := read(".")
	if err != nil {
		fmt.Fprintln(os.Stderr, "count:", err)
		os.Exit(1)
	}
	all := &room{name: "all", methods: map[string]int{}, declared: map[string]token.Position{}}
	for _, r := range rooms {
		all.add(r)
	}
	table(rooms, all)
	past := append(all.past(), shares(rooms, all)...)
	for _, line := range past {
		fmt.Println(line)
	}
	if *check && len(past) > 0 {
		os.Exit(1)
	}
}

// function is one function or method.
type function struct {
	name            string
	at              token.Position
	lines, branches int
}

// file is one file of code.
type file struct {
	path  string
	lines int
}

// room is what was counted in one package.
type room struct {
	name      string
	files     []file
	functions []function
	methods   map[string]int            // by package and type
	declared  map[string]token.Position // types, likewise
	exported  int
	bare      []token.Position // exported names without a comment
}

func (r *room) add(q *room) {
	r.files = append(r.files, q.files...)
	r.functions = append(r.functions, q.functions...)
	for name, n := range q.methods {
		r.methods[name] = n
	}
	for name, at := range q.declared {
		r.declared[name] = at
	}
	r.exported += q.exported
	r.bare = append(r.bare, q.bare...)
}

// read counts every package under a folder, in the order of their names.
func read(folder string) ([]*room, error) {
	rooms := map[string]*room{}
	fset := token.NewFileSet()
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != folder && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		parsed, err := parser.ParseFile(fset, path, nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil || ast.IsGenerated(parsed) {
			return err
		}
		name := filepath.ToSlash(filepath.Dir(path))
		if rooms[name] == nil {
			rooms[name] = &room{name: name, methods: map[string]int{}, declared: map[string]token.Position{}}
		}
		rooms[name].count(fset, path, parsed)
		return nil
	})
	var sorted []*room
	for _, r := range rooms {
		sorted = append(sorted, r)
	}
	slices.SortFunc(sorted, func(a, b *room) int { return strings.Compare(a.name, b.name) })
	return sorted, err
}

// count adds one file.
func (r *room) count(fset *token.FileSet, path string, f *ast.File) {
	r.files = append(r.files, file{path, fset.File(f.Pos()).LineCount()})
	for _, decl := range f.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			r.function(fset, d)
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				r.spec(fset, d, spec)
			}
		}
	}
}

func (r *room) function(fset *token.FileSet, d *ast.FuncDecl) {
	fn := function{name: d.Name.Name, at: fset.Position(d.Pos())}
	fn.lines = fset.Position(d.End()).Line - fn.at.Line + 1
	if d.Body != nil {
		fn.branches = branches(d.Body)
	}
	on := receiver(d)
	if on != "" {
		fn.name = on + "." + fn.name
		r.methods[r.name+"."+on]++
	}
	r.functions = append(r.functions, fn)
	if d.Name.IsExported() && (on == "" || ast.IsExported(on)) {
		r.tally(fn.at, d.Doc != nil)
	}
}

// spec adds the names of a type, constant or variable. A comment on a group
// stands for its members where each has none.
func (r *room) spec(fset *token.FileSet, d *ast.GenDecl, spec ast.Spec) {
	switch s := spec.(type) {
	case *ast.TypeSpec:
		r.declared[r.name+"."+s.Name.Name] = fset.Position(s.Pos())
		if s.Name.IsExported() {
			r.tally(fset.Position(s.Pos()), s.Doc != nil || d.Doc != nil || s.Comment != nil)
		}
	case *ast.ValueSpec:
		for _, name := range s.Names {
			if name.IsExported() {
				r.tally(fset.Position(name.Pos()), s.Doc != nil || d.Doc != nil || s.Comment != nil)
			}
		}
	}
}

// tally adds one exported name.
func (r *room) tally(at token.Position, documented bool) {
	r.exported++
	if !documented {
		r.bare = append(r.bare, at)
	}
}

// receiver returns the type that a method is on, "" for a function.
func receiver(d *ast.FuncDecl) string {
	if d.Recv == nil {
		return ""
	}
	t := d.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.Name
		default:
			return ""
		}
	}
}

func branches(body ast.Node) int {
	n := 0
	ast.Inspect(body, func(node ast.Node) bool {
		switch x := node.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			n++
		case *ast.CaseClause:
			if x.List != nil {
				n++
			}
		case *ast.CommClause:
			if x.Comm != nil {
				n++
			}
		case *ast.BinaryExpr:
			if x.Op == token.LAND || x.Op == token.LOR {
				n++
			}
		}
		return true
	})
	return n
}

func (r *room) lines() int {
	n := 0
	for _, f := range r.files {
		n += f.lines
	}
	return n
}

func (r *room) fileLines() []int {
	return sorted(r.files, func(f file) int { return f.lines })
}

func (r *room) functionLines() []int {
	return sorted(r.functions, func(f function) int { return f.lines })
}

// share returns the documented part of the exported names in percent.
func (r *room) share() float64 {
	if r.exported == 0 {
		return 100
	}
	return 100 * float64(r.exported-len(r.bare)) / float64(r.exported)
}

func sorted[T any](all []T, of func(T) int) []int {
	out := make([]int, len(all))
	for i, v := range all {
		out[i] = of(v)
	}
	slices.Sort(out)
	return out
}

// at returns the value below which the given share of a sorted list lies.
func at(values []int, share float64) int {
	if len(values) == 0 {
		return 0
	}
	return values[min(int(share*float64(len(values))), len(values)-1)]
}

func table(rooms []*room, all *room) {
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "package\tlines\tshare\tfiles\tmedian\tlongest\tfunctions\tmedian\tp90\tlongest\tbranches\tmethods\texported\twith docs\t")
	for _, r := range append(slices.Clone(rooms), all) {
		files, functions := r.fileLines(), r.functionLines()
		forks, methods := 0, 0
		for _, f := range r.functions {
			forks = max(forks, f.branches)
		}
		for _, n := range r.methods {
			methods = max(methods, n)
		}
		fmt.Fprintf(w, "%s\t%d\t%.1f %%\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%.0f %%\t\n",
			r.name, r.lines(), 100*float64(r.lines())/float64(all.lines()),
			len(files), at(files, 0.5), at(files, 1), len(functions), at(functions, 0.5), at(functions, 0.9), at(functions, 1),
			forks, methods, r.exported, r.share())
	}
	w.Flush()
}

// past lists what passes a limit.
func (r *room) past() []string {
	var lines []string
	note := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if m := at(r.fileLines(), 0.5); m > medianFile {
		note("all: the median file has %d lines, at most %d are allowed", m, medianFile)
	}
	if m := at(r.functionLines(), 0.5); m > medianFunction {
		note("all: the median function has %d lines, at most %d are allowed", m, medianFunction)
	}
	if m := at(r.functionLines(), 0.9); m > p90Function {
		note("all: one function in ten has more than %d lines, at most %d are allowed", m, p90Function)
	}
	if s := r.share(); s < documented {
		note("all: %.1f %% of the exported names have a comment, at least %d are wanted", s, documented)
		for _, at := range r.bare {
			note("%s:%d: no comment", at.Filename, at.Line)
		}
	}
	for _, f := range r.functions {
		if f.lines > mostLines {
			note("%s:%d: %s has %d lines, at most %d are allowed", f.at.Filename, f.at.Line, f.name, f.lines, mostLines)
		}
		if f.branches > mostBranches {
			note("%s:%d: %s has %d branches, at most %d are allowed", f.at.Filename, f.at.Line, f.name, f.branches, mostBranches)
		}
	}
	return append(lines, r.crowded()...)
}

// crowded lists the types with too many methods.
func (r *room) crowded() []string {
	var lines []string
	for name, n := range r.methods {
		if n > mostMethods {
			at := r.declared[name]
			lines = append(lines, fmt.Sprintf("%s:%d: %s has %d methods, at most %d are allowed", at.Filename, at.Line, name, n, mostMethods))
		}
	}
	slices.Sort(lines)
	return lines
}

// shares lists the packages that hold too much of the code.
func shares(rooms []*room, all *room) []string {
	var lines []string
	for _, r := range rooms {
		if s := 100 * float64(r.lines()) / float64(all.lines()); s > mostShare {
			lines = append(lines, fmt.Sprintf("%s: %.1f %% of the code, at most %g %% are allowed", r.name, s, mostShare))
		}
	}
	return lines
}
