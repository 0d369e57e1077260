package access_test

import (
	"crypto/sha256"
	"encoding/base64"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"knifedesk/api/access"
)

var seventh = uuid.UUID{15: 7}

// What a caller shows is read back as it was made, found by its id, and is the one of which
// the sum was kept, as no other is. Source: SHA-256 over the 32 bytes behind the id, worked
// out here.
func TestSecretsReadBack(t *testing.T) {
	for _, kind := range []access.Kind{access.Key, access.Token, access.Capability} {
		made := access.NewSecret(kind, seventh)
		text := made.Text()
		read, ok := access.ParseSecret(text)
		if !ok || read != made || read.ID != seventh || read.Kind != kind || len(text) != len(kind)+64 || !strings.HasPrefix(text, string(kind)) {
			t.Errorf("%s: %q reads back as %+v, %v", kind, text, read, ok)
		}
		raw, err := base64.RawURLEncoding.DecodeString(text[len(kind):])
		if sum := sha256.Sum256(raw[16:]); err != nil || !slices.Equal(made.Hash(), sum[:]) || !read.Is(sum[:]) {
			t.Errorf("%s: another sum is kept: %v", kind, err)
		}
		if other := access.NewSecret(kind, seventh); other == made || made.Is(other.Hash()) || made.Is(nil) || made.Is(made.Hash()[:31]) {
			t.Errorf("%s: another secret, or none, is taken for it", kind)
		}
	}
}

// What is no secret is none: of another kind, cut short, longer, padded, or in another
// alphabet.
func TestNoSecrets(t *testing.T) {
	text := access.NewSecret(access.Key, seventh).Text()
	bytes := make([]byte, 48)
	bytes[20] = 0xfb
	for _, none := range []string{
		"", "kdk_", text[:67], text + "A", text + "AAAA", text[:64], text[:67] + "=", " " + text, "kdx_" + text[4:], strings.ToUpper(text[:4]) + text[4:], text[4:], text[:67] + "\n",
		"kdk_" + base64.StdEncoding.EncodeToString(slices.Repeat([]byte{0xfb}, 48)),
	} {
		if s, ok := access.ParseSecret(none); ok || s != (access.Secret{}) {
			t.Errorf("%q is read as %+v", none, s)
		}
	}
	if _, ok := access.ParseSecret("kdt_" + base64.RawURLEncoding.EncodeToString(bytes)); !ok {
		t.Error("48 bytes are no secret")
	}
}

// signer has the 32 bytes from 0 to 31 as its secret.
func signer(first byte) access.Signer {
	secret := make([]byte, 32)
	for i := range secret {
		secret[i] = first + byte(i)
	}
	return access.NewSigner(secret)
}

// A link is good for its own path until its time, by the secret that signed it, and for
// nothing else. Source of the sums: HMAC-SHA-256 by Python's hmac, with the use and the
// texts, a zero byte before each.
func TestSignedLinks(t *testing.T) {
	const path = "/v1/plans/7/worksheet.pdf"
	until := time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)
	s := signer(0)
	signed := s.Sign(path, until)
	if want := "1772443800.IVZbnj5y1zR7cETZR-0gIPLJnCG6gsKLLkT1LzEQytM"; signed != want {
		t.Errorf("signed is %q, want %q", signed, want)
	}
	when, sum, _ := strings.Cut(signed, ".")
	for _, c := range []struct {
		name        string
		by          access.Signer
		path, given string
		now         time.Time
		ok, expired bool
	}{
		{"long before", s, path, signed, until.Add(-time.Hour), true, false}, {"just before", s, path, signed, until.Add(-1), true, false}, {"when it ends", s, path, signed, until, true, true},
		{"after it", s, path, signed, until.Add(time.Hour), true, true}, {"another path", s, "/v1/plans/8/worksheet.pdf", signed, until.Add(-time.Hour), false, false},
		{"another secret", signer(1), path, signed, until.Add(-time.Hour), false, false}, {"a later end", s, path, "1772443801." + sum, until.Add(-time.Hour), false, false},
		{"no sum", s, path, when, until.Add(-time.Hour), false, false}, {"an empty sum", s, path, when + ".", until.Add(-time.Hour), false, false},
		{"no time", s, path, "." + sum, until.Add(-time.Hour), false, false}, {"a time in words", s, path, "soon." + sum, until.Add(-time.Hour), false, false},
		{"a padded sum", s, path, signed + "=", until.Add(-time.Hour), false, false}, {"a sum cut short", s, path, signed[:len(signed)-4], until.Add(-time.Hour), false, false}, {"nothing", s, path, "", until, false, false},
	} {
		if ok, expired := c.by.Signed(c.path, c.given, c.now); ok != c.ok || expired != c.expired {
			t.Errorf("%s: good %v, over %v; want %v, %v", c.name, ok, expired, c.ok, c.expired)
		}
	}
}

// What a token is redeemed for is the same each time, and nobody else's. The source is that
// of the signed links.
func TestCapabilities(t *testing.T) {
	s := signer(0)
	c := s.Capability(seventh)
	if want := "kdc_AAAAAAAAAAAAAAAAAAAABzwGykUbL41ETTaBtH4NkHfKvX3PoXZC7SALDsZmEA5x"; c.Text() != want || s.Capability(seventh) != c {
		t.Errorf("the capability is %q, want %q", c.Text(), want)
	}
	key := c
	key.Kind = access.Key
	other := c
	other.ID = uuid.UUID{15: 8}
	for name, is := range map[access.Secret]bool{c: true, key: false, other: false, access.NewSecret(access.Capability, seventh): false, signer(1).Capability(seventh): false} {
		if s.IsCapability(name) != is {
			t.Errorf("%+v is taken: %v", name, !is)
		}
	}
}

// Scopes are read by their names, each once; managing includes the others, and nothing else
// includes another.
func TestScopes(t *testing.T) {
	for _, c := range []struct {
		names  []string
		want   string
		allows map[string]bool
	}{
		{[]string{"read"}, "read", map[string]bool{"read": true, "submit": false, "manage": false}}, {[]string{" submit ", "read", "submit"}, "submit read", map[string]bool{"read": true, "submit": true, "manage": false}},
		{[]string{"manage"}, "manage", map[string]bool{"read": true, "submit": true, "manage": true}},
	} {
		got, err := access.ReadScopes(c.names)
		if err != nil || strings.Join(got.Names(), " ") != c.want {
			t.Errorf("%q: %v, %v", c.names, got, err)
		}
		for name, want := range c.allows {
			if got.Allow(name) != want {
				t.Errorf("%v allows %s: %v", got, name, !want)
			}
		}
	}
	for _, names := range [][]string{nil, {}, {"write"}, {"read", ""}, {"Read"}} {
		if got, err := access.ReadScopes(names); err == nil || got != nil {
			t.Errorf("%q are the scopes %v", names, got)
		}
	}
}

// Owners are small names: nothing that stands for all clients, or that leads out of a path.
func TestOwners(t *testing.T) {
	for name, good := range map[string]bool{
		"booking": true, "a": true, "7": true, "west-shop_2.b": true, strings.Repeat("a", 63): true,
		"": false, "*": false, "Booking": false, "-a": false, ".a": false, "_a": false, "a b": false, "a/b": false, "ä": false, "a\n": false, strings.Repeat("a", 64): false,
	} {
		if err := access.CheckOwner(name); (err == nil) != good {
			t.Errorf("%q: %v", name, err)
		}
	}
}
