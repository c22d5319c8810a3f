package server

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"gloam/internal/fault"
)

// tokenHeader is where a page shows its token. No page from elsewhere can send it unasked.
const tokenHeader = "Gloam-Token"

func newToken() string { return rand.Text() }

func port(l net.Listener) string {
	if a, ok := l.Addr().(*net.TCPAddr); ok {
		return strconv.Itoa(a.Port)
	}
	panic("server: not a TCP listener")
}

// guard turns away what comes from elsewhere.
type guard struct{ token, port string }

// policy lets the page use what this server sent and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// mostBody is the largest body of a request, in bytes.
const mostBody = 1 << 20

func (g guard) around(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if p := g.refuse(r); p != nil {
			p.write(w)
			return
		}
		most := int64(mostBody)
		if r.URL.Path == "/api/underlay" {
			most = mostPhotograph
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// refuse says why a request is turned away; nil lets it in. A name of this machine that somebody else's name server
// gave out is as strange as any other.
func (g guard) refuse(r *http.Request) *Problem {
	hosts := []string{"127.0.0.1:" + g.port, "localhost:" + g.port, "[::1]:" + g.port}
	origin := r.Header.Get("Origin")
	token := []byte(r.Header.Get(tokenHeader))
	switch {
	case !slices.Contains(hosts, r.Host):
		return refused(http.StatusMisdirectedRequest, "this is not the server's name", "open the address that the terminal printed")
	case origin != "" && origin != "http://"+r.Host, r.Header.Get("Sec-Fetch-Site") == "cross-site":
		return refused(http.StatusForbidden, "the request comes from another page", "")
	case strings.HasPrefix(r.URL.Path, "/api/") && subtle.ConstantTimeCompare(token, []byte(g.token)) != 1:
		return refused(http.StatusUnauthorized, "the page's token is missing or of an earlier start", "open the address that the terminal printed")
	}
	return nil
}

func refused(status int, text, hint string) *Problem {
	return &Problem{Title: http.StatusText(status), Status: status, Detail: text, Faults: fault.List{{Kind: fault.Call, Text: text, Hint: hint}}}
}

func (p *Problem) write(w http.ResponseWriter) {
	w.Header().Set("Content-Type", p.ContentType("application/json"))
	w.WriteHeader(p.Status)
	json.NewEncoder(w).Encode(p)
}
