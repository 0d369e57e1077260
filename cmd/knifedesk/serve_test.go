package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/klauspost/compress/zstd"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// build compiles the command once for the tests that need a real process.
func build(t testing.TB) string {
	t.Helper()
	bin := filepath.Join(t.TempDir(), "knifedesk")
	out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return bin
}

// dataDir returns a folder that the account of the private Postgres can reach.
func dataDir(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "knifedesk-test-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return filepath.Join(dir, "postgres")
}

// process is a running "knifedesk serve".
type process struct {
	*exec.Cmd
	client *client
}

// setUp gives the workshop of a data folder the example's data.
func setUp(t testing.TB, bin, data string) {
	t.Helper()
	cmd := exec.Command(bin, "init", "--example", "--data="+data)
	cmd.Env = append(os.Environ(), "DATABASE_URL=")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("init: %v\n%s", err, out)
	}
}

func startProcess(t testing.TB, bin, data string) *process {
	t.Helper()
	cmd := exec.Command(bin, "serve", "--listen=127.0.0.1:0", "--data="+data)
	cmd.Env = append(os.Environ(), "DATABASE_URL=")
	cmd.Stderr = io.Discard
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the service did not start: %v", err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	return &process{cmd, &client{base: strings.Fields(line)[2]}}
}

// end asks the process to end and waits until it has.
func (p *process) end(t *testing.T) {
	t.Helper()
	if err := p.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := p.Wait(); err != nil {
		t.Fatalf("the service does not end well: %v", err)
	}
}

// stopsWithin is how long a process may take that is asked to end, as the README says.
const stopsWithin = 45 * time.Second

// endInTheMiddle asks a process to end that works on plans, while somebody reads how
// one of them gets on: that answer is brought to its end, and the process ends well
// and in time.
func endInTheMiddle(t *testing.T, p *process, link string) {
	t.Helper()
	resp, err := http.Get(p.client.base + link + "/events")
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	events := bufio.NewReader(resp.Body)
	if first, err := events.ReadString('\n'); err != nil || !strings.HasPrefix(first, "event: ") && !strings.HasPrefix(first, "id: ") {
		t.Fatalf("%q, %v", first, err)
	}
	began := time.Now()
	p.end(t)
	if took := time.Since(began); took > stopsWithin*2/3 {
		t.Errorf("it took %v to end", took)
	}
	if _, err := io.Copy(io.Discard, events); err != nil {
		t.Errorf("an answer under way when the service stops is cut off: %v", err)
	}
}

// Ten plans are being worked on when the process is killed, and again when the next
// one is asked to end. After a restart all ten are ready, once each, with the bytes
// that an undisturbed computation gives.
func TestKilledInTheMiddle(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	file, err := scenario.RingSign().DXF()
	if err != nil {
		t.Fatal(err)
	}
	bin, data := build(t), dataDir(t)
	setUp(t, bin, data)
	first := startProcess(t, bin, data)
	links := map[int]string{}
	for copies := 1; copies <= 10; copies++ {
		p, err := first.client.plan(ctx, "/v1/plans", formType, formBody(t, file, copies), "")
		if err != nil {
			t.Fatal(err)
		}
		links[copies] = p.Links["self"]
	}
	first.Process.Kill()
	first.Wait()
	endInTheMiddle(t, startProcess(t, bin, data), links[10])

	second := startProcess(t, bin, data)
	want := map[string][]local.Done{}
	for copies, link := range links {
		p := settled(ctx, t, second.client, link)
		if p.Status != "ready" {
			t.Errorf("%d copies: %s", copies, p.Status)
			continue
		}
		want[link] = undisturbed(ctx, t, file, copies)
		compareShown(ctx, t, second.client, link, want[link])
	}
	list, err := second.client.get(ctx, "/v1/plans?limit=100", "application/json")
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(list, []byte(`"status":"ready"`)); n != len(links) {
		t.Errorf("%d plans are ready, want %d", n, len(links))
	}
	second.end(t)
	compareKept(ctx, t, data, want)
}

func settled(ctx context.Context, t *testing.T, c *client, link string) *planBody {
	t.Helper()
	for {
		raw, err := c.get(ctx, link, "application/json")
		if err != nil {
			t.Fatal(err)
		}
		p := &planBody{}
		if err := json.Unmarshal(raw, p); err != nil {
			t.Fatal(err)
		}
		if p.Status != "queued" && p.Status != "working" {
			return p
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// undisturbed computes a plan without a database.
func undisturbed(ctx context.Context, t *testing.T, file []byte, copies int) []local.Done {
	t.Helper()
	list := jobs.NewList()
	req, err := list.Choose(workshop.Example(), plan.Choices{Stock: "film-permanent-300", Copies: copies})
	if err != nil {
		t.Fatal(err)
	}
	done, _, err := local.Run(ctx, list.Rows, file, req)
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// compareShown holds the parts that the service shows against the results of an
// undisturbed computation.
func compareShown(ctx context.Context, t *testing.T, c *client, link string, want []local.Done) {
	t.Helper()
	for _, d := range want {
		if d.Row.Hidden {
			continue // not shown by the API
		}
		got, err := c.get(ctx, link+"/"+d.Row.Name, "application/json")
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(asShown(t, d), values(t, got)); diff != "" {
			t.Errorf("%s: the %s of an undisturbed run (-) is shown (+) as\n%s", link, d.Row.Name, diff)
		}
	}
}

// asShown is what the API shows of a result: all of it, and with each finding and
// each question the page of its code; what the minutes of an estimate are made of is
// for fitting them.
func asShown(t *testing.T, d local.Done) any {
	t.Helper()
	all := values(t, d.Body)
	if d.Row.Name == "estimate" {
		m := all.(map[string]any)
		if m["basis"] == nil {
			t.Error("the estimate has no basis")
		}
		delete(m, "basis")
	}
	helped(all)
	return all
}

// helped links all findings and questions; nothing else has hints for technicians, or
// answers.
func helped(value any) {
	switch v := value.(type) {
	case []any:
		for _, part := range v {
			helped(part)
		}
	case map[string]any:
		if v["technician_hint"] != nil || v["answers"] != nil {
			v["help"] = fmt.Sprint("/help/", v["code"])
		}
		for _, part := range v {
			helped(part)
		}
	}
}

// values are what any reader of a JSON text sees.
func values(t *testing.T, text []byte) (v any) {
	t.Helper()
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// compareKept holds the results that a stopped service kept of its plans against
// those of an undisturbed computation, byte for byte.
func compareKept(ctx context.Context, t *testing.T, data string, want map[string][]local.Done) {
	t.Helper()
	store, err := openDatabase(ctx, "", data, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	defer store.close()
	for link, done := range want {
		id, err := uuid.Parse(path.Base(link))
		if err != nil {
			t.Fatal(err)
		}
		kept, err := store.PlanResults(ctx, id)
		if err != nil || len(kept) != len(done) {
			t.Fatalf("%s: %d results are kept, want %d; %v", link, len(kept), len(done), err)
		}
		for i, d := range done {
			if kept[i].Stage != d.Row.Name || !bytes.Equal(unpacked(t, kept[i]), d.Body) {
				t.Errorf("%s: the %s kept has other bytes than the %s of an undisturbed run", link, kept[i].Stage, d.Row.Name)
			}
		}
	}
}

// unpacked is the JSON of a result that is kept.
func unpacked(t *testing.T, r db.Result) []byte {
	t.Helper()
	if r.Codec == db.Plain {
		return r.Body
	}
	in, err := zstd.NewReader(bytes.NewReader(r.Body))
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	body, err := io.ReadAll(in)
	if err != nil {
		t.Fatal(err)
	}
	return body
}

const formType = "multipart/form-data; boundary=knifedesk"

func formBody(t *testing.T, file []byte, copies int) io.Reader {
	t.Helper()
	var b bytes.Buffer
	for name, value := range map[string]string{"stock": "film-permanent-300", "copies": strconv.Itoa(copies)} {
		fmt.Fprintf(&b, "--knifedesk\r\nContent-Disposition: form-data; name=%q\r\n\r\n%s\r\n", name, value)
	}
	fmt.Fprintf(&b, "--knifedesk\r\nContent-Disposition: form-data; name=\"drawing\"; filename=\"label.dxf\"\r\n\r\n%s\r\n--knifedesk--\r\n", file)
	return &b
}
