package jobs

import (
	"context"
	"fmt"

	"knifedesk/jobs/plan"
)

// A job runs on what reads picks from the request and on the results of the
// jobs that it needs, and on nothing else: its key is made of the same, so that
// a key cannot miss an input. reads picks what is used and no more; what changes
// by itself, such as the metres that a blade has cut, must not be among it.

// DefineFile returns a job that starts from the bytes of the drawing.
func DefineFile[Q, R any, P resultOf[R]](row Row, reads func(*plan.Request) Q, run func(context.Context, Q, []byte) (P, error)) Job[R] {
	row.file = true
	return define[Q, R](row, reads, func(ctx context.Context, q Q, in input) (P, error) { return run(ctx, q, in.file) })
}

// Define0 returns a job that needs no other.
func Define0[Q, R any, P resultOf[R]](row Row, reads func(*plan.Request) Q, run func(context.Context, Q) (P, error)) Job[R] {
	return define[Q, R](row, reads, func(ctx context.Context, q Q, _ input) (P, error) { return run(ctx, q) })
}

// Define1 returns a job that needs the result of another.
func Define1[Q, A, R any, P resultOf[R]](row Row, a Job[A], reads func(*plan.Request) Q, run func(context.Context, Q, *A) (P, error)) Job[R] {
	row.needs = []*Row{a.row}
	return define[Q, R](row, reads, func(ctx context.Context, q Q, in input) (P, error) {
		return run(ctx, q, need[A](in, 0))
	})
}

// Define2 returns a job that needs the results of two others.
func Define2[Q, A, B, R any, P resultOf[R]](row Row, a Job[A], b Job[B], reads func(*plan.Request) Q, run func(context.Context, Q, *A, *B) (P, error)) Job[R] {
	row.needs = []*Row{a.row, b.row}
	return define[Q, R](row, reads, func(ctx context.Context, q Q, in input) (P, error) {
		return run(ctx, q, need[A](in, 0), need[B](in, 1))
	})
}

// Define3 returns a job that needs the results of three others.
func Define3[Q, A, B, C, R any, P resultOf[R]](row Row, a Job[A], b Job[B], c Job[C], reads func(*plan.Request) Q, run func(context.Context, Q, *A, *B, *C) (P, error)) Job[R] {
	row.needs = []*Row{a.row, b.row, c.row}
	return define[Q, R](row, reads, func(ctx context.Context, q Q, in input) (P, error) {
		return run(ctx, q, need[A](in, 0), need[B](in, 1), need[C](in, 2))
	})
}

// DefineAll returns a job that needs any number of results of another, such as
// one of each member of a set.
func DefineAll[Q, A, R any, P resultOf[R]](row Row, a Job[A], reads func(*plan.Request) Q, run func(context.Context, Q, []*A) (P, error)) Job[R] {
	row.needs, row.every = []*Row{a.row}, true
	return define[Q, R](row, reads, func(ctx context.Context, q Q, in input) (P, error) {
		members := make([]*A, len(in.needs))
		for i := range members {
			members[i] = need[A](in, i)
		}
		return run(ctx, q, members)
	})
}

func need[A any](in input, i int) *A { return any(in.needs[i]).(*A) }

// define fills in what all jobs have in common. What the job reads comes to it
// as the JSON that its key is made of.
func define[Q, R any, P resultOf[R]](row Row, reads func(*plan.Request) Q, run func(context.Context, Q, input) (P, error)) Job[R] {
	row.reads = func(r *plan.Request) any { return reads(r) }
	row.run = func(ctx context.Context, in input) (Result, error) {
		var q Q
		if err := decodeJSON(ctx, in.reads, &q); err != nil {
			return nil, fmt.Errorf("what the job reads: %w", err)
		}
		result, err := run(ctx, q, in)
		if err != nil {
			return nil, err
		}
		return result, nil
	}
	row.decode = func(ctx context.Context, body []byte) (Result, error) {
		result := P(new(R))
		return result, decodeJSON(ctx, body, result)
	}
	return Job[R]{&row}
}
