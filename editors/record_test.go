package editors

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net/textproto"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// The test binary is also a program that editors start in place of the server: it starts
// the server itself and writes down all that the two say to each other.
const (
	envServer = "STINT_TEST_SERVER" // the server to start
	envRecord = "STINT_TEST_RECORD" // the file to write to
)

func TestMain(m *testing.M) {
	if os.Getenv(envServer) != "" {
		os.Exit(record())
	}
	code := m.Run()
	if buildDir != "" {
		os.RemoveAll(buildDir)
	}
	os.Exit(code)
}

var buildDir string

// built is the program, built once for all tests.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "stint-editors-")
	if err != nil {
		return "", err
	}
	buildDir = dir
	name := filepath.Join(dir, "stint")
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	if out, err := exec.Command("go", "build", "-o", name, "stint.example/stint/cmd/stint").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return name, nil
})

func stint(t *testing.T) string {
	t.Helper()
	name, err := built()
	require.NoError(t, err)
	return name
}

// recorder is how an editor starts the server so that all is written down in a file: the
// program, and what has to be added to its environment.
func recorder(t *testing.T, file string) (program string, env []string) {
	t.Helper()
	program, err := os.Executable()
	require.NoError(t, err)
	return program, []string{envServer + "=" + stint(t), envRecord + "=" + file}
}

// A message is one that was recorded.
type message struct {
	From string          `json:"from"` // client or server
	Body json.RawMessage `json:"body"`
}

func record() int {
	file, err := os.OpenFile(os.Getenv(envRecord), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 3
	}
	defer file.Close()
	server := exec.Command(os.Getenv(envServer), os.Args[1:]...)
	server.Stderr = os.Stderr
	in, err := server.StdinPipe()
	if err != nil {
		return 3
	}
	out, err := server.StdoutPipe()
	if err != nil {
		return 3
	}
	if err := server.Start(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 3
	}
	var mu sync.Mutex
	note := func(from string, body []byte) {
		mu.Lock()
		defer mu.Unlock()
		line, err := json.Marshal(message{from, body})
		if err != nil { // it is no JSON
			line, _ = json.Marshal(map[string]string{"from": from, "broken": string(body)})
		}
		_, _ = file.Write(append(line, '\n'))
	}
	go func() {
		_ = pass(in, os.Stdin, func(body []byte) { note("client", body) })
		in.Close()
	}()
	passed := pass(os.Stdout, out, func(body []byte) { note("server", body) })
	if err := server.Wait(); err != nil || passed != nil {
		fmt.Fprintln(os.Stderr, err, passed)
		return max(server.ProcessState.ExitCode(), 1)
	}
	return 0
}

// pass hands messages on until there are no more.
func pass(to io.Writer, from io.Reader, note func([]byte)) error {
	r := bufio.NewReader(from)
	for {
		header, err := textproto.NewReader(r).ReadMIMEHeader()
		if err == io.EOF && len(header) == 0 {
			return nil
		}
		if err != nil {
			return err
		}
		n, err := strconv.Atoi(header.Get("Content-Length"))
		if err != nil {
			return err
		}
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			return err
		}
		note(body)
		if _, err := fmt.Fprintf(to, "Content-Length: %d\r\n\r\n%s", n, body); err != nil {
			return err
		}
	}
}
