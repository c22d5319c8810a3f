// Package server is the page's front door: the plans of one folder, edited, read and drawn over HTTP on this machine.
//
// It holds no physics. Edits go through package desk, readings and pictures come from package pipeline, so page and terminal
// show the same. Whoever has a plan open listens to one stream of events: the plan as it stands, its faults, its drawing,
// its readings as they sharpen, its picture.
//
// Only this machine may ask, by its own name; only a page that this server sent may change anything, and only with the
// token that stands in the address the terminal printed. No file outside the folder is read or written.
package server

import (
	"context"
	"errors"
	"io/fs"
	"net"
	"net/http"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"gloam/internal/fault"
)

// Config is what a server serves.
type Config struct {
	Folder   string
	Examples fs.FS // each NAME/plan.yaml
	Page     fs.FS // index.html and what it asks for
	Quick    func(context.Context, Question) (*QuickReply, error)
}

// Server serves one folder. Close ends what it started.
type Server struct {
	config Config
	folder *folder
	token  string
	end    context.Context // of all work
	stop   context.CancelFunc
	guard  guard
	clocks chan struct{} // being worked out

	mu       sync.Mutex
	loops    map[loopKey]*loop
	searches map[string]context.CancelFunc // for ways, by the name their page gave
}

// New opens the folder. The error is a fault.
func New(c Config) (*Server, error) {
	f, err := openFolder(c.Folder)
	if err != nil {
		return nil, err
	}
	s := &Server{config: c, folder: f, token: newToken(), loops: map[loopKey]*loop{}, searches: map[string]context.CancelFunc{}, clocks: make(chan struct{}, mostClocks)}
	s.end, s.stop = context.WithCancel(context.Background())
	return s, nil
}

// Close ends all streams and all work.
func (s *Server) Close() {
	s.stop()
	s.folder.close()
}

// Address returns what to open in a browser. The token stands behind the #, which a browser sends to nobody.
func Address(l net.Listener, token string) string {
	return "http://" + l.Addr().String() + "/#" + token
}

// Token is what a page must show to be answered.
func (s *Server) Token() string { return s.token }

// Bounds of a connection that hangs.
const (
	headerTime = 5 * time.Second
	idleTime   = 2 * time.Minute
	endTime    = 2 * time.Second
	mostHeader = 16 << 10 // bytes
)

// Serve answers what comes in by the listener until the context ends. The error is a fault.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	s.guard = guard{token: s.token, port: port(l)}
	web := &http.Server{Handler: s.handler(), ReadHeaderTimeout: headerTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHeader,
		BaseContext: func(net.Listener) context.Context { return s.end }}
	ended := context.AfterFunc(ctx, func() {
		s.stop() // streams end, so that the shutdown need not wait for them
		last, cancel := context.WithTimeout(context.Background(), endTime)
		defer cancel()
		web.Shutdown(last)
	})
	defer ended()
	if err := web.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return fault.Fault{Kind: fault.Unfinished, Text: "the server stopped: " + err.Error()}
	}
	return nil
}

func (s *Server) handler() http.Handler {
	mux := http.NewServeMux()
	s.describe(mux)
	mux.Handle("GET /", http.FileServerFS(s.config.Page))
	return s.guard.around(mux)
}

// describe puts the operations on the mux and returns their description.
func (s *Server) describe(mux *http.ServeMux) huma.API {
	c := huma.DefaultConfig("Gloam", "1")
	c.OpenAPIPath, c.DocsPath, c.SchemasPath, c.CreateHooks = "/api/openapi", "", "", nil // the library's page of documents asks outside
	c.Transformers = append(c.Transformers, ofLibrary)
	api := humago.New(mux, c)
	s.plansAPI(api)
	s.editAPI(api)
	s.streamAPI(api)
	s.pictureAPI(api)
	s.quickAPI(api)
	s.clockAPI(api)
	s.underlayAPI(api)
	s.waysAPI(api)
	s.coloursAPI(api)
	s.variantsAPI(api)
	return api
}
