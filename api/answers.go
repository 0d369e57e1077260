package api

import (
	"maps"
	"slices"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/queue"
)

// AnswerPlan answers POST /v1/plans/{plan_id}/answers.
func (p plans) AnswerPlan(c echo.Context, id PlanID, params AnswerPlanParams) error {
	var body AnswerRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	var replies []queue.Reply
	for _, question := range slices.Sorted(maps.Keys(body.Answers)) {
		r := body.Answers[question]
		replies = append(replies, queue.Reply{Question: question, Answer: r.Answer, MM: r.ValueMM, Reason: r.Reason, Author: ownerOf(c)})
	}
	wait, leave, err := p.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	now, err := p.jobs.Answer(c.Request().Context(), clientOf(c), id, replies...)
	if err != nil {
		return lacking(err, "plan")
	}
	return p.settle(c, id, now.Status, wait)
}

// TakeBackAnswer answers DELETE /v1/plans/{plan_id}/answers/{question_id}.
func (p plans) TakeBackAnswer(c echo.Context, id PlanID, question string, params TakeBackAnswerParams) error {
	wait, leave, err := p.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	now, err := p.jobs.TakeBack(c.Request().Context(), clientOf(c), id, question, ownerOf(c))
	if err != nil {
		return lacking(err, "plan")
	}
	return p.settle(c, id, now.Status, wait)
}
