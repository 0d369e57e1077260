// Package access says who calls and what they may do: the form of keys, tokens
// and capabilities, the scopes of keys, and links that are signed. It knows no
// request and no database.
package access

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"strings"

	"github.com/google/uuid"
)

// Kind is what a secret is for; its text begins with it.
type Kind string

// The kinds of secrets. A key belongs to a program, a token lets a browser send
// one drawing, and a capability is what the browser gets for it.
const (
	Key        Kind = "kdk_"
	Token      Kind = "kdt_"
	Capability Kind = "kdc_"
)

// secretBytes is how much chance a secret holds.
const secretBytes = 32

// Secret is what a caller shows: the id by which it is found and 32 bytes that
// nobody can guess, as the kind and 64 characters of base64url (RFC 4648, 5).
type Secret struct {
	Kind   Kind
	ID     uuid.UUID
	secret [secretBytes]byte
}

// NewSecret returns a secret of a kind for an id.
func NewSecret(kind Kind, id uuid.UUID) Secret {
	s := Secret{Kind: kind, ID: id}
	rand.Read(s.secret[:]) // which never fails (crypto/rand)
	return s
}

// ParseSecret reads what a caller shows.
func ParseSecret(text string) (Secret, bool) {
	for _, kind := range []Kind{Key, Token, Capability} {
		coded, ok := strings.CutPrefix(text, string(kind))
		if !ok {
			continue
		}
		raw, err := base64.RawURLEncoding.Strict().DecodeString(coded)
		if err != nil || len(raw) != len(uuid.UUID{})+secretBytes {
			return Secret{}, false
		}
		s := Secret{Kind: kind}
		copy(s.ID[:], raw)
		copy(s.secret[:], raw[len(s.ID):])
		return s, true
	}
	return Secret{}, false
}

// Text is the secret as a caller shows it.
func (s Secret) Text() string {
	return string(s.Kind) + base64.RawURLEncoding.EncodeToString(append(s.ID[:], s.secret[:]...))
}

// Hash is what is kept of the secret. A plain sum is enough, since 32 random
// bytes cannot be tried out.
func (s Secret) Hash() []byte {
	sum := sha256.Sum256(s.secret[:])
	return sum[:]
}

// Is says whether the secret is the one of which the hash was kept.
func (s Secret) Is(hash []byte) bool {
	return len(hash) == sha256.Size && subtle.ConstantTimeCompare(s.Hash(), hash) == 1
}
