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

func TestCheckURL(t *testing.T) {
	for url, good := range map[string]bool{
		"https://booking.example.org/in": true, "http://192.0.2.1:8080/": true,
		"": false, "booking.example.org": false, "ftp://a/b": false, "https:///x": false, "https://ann:word@a/": false, "https://a/#b": false, "file:///etc/passwd": false,
	} {
		if err := webhook.CheckURL(url); (err == nil) != good {
			t.Errorf("%q: %v", url, err)
		}
	}
}
