package api

import (
	"bufio"
	"fmt"
	"net"
	"net/http"
	"testing"
	"time"

	"github.com/labstack/echo/v4"
)

// TestNoRequestHidesInAnother sends requests whose length two readers could take differently, with
// another request behind them (RFC 9112, 6.3 and 11.2): they are refused and the connection ends, so
// that what is hidden in them is never answered.
func TestNoRequestHidesInAnother(t *testing.T) {
	e := echo.New()
	e.Any("/*", func(c echo.Context) error { return c.NoContent(http.StatusNoContent) })
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := Server(e, "")
	go func() { _ = server.Serve(listener) }()
	t.Cleanup(func() { _ = server.Close() })
	const hidden = "GET /hidden HTTP/1.1\r\nHost: x\r\n\r\n"
	for name, head := range map[string]string{
		"two lengths":            "Content-Length: 0\r\nContent-Length: 40\r\n",
		"a length with a sign":   "Content-Length: +0\r\n",
		"a list of lengths":      "Content-Length: 0, 40\r\n",
		"an unknown coding":      "Transfer-Encoding: xchunked\r\n",
		"a coding on top":        "Transfer-Encoding: gzip, chunked\r\n",
		"two codings":            "Transfer-Encoding: chunked\r\nTransfer-Encoding: identity\r\n",
		"a blank before a colon": "Content-Length : 40\r\n",
		"a bare return":          "X: a\rContent-Length: 40\r\n",
	} {
		status := answers(t, listener.Addr().String(), "POST / HTTP/1.1\r\nHost: x\r\n"+head+"\r\n"+hidden)
		if len(status) != 1 || status[0] < 400 {
			t.Errorf("%s: answered with %v, want one refusal", name, status)
		}
	}
	// Length and coding at once: the coding counts, so the end is where it says.
	both := "POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"
	if status := answers(t, listener.Addr().String(), both); len(status) != 1 {
		t.Errorf("length and coding: answered with %v", status)
	}
}

// answers sends bytes and gives the status of each answer until the connection ends or rests.
func answers(t *testing.T, address, text string) (status []int) {
	t.Helper()
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	_ = conn.SetDeadline(time.Now().Add(5 * time.Second))
	if _, err := fmt.Fprint(conn, text); err != nil {
		t.Fatal(err)
	}
	if half, ok := conn.(*net.TCPConn); ok {
		_ = half.CloseWrite()
	}
	for reader := bufio.NewReader(conn); ; {
		answer, err := http.ReadResponse(reader, nil)
		if err != nil {
			return status
		}
		answer.Body.Close()
		status = append(status, answer.StatusCode)
	}
}
