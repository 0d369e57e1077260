package access

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Scope is one thing that a key may do.
type Scope string

// The scopes. Submit sends drawings and asks for plans, answers, accepts and
// erases; Read looks at them; Manage does both for the things of all clients,
// and keeps the workshop's data, its stores and the keys.
const (
	Submit Scope = "submit"
	Read   Scope = "read"
	Manage Scope = "manage"
)

// Scopes are what a key may do.
type Scopes []Scope

// ReadScopes checks the names of scopes.
func ReadScopes(names []string) (Scopes, error) {
	if len(names) == 0 {
		return nil, fmt.Errorf("a key needs a scope: submit, read or manage")
	}
	var all Scopes
	for _, name := range names {
		s := Scope(strings.TrimSpace(name))
		if s != Submit && s != Read && s != Manage {
			return nil, fmt.Errorf("there is no scope %q: it is submit, read or manage", name)
		}
		if !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all, nil
}

// Names are the scopes as texts.
func (s Scopes) Names() []string {
	names := make([]string, len(s))
	for i, scope := range s {
		names[i] = string(scope)
	}
	return names
}

// Allow says whether the scopes include the named one.
func (s Scopes) Allow(name string) bool {
	return slices.Contains(s, Manage) || slices.Contains(s, Scope(name))
}

// Owner is the form of a client's name.
const Owner = `^[a-z0-9][a-z0-9._-]{0,62}$`

// CheckOwner refuses what cannot name a client.
func CheckOwner(name string) error {
	if !regexp.MustCompile(Owner).MatchString(name) {
		return fmt.Errorf("the owner %q: write small letters, digits, dots, dashes and underscores, at most 63, such as booking", name)
	}
	return nil
}
