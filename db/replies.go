package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Reply is an answer that a person gave, or took back.
type Reply struct {
	ID        int64     `db:"id"`
	Revision  int       `db:"revision"` // of the plan that it led to
	Question  string    `db:"question"`
	Asked     []byte    `db:"asked"` // JSON of the question as it was put
	Answer    string    `db:"answer"`
	MM        float64   `db:"value_mm"`
	Reason    string    `db:"reason"` // why something may pass, in a person's words
	Author    string    `db:"author"`
	TakenBack bool      `db:"taken_back"`
	Created   time.Time `db:"created"`
}

// AddReply adds to the history of a plan's answers.
func (q replyTable) AddReply(ctx context.Context, plan uuid.UUID, r Reply) error {
	_, err := q.exec(ctx, "add a reply", `
		insert into replies (plan, revision, question, asked, answer, value_mm, reason, author, taken_back)
		values ($1, $2, $3, $4::text::json, $5, $6, $7, $8, $9)`,
		plan, r.Revision, r.Question, string(r.Asked), r.Answer, r.MM, r.Reason, r.Author, r.TakenBack)
	return err
}

// Replies returns the history of a plan's answers, in order.
func (q replyTable) Replies(ctx context.Context, plan uuid.UUID) ([]Reply, error) {
	return all[Reply](ctx, q.on, "read replies", `
		select id, revision, question, asked, answer, value_mm, reason, author, taken_back, created
		from replies where plan = $1 order by id`, plan)
}
