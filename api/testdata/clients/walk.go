// The walk-through by a client that was generated from what the service serves:
// a drawing, a plan that is waited for, its question, the answer, the worksheet
// and a file to cut from.
package main

import (
	"context"
	"fmt"
	"log"
	"net/http"
	"os"
	"strings"

	"walk/desk"
)

const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60" fill="none">
<g id="CUT" stroke="#007c91"><rect x="10" y="10" width="80" height="40"/></g><g id="FOLD" stroke="#7a3eb1"><path d="M10 30H90"/></g></svg>`

func main() {
	ctx := context.Background()
	client, err := desk.NewClientWithResponses(os.Args[1], desk.WithRequestEditorFn(func(_ context.Context, r *http.Request) error {
		r.Header.Set("Authorization", "Bearer "+os.Args[2])
		return nil
	}))
	check(err)

	sent, err := client.CreateDrawingWithBodyWithResponse(ctx, &desk.CreateDrawingParams{}, "image/svg+xml", strings.NewReader(drawing))
	check(err)
	if sent.JSON201 == nil {
		refuse(sent.ApplicationproblemJSONDefault)
	}
	wait, stock := desk.Prefer("wait=30"), "film-removable-610"
	planned, err := client.CreatePlanWithResponse(ctx, &desk.CreatePlanParams{Prefer: &wait}, desk.PlanRequest{DrawingId: sent.JSON201.Id, StockId: &stock})
	check(err)
	if planned.JSON200 == nil {
		refuse(planned.ApplicationproblemJSONDefault)
	}
	plan := planned.JSON200
	fmt.Println(plan.Status, planned.HTTPResponse.Header.Get("Location") == "/v1/plans/"+plan.Id.String())
	answers := map[string]desk.Reply{}
	for _, q := range plan.Questions {
		fmt.Println(q.Id, q.Code)
		answers[q.Id] = desk.Reply{Answer: q.Answers[0].Id}
	}
	answered, err := client.AnswerPlanWithResponse(ctx, plan.Id, &desk.AnswerPlanParams{Prefer: &wait}, desk.AnswerRequest{Answers: answers})
	check(err)
	if answered.JSON200 == nil {
		refuse(answered.ApplicationproblemJSONDefault)
	}
	plan = answered.JSON200
	fmt.Printf("%s %.0f %.0f %d\n", plan.Status, plan.Size.WidthMm, plan.Size.HeightMm, plan.Estimate.CutterSlotMin)

	sheet, err := client.GetPlanWorksheetWithResponse(ctx, plan.Id)
	check(err)
	fmt.Println(sheet.StatusCode(), string(sheet.Body[:5]))
	file, err := client.GetPlanFileWithResponse(ctx, plan.Id, "load-1.dxf")
	check(err)
	fmt.Println(file.StatusCode(), strings.Contains(string(file.Body), "ENTITIES"))
	lacking, err := client.GetPlanFileWithResponse(ctx, plan.Id, "load-9.dxf")
	check(err)
	fmt.Println(lacking.StatusCode(), lacking.ApplicationproblemJSONDefault.Code)
}

func refuse(p *desk.Problem) { log.Fatalf("refused: %+v", p) }

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
