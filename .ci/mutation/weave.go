package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// weaver puts places into one file: a function gets a copy for each of its
// places and asks at its beginning whether one of them is to run in its stead;
// a variable of the package chooses between two values.
type weaver struct {
	file    *ast.File
	fset    *token.FileSet
	text    []byte
	edits   []edit
	appends bytes.Buffer
	copies  []int // places in the order of their copies
	values  []int // places in variables
}

// edit puts text in the place of the bytes from start to end.
type edit struct {
	start, end int
	text       string
}

// weave weaves the places of one file. What lies outside functions and variables
// is left out, as constants are: they stay unwoven and are built one by one.
func weave(path string, places []*place) (*woven, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	w := &weaver{fset: token.NewFileSet(), text: text}
	if w.file, err = parser.ParseFile(w.fset, path, text, parser.ParseComments|parser.SkipObjectResolution); err != nil {
		return nil, err
	}
	for _, decl := range w.file.Decls {
		inside := within(places, w.at(decl.Pos()), w.at(decl.End()))
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if len(inside) > 0 {
				w.function(d, inside)
			}
		case *ast.GenDecl:
			if d.Tok == token.VAR {
				w.variables(d, inside)
			}
		}
	}
	return w.done(), nil
}

func (w *weaver) at(p token.Pos) int { return w.fset.Position(p).Offset }

func within(places []*place, start, end int) (inside []*place) {
	for _, p := range places {
		if start <= p.start && p.end <= end {
			inside = append(inside, p)
		}
	}
	return inside
}

// function appends a copy of a function for each place, and lets the function
// choose.
func (w *weaver) function(d *ast.FuncDecl, places []*place) {
	if d.Body == nil {
		return
	}
	call := w.call(d)
	choice := fmt.Sprintf("switch spoiled__ { case -1: reach__(%d);", places[0].id)
	for _, p := range places {
		p.woven, p.reach = true, places[0].id
		name := fmt.Sprintf("%s__%d", d.Name.Name, p.id)
		if d.Type.Results == nil {
			choice += fmt.Sprintf("case %d: %s; return;", p.id, fmt.Sprintf(call, name))
		} else {
			choice += fmt.Sprintf("case %d: return %s;", p.id, fmt.Sprintf(call, name))
		}
		w.copies = append(w.copies, p.id)
		fmt.Fprintf(&w.appends, "\x00%s%s%s%s%s\n", w.text[w.at(d.Type.Func):w.at(d.Name.Pos())], name,
			w.text[w.at(d.Name.End()):p.start], p.text, w.text[p.end:w.at(d.End())])
	}
	open := w.at(d.Body.Lbrace) + 1
	w.edits = append(w.edits, edit{open, open, choice + "};"})
}

// call is how a function calls a copy of itself by the name %s; parameters
// without a name get one.
func (w *weaver) call(d *ast.FuncDecl) string {
	name := "%s"
	if d.Recv != nil {
		name = w.named(d.Recv, "receiver__")[0] + ".%s"
	}
	if types := d.Type.TypeParams; types != nil {
		name += "[" + strings.Join(w.named(types, ""), ",") + "]"
	}
	args := w.named(d.Type.Params, "arg__")
	if n := len(d.Type.Params.List); n > 0 {
		if _, rest := d.Type.Params.List[n-1].Type.(*ast.Ellipsis); rest {
			args[len(args)-1] += "..."
		}
	}
	return name + "(" + strings.Join(args, ",") + ")"
}

// named returns the names in a list of fields and gives those a name that lack
// one.
func (w *weaver) named(list *ast.FieldList, prefix string) (names []string) {
	fresh := func() string { return fmt.Sprintf("%s%d", prefix, len(names)) }
	for _, field := range list.List {
		if len(field.Names) == 0 {
			start := w.at(field.Type.Pos())
			w.edits = append(w.edits, edit{start, start, fresh() + " "})
			names = append(names, fresh())
		}
		for _, name := range field.Names {
			called := name.Name
			if called == "_" {
				called = fresh()
				w.edits = append(w.edits, edit{w.at(name.Pos()), w.at(name.End()), called})
			}
			names = append(names, called)
		}
	}
	return names
}

// variables lets the values of a package's variables be chosen.
func (w *weaver) variables(d *ast.GenDecl, places []*place) {
	for _, spec := range d.Specs {
		for _, value := range spec.(*ast.ValueSpec).Values {
			start, end := w.at(value.Pos()), w.at(value.End())
			text := string(w.text[start:end])
			inside := within(places, start, end)
			for _, p := range inside {
				p.woven = true
				w.values = append(w.values, p.id)
				text = fmt.Sprintf("either__(%d, %s%s%s, %s)", p.id, w.text[start:p.start], p.text, w.text[p.end:end], text)
			}
			if len(inside) > 0 {
				w.edits = append(w.edits, edit{start, end, text})
			}
		}
	}
}

// done puts the file together and finds the lines of its copies.
func (w *weaver) done() *woven {
	slices.SortStableFunc(w.edits, func(a, b edit) int { return a.start - b.start })
	var out bytes.Buffer
	at := 0
	for _, e := range w.edits {
		out.Write(w.text[at:e.start])
		out.WriteString(e.text)
		at = e.end
	}
	out.Write(w.text[at:])
	out.WriteString("\n")
	result := &woven{begins: map[int]int{}, variables: w.values}
	line := bytes.Count(out.Bytes(), []byte("\n")) + 1
	for i, text := range bytes.Split(w.appends.Bytes(), []byte{0})[1:] {
		result.begins[line] = w.copies[i]
		line += bytes.Count(text, []byte("\n"))
	}
	out.Write(bytes.ReplaceAll(w.appends.Bytes(), []byte{0}, nil))
	result.text = out.Bytes()
	return result
}

// spoil is a file with one place spoiled.
func spoil(p *place) ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(p.pkg.Dir, p.file))
	if err != nil {
		return nil, err
	}
	return bytes.Join([][]byte{text[:p.start], text[p.end:]}, []byte(p.text)), nil
}
