package queue

import (
	"context"
	"fmt"
	"sync"

	"knifedesk/db"
	"knifedesk/jobs"

	"github.com/klauspost/compress/zstd"
)

// smallest is the size in bytes below which packing is not worth it.
const smallest = 512

// packer and unpacker are safe for use by several goroutines at a time.
var (
	packer = sync.OnceValues(func() (*zstd.Encoder, error) {
		return zstd.NewWriter(nil, zstd.WithEncoderLevel(zstd.SpeedFastest), zstd.WithEncoderConcurrency(1))
	})
	unpacker = sync.OnceValues(func() (*zstd.Decoder, error) {
		return zstd.NewReader(nil, zstd.WithDecoderConcurrency(1))
	})
)

// pack returns a body as it is stored.
func pack(body []byte) (db.Codec, []byte, error) {
	if len(body) < smallest {
		return db.Plain, body, nil
	}
	enc, err := packer()
	if err != nil {
		return db.Plain, nil, fmt.Errorf("queue: pack a result: %w", err)
	}
	return db.Zstd, enc.EncodeAll(body, make([]byte, 0, len(body)/4)), nil
}

// unpack returns the body of a stored result.
func unpack(r db.Result) ([]byte, error) {
	switch r.Codec {
	case db.Plain:
		return r.Body, nil
	case db.Zstd:
		dec, err := unpacker()
		if err != nil {
			return nil, fmt.Errorf("queue: unpack a result: %w", err)
		}
		body, err := dec.DecodeAll(r.Body, nil)
		if err != nil {
			return nil, fmt.Errorf("queue: unpack the result %s: %v", r.Key, err) // no end of a connection, whatever it is
		}
		return body, nil
	}
	return nil, fmt.Errorf("queue: the result %s is packed by %d, which this program does not know", r.Key, r.Codec)
}

// decode returns the result of a job from the store.
func decode(ctx context.Context, row *jobs.Row, r db.Result) (jobs.Result, error) {
	body, err := unpack(r)
	if err != nil {
		return nil, err
	}
	return row.Decode(ctx, body)
}
