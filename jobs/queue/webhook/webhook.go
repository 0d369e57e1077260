// Package webhook tells receivers of events by HTTP, signed after the open
// specification Standard Webhooks (version 1.0.0). It reaches no address that is
// private, unless that is allowed, and follows no redirect.
package webhook

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"syscall"
	"time"

	"github.com/google/uuid"
)

// Config says how a Sender works. The zero value of a field is its default.
type Config struct {
	Private bool          // private addresses may be reached
	Timeout time.Duration // of one attempt, 15 s
}

// Sender tells receivers of events. It may be used from several goroutines.
type Sender struct{ client *http.Client }

// mostAnswer is how much of an answer is read, so that the connection can be
// used again; what it says beside the status is of no interest.
const mostAnswer = 16 << 10

// NewSender returns a sender.
func NewSender(c Config) Sender {
	if c.Timeout <= 0 {
		c.Timeout = 15 * time.Second
	}
	dialer := &net.Dialer{Timeout: c.Timeout / 2, Control: func(network, address string, _ syscall.RawConn) error {
		if c.Private {
			return nil
		}
		return checkAddress(address) // the one that is dialled, after every look-up
	}}
	return Sender{&http.Client{
		Timeout:       c.Timeout,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		Transport: &http.Transport{
			DialContext: dialer.DialContext, TLSHandshakeTimeout: c.Timeout / 2, ResponseHeaderTimeout: c.Timeout,
			MaxIdleConns: 16, IdleConnTimeout: 30 * time.Second, MaxResponseHeaderBytes: 64 << 10,
		}, // without a proxy, which would do the looking up
	}}
}

// Message is one event for one receiver. Its ID is the same however often it is
// sent, so that a receiver knows it again.
type Message struct {
	ID      uuid.UUID
	URL     string
	Secret  []byte
	Payload []byte
	Trace   string // sent as traceparent; empty: none
}

// Send posts a message, signed for now, and returns the status of the answer.
func (s Sender) Send(ctx context.Context, m Message, now time.Time) (status int, err error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, m.URL, bytes.NewReader(m.Payload))
	if err != nil {
		return 0, fmt.Errorf("webhook: %w", err)
	}
	id, when := "msg_"+m.ID.String(), strconv.FormatInt(now.Unix(), 10)
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("User-Agent", "knifedesk")
	req.Header.Set("webhook-id", id)
	req.Header.Set("webhook-timestamp", when)
	if m.Trace != "" {
		req.Header.Set("traceparent", m.Trace)
	}
	req.Header.Set("webhook-signature", sign(m.Secret, id, when, m.Payload))
	resp, err := s.client.Do(req)
	if err != nil {
		return 0, fmt.Errorf("webhook: %w", err)
	}
	defer resp.Body.Close()
	_, _ = io.CopyN(io.Discard, resp.Body, mostAnswer) // the status has said it
	return resp.StatusCode, nil
}

// sign is the signature of scheme v1: HMAC-SHA-256 over id, time and payload with
// points between.
func sign(secret []byte, id, when string, payload []byte) string {
	h := hmac.New(sha256.New, secret)
	h.Write([]byte(id + "." + when + "."))
	h.Write(payload)
	return "v1," + base64.StdEncoding.EncodeToString(h.Sum(nil))
}

// NewSecret returns 32 bytes to sign with; the specification takes 24 to 64.
func NewSecret() []byte {
	secret := make([]byte, 32)
	rand.Read(secret) // which never fails (crypto/rand)
	return secret
}

// SecretText is a secret as a receiver is given it.
func SecretText(secret []byte) string { return "whsec_" + base64.StdEncoding.EncodeToString(secret) }
