package access

import (
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Signer signs links and makes capabilities by HMAC-SHA-256 (RFC 2104), with a
// secret that all processes of a service share.
type Signer struct{ secret []byte }

// NewSigner returns a signer; the secret has 32 bytes.
func NewSigner(secret []byte) Signer { return Signer{secret} }

// mac sums texts for one use, so that what was signed for one is nothing for
// another. The texts hold no zero bytes.
func (s Signer) mac(use string, texts ...string) []byte {
	h := hmac.New(sha256.New, s.secret)
	h.Write([]byte(use))
	for _, text := range texts {
		h.Write([]byte{0})
		h.Write([]byte(text))
	}
	return h.Sum(nil)
}

// Capability returns what a spent token is redeemed for: the same each time, so
// that a repeated request gets it again and nobody keeps it.
func (s Signer) Capability(token uuid.UUID) Secret {
	c := Secret{Kind: Capability, ID: token}
	copy(c.secret[:], s.mac("capability", token.String()))
	return c
}

// IsCapability says whether a capability is one that this signer made.
func (s Signer) IsCapability(c Secret) bool {
	want := s.Capability(c.ID)
	return c.Kind == Capability && subtle.ConstantTimeCompare(want.secret[:], c.secret[:]) == 1
}

// Sign returns what the parameter "signed" of a link to the path has to be: the
// end of its life in seconds since 1970, a point, and a sum in base64url.
func (s Signer) Sign(path string, until time.Time) string {
	when := strconv.FormatInt(until.Unix(), 10)
	return when + "." + base64.RawURLEncoding.EncodeToString(s.mac("link", path, when))
}

// Signed says whether the parameter was signed for the path, and whether its
// time is over by now.
func (s Signer) Signed(path, signed string, now time.Time) (ok, expired bool) {
	when, sum, _ := strings.Cut(signed, ".")
	seconds, err := strconv.ParseInt(when, 10, 64)
	if err != nil {
		return false, false
	}
	got, err := base64.RawURLEncoding.Strict().DecodeString(sum)
	if err != nil || !hmac.Equal(got, s.mac("link", path, when)) {
		return false, false
	}
	return true, !now.Before(time.Unix(seconds, 0))
}
