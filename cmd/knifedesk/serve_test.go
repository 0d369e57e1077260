package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"knifedesk/cmd/knifedesk/scenario"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
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

// Ten plans are being worked on when the process is killed. After a restart all
// ten are ready, once each, with the bytes that an undisturbed computation
// gives.
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

	second := startProcess(t, bin, data)
	for copies, link := range links {
		p := settled(ctx, t, second.client, link)
		if p.Status != "ready" {
			t.Errorf("%d copies: %s", copies, p.Status)
			continue
		}
		compare(ctx, t, second.client, link, file, copies)
	}
	list, err := second.client.get(ctx, "/v1/plans?limit=100", "application/json")
	if err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(list, []byte(`"status":"ready"`)); n != len(links) {
		t.Errorf("%d plans are ready, want %d", n, len(links))
	}
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

// compare holds the parts that the service kept against those of a computation
// without a database.
func compare(ctx context.Context, t *testing.T, c *client, link string, file []byte, copies int) {
	t.Helper()
	req, err := plan.Choose(workshop.Example(), plan.Choices{Stock: "film-permanent-300", Copies: copies})
	if err != nil {
		t.Fatal(err)
	}
	want, _, err := queue.Local(ctx, queue.Stages(), file, *req)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range want {
		if s.Stage == plan.StageRead {
			continue // not shown by the API
		}
		got, err := c.get(ctx, link+"/"+s.Stage, "application/json")
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, s.Body) {
			t.Errorf("%d copies: stage %s has other bytes than an undisturbed run", copies, s.Stage)
		}
	}
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
