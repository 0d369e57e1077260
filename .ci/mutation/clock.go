package main

import (
	"sync"
	"time"
)

// clock ends a run after so much time of judging. While tests are built, or run
// as they are to be got to know, it stands still.
type clock struct {
	mu    sync.Mutex
	left  time.Duration
	since time.Time // when it was last let go
	held  int       // by how many
	timer *time.Timer
}

// newClock returns a clock that is held once.
func newClock(left time.Duration, over func()) *clock {
	c := &clock{left: left, held: 1, timer: time.AfterFunc(time.Hour, over)}
	c.timer.Stop()
	return c
}

func (c *clock) hold() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.held == 0 && c.timer.Stop() {
		c.left -= time.Since(c.since)
	}
	c.held++
}

func (c *clock) goOn() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.held--; c.held == 0 {
		c.since = time.Now()
		c.timer.Reset(c.left)
	}
}
