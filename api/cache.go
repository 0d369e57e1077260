package api

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime/debug"
	"strings"
	"sync"

	"github.com/hashicorp/golang-lru/v2/simplelru"
	"golang.org/x/sync/singleflight"

	"knifedesk/jobs/queue"
)

// cache keeps what was made, within a bound of bytes; what was not asked for
// the longest goes first. What is asked for by several at a time is made once.
type cache struct {
	most   int64 // bytes, below 0: nothing is kept
	making singleflight.Group

	mu   sync.Mutex
	kept *simplelru.LRU[string, content]
	held int64 // bytes, of all that is kept
}

// entryBytes is about what an entry takes beside its texts.
const entryBytes = 256

func newCache(most int64) *cache {
	c := &cache{most: most}
	kept, err := simplelru.NewLRU(math.MaxInt, func(key string, out content) { c.held -= weight(key, out) })
	if err != nil {
		panic(err) // the number of entries is bounded by their bytes, and not by the list
	}
	c.kept = kept
	return c
}

func weight(key string, out content) int64 { return int64(len(key)+len(out.body)) + entryBytes }

// cacheKey names what is made by all that it is made of. The texts hold no zero
// bytes: what comes from outside is checked, and the rest is ours.
func cacheKey(of ...string) string { return strings.Join(of, "\x00") }

// get returns what is kept under key, or what make makes and is then kept. An
// error is not kept. make is given the context of one of those who ask; where
// that one hangs up, another's takes its place.
func (c *cache) get(ctx context.Context, key string, make func(context.Context) (content, error)) (content, error) {
	for {
		if out, ok := c.find(key); ok {
			return out, nil
		}
		making := c.making.DoChan(key, func() (any, error) {
			if out, ok := c.find(key); ok { // made between the look above and now
				return out, nil
			}
			out, err := guarded(ctx, make)
			if err == nil {
				c.keep(key, out)
			}
			return out, err
		})
		select {
		case r := <-making:
			if errors.Is(r.Err, context.Canceled) && r.Shared && ctx.Err() == nil {
				continue // the one that it was made for hung up
			}
			return r.Val.(content), r.Err
		case <-ctx.Done():
			return content{}, ctx.Err()
		}
	}
}

// guarded turns a panic into an error: it would end the whole service, as it
// comes up beside the requests. What make reads keeps its room in memory meanwhile.
func guarded(ctx context.Context, make func(context.Context) (content, error)) (out content, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("api: panic: %v\n%s", p, debug.Stack())
		}
	}()
	ctx, leave := queue.Holding(ctx)
	defer leave()
	return make(ctx)
}

func (c *cache) find(key string) (content, bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.kept.Get(key)
}

// keep makes room and adds what fits at all.
func (c *cache) keep(key string, out content) {
	w := weight(key, out)
	if w > c.most {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	for c.held+w > c.most {
		c.kept.RemoveOldest()
	}
	c.kept.Add(key, out)
	c.held += w
}
