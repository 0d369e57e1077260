package erasures

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// NewSum returns a salted sum of a reference of a client, or of db.AnyClient: by it
// the reference is known again where it stands, and it cannot be read from it.
func NewSum(client, reference string) string {
	salt := make([]byte, 16)
	rand.Read(salt) // which never fails (crypto/rand)
	return hex.EncodeToString(salt) + ":" + sumOf(salt, client, reference)
}

// sumOf is HMAC-SHA-256 over client and reference with a zero byte between, which
// neither can hold.
func sumOf(salt []byte, client, reference string) string {
	h := hmac.New(sha256.New, salt)
	h.Write([]byte(client + "\x00" + reference))
	return hex.EncodeToString(h.Sum(nil))
}

// isSum says whether sum is one of a reference of client.
func isSum(sum, client, reference string) bool {
	salt, rest, ok := strings.Cut(sum, ":")
	key, err := hex.DecodeString(salt)
	return ok && err == nil && hmac.Equal([]byte(rest), []byte(sumOf(key, client, reference)))
}
