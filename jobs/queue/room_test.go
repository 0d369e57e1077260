package queue

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// Runs wait for room and never hold more than there is, together.
func TestRoomIsShared(t *testing.T) {
	const all = 1 << 30
	r := newRoom(all)
	var held, most atomic.Int64
	var runs sync.WaitGroup
	for range 8 {
		runs.Go(func() {
			bytes := need(46<<20, 0)
			leave, err := r.take(t.Context(), bytes)
			if err != nil {
				t.Error(err)
				return
			}
			now := held.Add(bytes)
			for old := most.Load(); now > old && !most.CompareAndSwap(old, now); old = most.Load() {
			}
			time.Sleep(5 * time.Millisecond)
			held.Add(-bytes)
			leave()
		})
	}
	runs.Wait()
	if most.Load() > all {
		t.Errorf("%d MB were held of %d", most.Load()>>20, all>>20)
	}
}

// A light run does not wait, one that is larger than all there is runs alone,
// and one that nobody waits for any more stops waiting.
func TestRoomLetsThrough(t *testing.T) {
	r := newRoom(1 << 30)
	leave, err := r.take(t.Context(), 5<<30)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.take(t.Context(), light); err != nil {
		t.Errorf("a light run: %v", err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer cancel()
	if _, err := r.take(ctx, light+1); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("beside one that fills the room: %v", err)
	}
	leave()
	if again, err := r.take(t.Context(), 1<<30); err != nil {
		t.Errorf("after it: %v", err)
	} else {
		again()
	}
}

// What a request reads keeps its room until the request gives it back; what it reads
// next takes the place of that, and one that finds none is told so.
func TestRequestsHoldRoom(t *testing.T) {
	r := newRoom(1 << 30)
	if err := r.holding(t.Context(), 1<<30); err != nil {
		t.Errorf("who does not give back takes none: %v", err)
	}
	first, leave := Holding(t.Context())
	for range 3 { // each instead of the one before
		if err := r.holding(first, 700<<20); err != nil {
			t.Fatal(err)
		}
	}
	short, cancel := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer cancel()
	second, leaveSecond := Holding(short)
	if err := r.holding(second, 700<<20); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("two of 700 MB in 1 GB: %v", err)
	}
	leaveSecond()
	leave()
	third, leaveThird := Holding(t.Context())
	defer leaveThird()
	if err := r.holding(third, 1<<30); err != nil {
		t.Errorf("all was given back: %v", err)
	}
}
