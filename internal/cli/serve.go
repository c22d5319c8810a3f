package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"gloam/examples"
	"gloam/internal/fault"
	"gloam/internal/server"
	"gloam/web"
)

// serveCall is one call of `gloam serve`.
type serveCall struct {
	port  int
	share bool
}

func serve(t *terminal) *cobra.Command {
	var call serveCall
	c := &cobra.Command{
		Use:   "serve [DIR]",
		Short: "The page: draw a plan, turn its dials, see its stops",
		Long: `Serves the plans of a folder as a page to this machine alone, prints the
address to open and runs until it is interrupted. What is edited is saved at once;
undo reaches back over restarts. Nothing outside the folder is read or written, and
nothing is asked of any network.`,
		Args: atMostOne,
		RunE: func(c *cobra.Command, args []string) error {
			folder := "."
			if len(args) == 1 {
				folder = args[0]
			}
			return t.serve(c.Context(), folder, &call)
		},
	}
	c.Flags().IntVar(&call.port, "port", 0, "port to listen on; any free one if not given")
	c.Flags().BoolVar(&call.share, "share", false, "for the crew on the local network: not to be had yet")
	return c
}

// atMostOne asks for a folder or nothing, in the program's own words.
func atMostOne(_ *cobra.Command, args []string) error {
	if len(args) > 1 {
		return fault.Fault{Kind: fault.Call, Text: fmt.Sprintf("wants one folder, and got %d words", len(args))}
	}
	return nil
}

func (t *terminal) serve(ctx context.Context, folder string, call *serveCall) error {
	if call.share {
		return fault.Fault{Kind: fault.Call, Path: "--share", Text: "the page can't be shared yet",
			Hint: "it is for this machine alone until devices can be paired"}
	}
	if call.port < 0 || call.port > 65535 {
		return fault.Fault{Kind: fault.Call, Path: "--port", Text: "is no port", Read: strconv.Itoa(call.port), Allowed: "0 to 65535"}
	}
	s, err := server.New(server.Config{Folder: folder, Examples: examples.Plans, Page: web.Page(), Quick: quickReply})
	if err != nil {
		return err
	}
	defer s.Close()
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(call.port)))
	if err != nil {
		return fault.Fault{Kind: fault.Call, Path: "--port", Text: "can't listen: " + err.Error()}
	}
	address := server.Address(l, s.Token())
	if t.json {
		if err := t.printJSON(map[string]string{"address": address}); err != nil {
			return err
		}
	} else {
		fmt.Fprintln(t.out, "open "+address)
	}
	return s.Serve(ctx, l)
}

// quickReply answers the page's question with the command that answers it at the terminal.
func quickReply(ctx context.Context, asked server.Question) (*server.QuickReply, error) {
	var options []string
	for _, name := range slices.Sorted(maps.Keys(asked)) {
		options = append(options, "--"+name+"="+asked[name])
	}
	answer := func(asJSON bool) ([]byte, error) {
		var b bytes.Buffer
		c := quick(&terminal{out: &b, err: io.Discard, json: asJSON})
		c.SilenceErrors, c.SilenceUsage = true, true
		c.SetArgs(options)
		err := ours(c.ExecuteContext(ctx))
		return b.Bytes(), err
	}
	document, err := answer(true)
	if err != nil {
		return nil, err
	}
	lines, err := answer(false)
	if err != nil {
		return nil, err
	}
	reply := &server.QuickReply{Lines: strings.Split(strings.TrimRight(string(lines), "\n"), "\n")}
	return reply, json.Unmarshal(document, &reply.QuickAnswer)
}
