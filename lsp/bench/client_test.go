// Package bench measures the language server from outside, as an editor sees it: over its
// standard input and output, on a workspace of thousands of sessions. See its README for
// what was measured.
package bench

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net/textproto"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A client is the least of an editor that can drive any language server.
type client struct {
	cmd *exec.Cmd
	in  io.WriteCloser

	mu      sync.Mutex
	next    int
	waiting map[int]chan message
	shown   chan published // what was published, in order
	early   []published    // and has been passed over
	gone    chan struct{}  // closed when the server's output ends
}

type message struct {
	ID     json.RawMessage `json:"id,omitempty"`
	Method string          `json:"method,omitempty"`
	Params json.RawMessage `json:"params,omitempty"`
	Result json.RawMessage `json:"result,omitempty"`
	Error  json.RawMessage `json:"error,omitempty"`
}

// published is what a server says of one document.
type published struct {
	URI         string `json:"uri"`
	Version     int    `json:"version"`
	Diagnostics []struct {
		Message string `json:"message"`
	} `json:"diagnostics"`
}

// start runs a server.
func start(name string, args ...string) (*client, error) {
	c := &client{cmd: exec.Command(name, args...), waiting: map[int]chan message{}, shown: make(chan published, 1<<16),
		gone: make(chan struct{})}
	in, err := c.cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	c.in = in
	if err := c.cmd.Start(); err != nil {
		return nil, err
	}
	go c.read(bufio.NewReaderSize(out, 1<<20))
	return c, nil
}

func (c *client) read(r *bufio.Reader) {
	defer close(c.gone)
	for {
		head, err := textproto.NewReader(r).ReadMIMEHeader()
		if err != nil {
			return
		}
		n, err := strconv.Atoi(head.Get("Content-Length"))
		if err != nil {
			return
		}
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			return
		}
		var m message
		if json.Unmarshal(body, &m) != nil {
			return
		}
		c.take(m)
	}
}

func (c *client) take(m message) {
	switch {
	case m.Method == "textDocument/publishDiagnostics":
		var p published
		if json.Unmarshal(m.Params, &p) == nil {
			c.shown <- p
		}
	case m.Method == "workspace/configuration":
		var p struct {
			Items []json.RawMessage `json:"items"`
		}
		_ = json.Unmarshal(m.Params, &p)
		_ = c.write(map[string]any{"jsonrpc": "2.0", "id": m.ID, "result": make([]any, len(p.Items))})
	case m.Method != "" && m.ID != nil:
		_ = c.write(map[string]any{"jsonrpc": "2.0", "id": m.ID, "result": nil})
	case m.Method == "":
		id, err := strconv.Atoi(string(m.ID))
		if err != nil {
			return
		}
		c.mu.Lock()
		wait := c.waiting[id]
		delete(c.waiting, id)
		c.mu.Unlock()
		if wait != nil {
			wait <- m
		}
	}
}

func (c *client) write(v any) error {
	body, err := json.Marshal(v)
	if err != nil {
		return err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	_, err = fmt.Fprintf(c.in, "Content-Length: %d\r\n\r\n%s", len(body), body)
	return err
}

// call asks and waits for the answer.
func (c *client) call(method string, params any) (json.RawMessage, error) {
	wait := make(chan message, 1)
	c.mu.Lock()
	c.next++
	id := c.next
	c.waiting[id] = wait
	c.mu.Unlock()
	if err := c.write(map[string]any{"jsonrpc": "2.0", "id": id, "method": method, "params": params}); err != nil {
		return nil, err
	}
	select {
	case m := <-wait:
		if m.Error != nil {
			return nil, fmt.Errorf("%s: %s", method, m.Error)
		}
		return m.Result, nil
	case <-c.gone:
		return nil, fmt.Errorf("%s: the server is gone", method)
	case <-time.After(patience):
		return nil, fmt.Errorf("%s: no answer in %v", method, patience)
	}
}

func (c *client) notify(method string, params any) error {
	return c.write(map[string]any{"jsonrpc": "2.0", "method": method, "params": params})
}

// patience is how long one answer may take before the measurement is given up.
const patience = 2 * time.Minute

// published waits for what a document of a version, or of any where it is less than 0, draws.
func (c *client) published(uri string, version int) (published, error) {
	fits := func(p published) bool { return p.URI == uri && (version < 0 || p.Version == version) }
	if i := slices.IndexFunc(c.early, fits); i >= 0 {
		p := c.early[i]
		c.early = slices.Delete(c.early, i, i+1)
		return p, nil
	}
	limit := time.After(patience)
	for {
		select {
		case p := <-c.shown:
			if fits(p) {
				return p, nil
			}
			c.early = append(c.early, p)
		case <-c.gone:
			return published{}, fmt.Errorf("the server is gone")
		case <-limit:
			return published{}, fmt.Errorf("nothing of %s in %v", uri, patience)
		}
	}
}

// memory is what the server's process holds now and held at most, in MiB; zero where the
// system does not say.
func (c *client) memory() (now, most float64) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", c.cmd.Process.Pid))
	if err != nil {
		return 0, 0
	}
	of := func(key string) float64 {
		_, rest, _ := strings.Cut(string(text), key+":")
		f := strings.Fields(rest)
		if len(f) == 0 {
			return 0
		}
		kb, _ := strconv.ParseFloat(f[0], 64)
		return kb / 1024
	}
	return of("VmRSS"), of("VmHWM")
}

// stop ends the server as the protocol has it.
func (c *client) stop() error {
	if _, err := c.call("shutdown", nil); err != nil {
		_ = c.cmd.Process.Kill()
		return err
	}
	_ = c.notify("exit", nil)
	return c.cmd.Wait()
}
