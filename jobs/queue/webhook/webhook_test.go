package webhook_test

import (
	"context"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	standardwebhooks "github.com/standard-webhooks/standard-webhooks/libraries/go"

	"knifedesk/jobs/queue/webhook"
)

// Messages are verified by the library of the specification's authors.
func TestMessagesAreVerified(t *testing.T) {
	secret := webhook.NewSecret()
	reader, err := standardwebhooks.NewWebhook(webhook.SecretText(secret))
	if err != nil {
		t.Fatal(err)
	}
	other, err := standardwebhooks.NewWebhook(webhook.SecretText(webhook.NewSecret()))
	if err != nil {
		t.Fatal(err)
	}
	var good, forged, late error
	var id string
	s := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		body, _ := io.ReadAll(r.Body)
		id = r.Header.Get("webhook-id")
		good, forged = reader.Verify(body, r.Header), other.Verify(body, r.Header)
		if good == nil {
			late = reader.Verify(append(body, ' '), r.Header)
		}
	}))
	defer s.Close()
	m := webhook.Message{ID: uuid.New(), URL: s.URL, Secret: secret, Payload: []byte(`{"type":"plan.ready"}`)}
	send := webhook.NewSender(webhook.Config{Private: true})
	if status, err := send.Send(t.Context(), m, time.Now()); err != nil || status != 200 {
		t.Fatalf("%d, %v", status, err)
	}
	if good != nil || forged == nil || late == nil || id != "msg_"+m.ID.String() {
		t.Errorf("with its secret %v, with another %v, with another body %v, as %s", good, forged, late, id)
	}
	if _, err := send.Send(t.Context(), m, time.Now().Add(-time.Hour)); err != nil || good == nil {
		t.Errorf("an old time stamp is taken: %v", err)
	}
}

// A redirect is an answer like any other, and not followed.
func TestRedirectsAreNotFollowed(t *testing.T) {
	asked := 0
	var s *httptest.Server
	s = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		asked++
		http.Redirect(w, r, s.URL+"/further", http.StatusTemporaryRedirect)
	}))
	defer s.Close()
	status, err := webhook.NewSender(webhook.Config{Private: true}).Send(t.Context(), webhook.Message{URL: s.URL}, time.Now())
	if err != nil || status != http.StatusTemporaryRedirect || asked != 1 {
		t.Errorf("%d, %v, asked %d times", status, err, asked)
	}
}

// What is dialled is judged, whatever name or form led there (RFC 6890, and the
// ways round that are known of requests from servers).
func TestPrivateAddressesAreNotReached(t *testing.T) {
	reached := false
	s := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { reached = true }))
	defer s.Close()
	_, port, _ := strings.Cut(strings.TrimPrefix(s.URL, "http://"), ":")
	send := webhook.NewSender(webhook.Config{Timeout: 2 * time.Second})
	for _, host := range []string{
		"127.0.0.1", "localhost", "127.1.2.3", "[::1]", "[::ffff:127.0.0.1]", "0.0.0.0", "[::]", "10.0.0.1", "172.16.0.1", "192.168.1.1",
		"169.254.169.254", "[fe80::1]", "[fd00::1]", "100.64.0.1", "[64:ff9b::7f00:1]", "[2002:7f00:1::]", "198.18.0.1", "224.0.0.1", "255.255.255.255",
	} {
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Second)
		_, err := send.Send(ctx, webhook.Message{URL: "http://" + host + ":" + port}, time.Now())
		cancel()
		if !errors.Is(err, webhook.ErrAddress) {
			t.Errorf("%s: %v", host, err)
		}
	}
	if reached {
		t.Error("the server was reached")
	}
}

// What can be no receiver is refused wherever receivers may be.
func TestCheckURL(t *testing.T) {
	for url, good := range map[string]bool{
		"https://booking.example.org/in": true, "http://192.0.2.1:8080/": true, "https://booking.example.org:65535": true, "https://[2001:db8::1]/in": true, "https://7.booking.example.org": true, "https://booking.0x1f.example": true,
		"": false, "booking.example.org": false, "ftp://a/b": false, "https:///x": false, "https://ann:word@a/": false, "https://a/#b": false, "file:///etc/passwd": false,
		"https://a:0/": false, "https://a:65536/": false, "https://a:99999999999999999999/": false, "http://2130706433/": false, "http://127.1/": false, "http://0x7f000001/": false,
		"http://0x7f.0.0.1/": false, "http://0177.0.0.1/": false, "http://127.0.0.1.1/": false, "http://256.1.1.1/": false, "http://a.0x/": false, "http://[::1/": false, "http://a b/": false,
	} {
		if err := (webhook.Config{Private: true}).CheckURL(url); (err == nil) != good || errors.Is(err, webhook.ErrAddress) {
			t.Errorf("%q: %v", url, err)
		}
	}
}

// An address that is private by its text is refused where it is named, unless those may
// be reached; what a name leads to is not known there.
func TestPrivateAddressesAreNotNamed(t *testing.T) {
	for _, host := range []string{
		"127.0.0.1", "127.255.0.9", "localhost", "LOCALHOST", "localhost.", "desk.localhost", "[::1]", "[::]", "[::ffff:127.0.0.1]", "[::ffff:7f00:1]", "0.0.0.0", "10.1.2.3", "172.31.0.1",
		"192.168.0.1", "169.254.169.254", "100.64.0.1", "[fe80::1]", "[fe80::1%25eth0]", "[fd00::1]", "[64:ff9b::a00:1]", "[2002:7f00:1::]", "192.0.2.1", "224.0.0.1", "255.255.255.255", "127.0.0.1.", "１２７.0.0.1", "127。0．0｡1", "ⓛocalhost",
	} {
		for _, url := range []string{"http://" + host, "https://" + host + ":8443/in?a=b"} {
			if err := (webhook.Config{}).CheckURL(url); !errors.Is(err, webhook.ErrAddress) {
				t.Errorf("%s: %v", url, err)
			}
			if err := (webhook.Config{Private: true}).CheckURL(url); err != nil {
				t.Errorf("%s where it may be reached: %v", url, err)
			}
		}
	}
	for _, host := range []string{"booking.example.org", "localhost.example.org", "notlocalhost", "9.1.2.3", "[2a00:1::1]", "127.0.0.1.example.org"} {
		if err := (webhook.Config{}).CheckURL("https://" + host); err != nil {
			t.Errorf("%s: %v", host, err)
		}
	}
}
