package api

import (
	"encoding/csv"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// classView is a class set as the API shows it.
type classView struct {
	ClassSet
	of    class.Set
	times class.Times
}

// text is the set as a summary for a shell.
func (d *classView) text() string { return d.of.Text(d.times) }

// described reads what is shown of a set.
func (s classSets) described(c echo.Context, id ClassSetID) (*classView, error) {
	v, err := s.orders.jobs.ClassSet(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return nil, lacking(err, "class set")
	}
	terms, err := termsOf(v.ClassSet)
	if err != nil {
		return nil, err
	}
	d := &classView{of: class.Set{Roster: v.Roster, Moves: v.Moves, Share: v.Share, Session: terms.Session, Spares: terms.Spares}, times: class.Times{Deadline: v.Deadline, Closed: v.Closed, Shut: v.Shut}}
	for _, m := range v.Members {
		d.of.Members = append(d.of.Members, memberOf(m, here(c)))
	}
	addLoads(&d.of, v)
	if err := d.of.Fit(c.Request().Context()); err != nil {
		return nil, err
	}
	members := make([]ClassMember, len(v.Members))
	for i, m := range v.Members {
		members[i] = s.showMember(m, &d.of, i)
	}
	counts, base := d.of.Count(), classPath+v.ID.String()
	d.ClassSet = ClassSet{
		ID: v.ID, Owner: v.Client, ClientReference: v.ClientReference, Answer: d.of.Answer(), State: showClassState(v.Shut), Settled: !v.Moves, Share: v.Share,
		Deadline: v.Deadline, ClosedAt: v.Closed, Terms: showTerms(terms), Roster: showRoster(counts, v.Roster), Members: members,
		Session: maybe(terms.Session, showSession), Spares: showSpares(terms.Spares), Stocks: showStocks(&d.of, v.Groups), Loads: showLoads(&d.of, base),
		Schedule: showSchedule(&d.of), TotalMinor: d.of.TotalMinor(), TotalText: d.of.TotalText(),
		CreatedAt: v.Created, UpdatedAt: v.Updated,
		Links: map[string]string{"self": base, "members": base + membersPart, "table": base + membersPart + ".csv", "board": base + "/board", "board_page": boardPage + base + "/board"},
	}
	return d, nil
}

// memberOf is a member as the words of class sets have it.
func memberOf(m queue.ClassMember, host string) class.Member {
	return class.Member{
		Reference: m.Reference, Code: m.Code, Status: plan.Status(m.Status), View: &m.Plan, Problem: failureText(m.Failure, stepText(&m.Plan)),
		Answers: host + plansPath + m.ID.String() + "/answers",
	}
}

func (s classSets) showMember(m queue.ClassMember, set *class.Set, i int) ClassMember {
	of, h, base := &set.Members[i], headOf(m.PlanView), plansPath+m.ID.String()
	out := ClassMember{
		Reference: m.Reference, PlanID: m.ID, DrawingID: m.Drawing, Status: h.Status, StockID: h.StockID, Copies: h.Copies,
		Code: m.Code, Loads: set.LoadsOf(m.Code), CostMinor: of.CostMinor, Problem: of.Problem, Changes: each(of.Changes(), showChange), ReceivedAt: m.Received,
		Links: map[string]string{"plan": base, "drawing_preview": drawingsPath + m.Drawing.String() + "/preview.svg"},
	}
	if h.Status == PlanStatus(plan.Asking) {
		out.Links["answers"] = base + "/answers"
	}
	return out
}

func showChange(c class.Change) ClassChange {
	return ClassChange{Code: string(c.Code), Severity: Severity(c.Severity), Text: c.Text, Where: c.Where, QuestionID: c.Question}
}

func showTerms(t *class.Terms) ClassTerms {
	return ClassTerms{
		StockIds: t.Stocks, Purpose: Purpose(t.Purpose), ConventionID: t.Convention, Frame: t.Frame, Novice: t.Novice, Mirror: t.Mirror, Nesting: Nesting(t.Nesting),
	}
}

func showRoster(r class.Roster, expected []string) ClassRoster {
	return ClassRoster{
		Of: r.Of, Ready: r.Ready, Moving: r.Moving, Asking: r.Asking, Refused: r.Refused, Failed: r.Failed, Cancelled: r.Cancelled,
		NothingReceived: len(r.Missing), Expected: expected, Missing: r.Missing, NotExpected: r.Beyond,
	}
}

func showClassState(shut bool) ClassSetState {
	if shut {
		return ClassSetStateClosed
	}
	return ClassSetStateOpen
}

func showClassHead(s db.ClassHead) ClassSetHead {
	return ClassSetHead{
		ID: s.ID, Owner: s.Client, ClientReference: s.ClientReference, State: showClassState(s.Shut), Settled: s.Moving == 0,
		Members: s.Members, Ready: s.Ready, Deadline: s.Deadline, ClosedAt: s.Closed, CreatedAt: s.Created, UpdatedAt: s.Updated,
	}
}

// GetClassMembers answers GET /v1/class-sets/{class_set_id}/members.csv.
func (s classSets) GetClassMembers(c echo.Context, id ClassSetID) error {
	d, err := s.described(c, id)
	if err != nil {
		return err
	}
	out := newContent("text/csv; charset=utf-8", []byte(membersTable(&d.ClassSet)))
	out.file = "members.csv"
	return send(c, out)
}

// membersTable writes the members of a set as a table (RFC 4180).
func membersTable(s *ClassSet) string {
	table := [][]string{{"reference", "state", "stock_id", "copies", "code", "loads", "cost_minor", "severity", "finding", "change", "where", "question_id", "plan_id"}}
	for _, m := range s.Members {
		changes := m.Changes
		if len(changes) == 0 {
			changes = []ClassChange{{Text: m.Problem}}
		}
		for _, ch := range changes {
			table = append(table, []string{
				cell(m.Reference), string(m.Status), m.StockID, strconv.Itoa(m.Copies),
				m.Code, strings.Join(each(m.Loads, strconv.Itoa), " "), strconv.FormatInt(m.CostMinor, 10), string(ch.Severity), ch.Code, cell(ch.Text), cell(ch.Where), cell(ch.QuestionID), m.PlanID.String(),
			})
		}
	}
	for _, reference := range s.Roster.Missing {
		table = append(table, []string{cell(reference), "missing", "", "", "", "", "", "", "", "", "", "", ""})
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	_ = w.WriteAll(table) // memory takes all
	return b.String()
}
