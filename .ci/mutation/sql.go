package main

import (
	"go/ast"
	"go/token"
	"regexp"
	"strings"
)

// statement is how SQL begins, whole or a part that is put into others.
var statement = regexp.MustCompile("^[`\"]\\s*(select|insert into|update|delete from|with|where|and|order by|exists|not exists)\\s")

// sqlWord is what can be spoiled in SQL, or says what an = after it is.
var sqlWord = regexp.MustCompile(`'[^']*'|--[^\n]*|not exists|exists|is not null|is null|order by|for (?:no key )?update(?: skip locked)?|` +
	`limit \$?\w+|left join|\b(?:where|on|and|or|when|having|filter|set|values|select|between|desc|distinct|true|false|not in|in|not)\b|[-<>=!@|#?&]+`)

// inSQL are words of SQL and what stands for them when they are spoiled. A
// comparison is turned round, as most are of times, of which nobody sees whether
// the bound is taken in.
var inSQL = map[string]string{
	"not exists": "exists", "exists": "not exists", "is null": "is not null", "is not null": "is null",
	"and": "or", "or": "and", "desc": "asc", "distinct": "", "true": "false", "false": "true",
	"not in": "in", "not": "", "left join": "join",
	"<": ">=", ">": "<=", "<=": ">", ">=": "<", "<>": "=", "=": "<>",
}

// query gathers the places of a statement in SQL.
func (f *finder) query(n *ast.BasicLit) {
	if f.pkg.room() != "db" || !statement.MatchString(n.Value) { // no other package holds any
		return
	}
	clause := ""
	for _, m := range sqlWord.FindAllStringIndex(n.Value, -1) {
		word := n.Value[m[0]:m[1]]
		from, to := n.Pos()+token.Pos(m[0]), n.Pos()+token.Pos(m[1])
		switch {
		case strings.HasPrefix(word, "limit "):
			f.change(from, to, word+" + 1")
		case strings.HasPrefix(word, "for "):
			f.change(from, to, "")
		case word == "=" && (clause == "set" || clause == "select" || clause == "values"):
			// it gives a column its value
		case word == "and" && clause == "between":
		default:
			if now, ok := inSQL[word]; ok {
				f.change(from, to, now)
			}
		}
		switch word {
		case "where", "on", "and", "or", "when", "having", "filter", "set", "values", "select", "between":
			clause = word
		}
	}
}
