package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// placesOf lists the places of one file. Left out are generated files and what
// no test of results can see:
//
//   - steps of a budget and what they are counted by, and logging;
//   - texts, and so errors' words, but not those that are SQL;
//   - capacities in make, and calls of Grow;
//   - numbers up to 1e-6, which are tolerances far below any length;
//   - how large the number is of which math.Inf takes the sign;
//   - the parts of a colour, which nobody sees change by one of 255;
//   - whether a comparison of other than whole numbers takes in its bound;
//   - branches that only panic, as they are never reached.
func placesOf(p *pkg, file string) ([]*place, error) {
	path := filepath.Join(p.Dir, file)
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	fset := token.NewFileSet()
	parsed, err := parser.ParseFile(fset, path, text, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil || ast.IsGenerated(parsed) {
		return nil, err
	}
	f := &finder{pkg: p, fset: fset, text: text, file: file}
	for _, decl := range parsed.Decls {
		f.declaration(decl)
	}
	return f.found, nil
}

type finder struct {
	pkg      *pkg
	fset     *token.FileSet
	text     []byte
	file     string
	function string // or variable, or constant, that is being visited
	found    []*place
}

// declaration gathers the places of a function, or of variables and constants.
func (f *finder) declaration(decl ast.Decl) {
	switch d := decl.(type) {
	case *ast.FuncDecl:
		f.function = d.Name.Name
		if d.Recv != nil {
			f.function = strings.TrimPrefix(f.of(d.Recv.List[0].Type), "*") + "." + f.function
		}
		ast.Inspect(d, f.visit)
	case *ast.GenDecl:
		for _, spec := range d.Specs {
			if v, ok := spec.(*ast.ValueSpec); ok {
				f.function = v.Names[0].Name
			}
			ast.Inspect(spec, f.visit)
		}
	}
}

func (f *finder) change(from, to token.Pos, text string) {
	start, end := f.fset.Position(from), f.fset.Position(to)
	f.found = append(f.found, &place{
		pkg: f.pkg, room: f.pkg.room(), file: f.file, function: f.function, line: start.Line,
		start: start.Offset, end: end.Offset, was: string(f.text[start.Offset:end.Offset]), text: text,
	})
}

func (f *finder) of(n ast.Node) string {
	return string(f.text[f.fset.Position(n.Pos()).Offset:f.fset.Position(n.End()).Offset])
}

// visit gathers the places of a node and reports whether to look inside it.
func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.KeyValueExpr:
		return !colourPart(n)
	case *ast.ImportSpec, *ast.Field:
		return false // what a type holds: tags, lengths of arrays
	case *ast.IfStmt:
		if panics(n.Body.List) {
			return false
		}
		f.negate(n.Cond)
	case *ast.CaseClause:
		return !panics(n.Body)
	case *ast.SwitchStmt:
		if n.Tag == nil {
			f.cases(n.Body.List)
		}
	case *ast.BinaryExpr:
		f.operator(n)
	case *ast.BasicLit:
		f.constant(n)
	case *ast.Ident:
		f.truth(n)
	case *ast.CallExpr:
		return !unseen(n)
	case *ast.ForStmt: // its counter: without it the loop never ends
		if n.Cond != nil {
			ast.Inspect(n.Cond, f.visit)
		}
		ast.Inspect(n.Body, f.visit)
		return false
	case *ast.BlockStmt:
		f.statements(n.List)
	}
	return true
}

func (f *finder) negate(cond ast.Expr) { f.change(cond.Pos(), cond.End(), "!("+f.of(cond)+")") }

// cases negates the conditions of a switch without a tag.
func (f *finder) cases(clauses []ast.Stmt) {
	for _, s := range clauses {
		if c, ok := s.(*ast.CaseClause); ok && len(c.List) == 1 && !panics(c.Body) {
			f.negate(c.List[0])
		}
	}
}

// swaps are the operators that stand for each other.
var swaps = map[token.Token]string{
	token.ADD: "-", token.SUB: "+", token.MUL: "/", token.QUO: "*",
	token.LAND: "||", token.LOR: "&&", token.EQL: "!=", token.NEQ: "==",
	token.SHL: ">>", token.SHR: "<<", token.AND: "|", token.OR: "&",
}

// bounds take a bound in or leave it out.
var bounds = map[token.Token]string{token.LSS: "<=", token.LEQ: "<", token.GTR: ">=", token.GEQ: ">"}

func (f *finder) operator(n *ast.BinaryExpr) {
	end := n.OpPos + token.Pos(len(n.Op.String()))
	if to, ok := swaps[n.Op]; ok && !isText(n.X) && !isText(n.Y) {
		f.change(n.OpPos, end, to)
	}
	if to, ok := bounds[n.Op]; ok && (whole(n.X) || whole(n.Y)) {
		f.change(n.OpPos, end, to)
	}
}

func isText(e ast.Expr) bool {
	lit, ok := e.(*ast.BasicLit)
	return ok && lit.Kind == token.STRING
}

// whole reports whether an expression is surely a whole number.
func whole(e ast.Expr) bool {
	if call, ok := e.(*ast.CallExpr); ok {
		name, ok := call.Fun.(*ast.Ident)
		return ok && name.Name == "len"
	}
	return false
}

func (f *finder) constant(n *ast.BasicLit) {
	switch n.Kind {
	case token.STRING:
		f.query(n)
	case token.INT:
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			f.change(n.Pos(), n.End(), strconv.FormatInt(v+1, 10))
		}
	case token.FLOAT:
		if v, err := strconv.ParseFloat(n.Value, 64); err == nil && v > 1e-6 {
			f.change(n.Pos(), n.End(), strconv.FormatFloat(2*v, 'g', -1, 64))
		}
	}
}

func (f *finder) truth(n *ast.Ident) {
	if to := map[string]string{"true": "false", "false": "true"}[n.Name]; to != "" {
		f.change(n.Pos(), n.End(), to)
	}
}

// statements takes out what changes something: calls, assignments and jumps.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.ExprStmt:
			if call, ok := s.X.(*ast.CallExpr); ok && !unseen(call) {
				f.change(s.Pos(), s.End(), "")
			}
		case *ast.AssignStmt:
			if s.Tok != token.DEFINE && !blank(s.Lhs) {
				f.change(s.Pos(), s.End(), "")
			}
		case *ast.IncDecStmt, *ast.BranchStmt:
			f.change(s.Pos(), s.End(), "")
		}
	}
}

func blank(list []ast.Expr) bool {
	name, ok := list[0].(*ast.Ident)
	return ok && name.Name == "_"
}

// unseen reports whether a call has no result that a test could see.
func unseen(call *ast.CallExpr) bool {
	switch fun := call.Fun.(type) {
	case *ast.Ident:
		return fun.Name == "make" || fun.Name == "panic"
	case *ast.SelectorExpr:
		switch fun.Sel.Name {
		case "Step", "Spend", "Allow", "Grow", "Inf":
			return true
		case "DebugContext", "InfoContext", "WarnContext", "ErrorContext", "Debug", "Info", "Warn":
			return true
		}
	}
	return false
}

// colourPart reports whether a field of a literal is the red, green or blue of
// a colour.
func colourPart(n *ast.KeyValueExpr) bool {
	name, ok := n.Key.(*ast.Ident)
	_, number := n.Value.(*ast.BasicLit)
	return ok && number && (name.Name == "R" || name.Name == "G" || name.Name == "B")
}

// panics reports whether statements do nothing but panic.
func panics(list []ast.Stmt) bool {
	if len(list) != 1 {
		return false
	}
	s, ok := list[0].(*ast.ExprStmt)
	if !ok {
		return false
	}
	call, ok := s.X.(*ast.CallExpr)
	if !ok {
		return false
	}
	name, ok := call.Fun.(*ast.Ident)
	return ok && name.Name == "panic"
}
