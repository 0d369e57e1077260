package api

import (
	"context"
	"errors"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

// making counts how often a text was made.
type making struct{ times int }

func (m *making) text(text string) func(context.Context) (content, error) {
	return func(context.Context) (content, error) {
		m.times++
		return newContent("text/plain", []byte(text)), nil
	}
}

// askFor gets a text of n bytes.
func askFor(t *testing.T, c *cache, m *making, key string, n int) {
	t.Helper()
	text := strings.Repeat(key, n)
	out, err := c.get(t.Context(), key, m.text(text))
	if err != nil || string(out.body) != text || out.kind != "text/plain" || out.tag != newContent("", []byte(text)).tag {
		t.Errorf("%s: %+v, %v", key, out, err)
	}
}

// The cache holds as many bytes as it may, and forgets what was not asked for
// the longest.
func TestCacheForgetsTheOldest(t *testing.T) {
	const size = 1000
	c := newCache(3 * (size + 1 + entryBytes))
	var m making
	for _, step := range []struct {
		key  string
		made int
	}{
		{"a", 1}, {"b", 2}, {"c", 3}, {"a", 3}, {"d", 4}, {"a", 4}, {"c", 4}, {"b", 5}, {"d", 6},
	} {
		askFor(t, c, &m, step.key, size)
		if m.times != step.made {
			t.Fatalf("%s: %d were made, want %d", step.key, m.times, step.made)
		}
		if c.held > c.most {
			t.Fatalf("%d bytes are held, at most %d may be", c.held, c.most)
		}
	}
	askFor(t, c, &m, "e", 10*size) // more than fits: it is made each time, and drives nothing out
	askFor(t, c, &m, "e", 10*size)
	askFor(t, c, &m, "d", size)
	if m.times != 8 {
		t.Errorf("%d were made, want 8", m.times)
	}
	for _, key := range []string{"f", "g", "h"} {
		askFor(t, c, &m, key, 1)
	}
	if want := 3*(1+1+entryBytes) + 2*(size+1+entryBytes); c.held != int64(want) {
		t.Errorf("%d bytes are held, want %d", c.held, want)
	}
}

func TestCacheThatKeepsNothing(t *testing.T) {
	c := newCache(-1)
	var m making
	askFor(t, c, &m, "a", 1)
	askFor(t, c, &m, "a", 1)
	if m.times != 2 || c.held != 0 {
		t.Errorf("made %d times, %d bytes held", m.times, c.held)
	}
}

// An error, or a panic, is told and not kept.
func TestCacheKeepsNoErrors(t *testing.T) {
	c := newCache(1 << 20)
	wrong := errors.New("wrong")
	if _, err := c.get(t.Context(), "a", func(context.Context) (content, error) { return content{}, wrong }); !errors.Is(err, wrong) {
		t.Errorf("the error is %v", err)
	}
	if _, err := c.get(t.Context(), "a", func(context.Context) (content, error) { panic("very wrong") }); err == nil || !strings.Contains(err.Error(), "very wrong") {
		t.Errorf("the panic is %v", err)
	}
	var m making
	askFor(t, c, &m, "a", 1)
	if m.times != 1 {
		t.Error("it is not made after an error")
	}
}

// Who asks at the same time for the same gets what is made once.
func TestCacheMakesOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newCache(1 << 20)
		var made atomic.Int64
		var all sync.WaitGroup
		for range 20 {
			all.Go(func() {
				out, err := c.get(t.Context(), "a", func(context.Context) (content, error) {
					made.Add(1)
					time.Sleep(time.Second)
					return newContent("text/plain", []byte("a")), nil
				})
				if err != nil || string(out.body) != "a" {
					t.Errorf("%+v, %v", out, err)
				}
			})
		}
		all.Wait()
		if made.Load() != 1 {
			t.Errorf("made %d times", made.Load())
		}
	})
}

// Where the one hangs up for whom it is made, it is made for another who asked;
// the one does not wait.
func TestCacheWhenOneHangsUp(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := newCache(1 << 20)
		make := func(ctx context.Context) (content, error) {
			select {
			case <-ctx.Done():
				return content{}, ctx.Err()
			case <-time.After(time.Second):
				return newContent("text/plain", []byte("a")), nil
			}
		}
		ctx, hangUp := context.WithCancel(t.Context())
		var both sync.WaitGroup
		both.Go(func() {
			if _, err := c.get(ctx, "a", make); !errors.Is(err, context.Canceled) {
				t.Errorf("the one who hung up got %v", err)
			}
		})
		synctest.Wait()
		both.Go(func() {
			out, err := c.get(t.Context(), "a", make)
			if err != nil || string(out.body) != "a" {
				t.Errorf("the other got %+v, %v", out, err)
			}
		})
		synctest.Wait()
		hangUp()
		both.Wait()
	})
}
