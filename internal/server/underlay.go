package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // of the two forms a photograph may have
	_ "image/png"
	"io/fs"
	"math"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"gloam/internal/fault"
	"gloam/internal/plan"
	"gloam/internal/server/desk"
	"gloam/internal/unit"
)

// Bounds of a photograph that is laid under a plan.
const (
	mostPhotograph = 16 << 20 // bytes
	mostPixels     = 100_000_000
)

// UnderlayDrawn is the photograph under the ground plan.
type UnderlayDrawn struct {
	File  string        `json:"file" doc:"beside the plan"`
	At    Spot          `json:"at" doc:"its lower left corner"`
	Width unit.Metre    `json:"width_m"`
	Turn  unit.Degree   `json:"turn_deg" doc:"clockwise about that corner"`
	Fade  unit.Fraction `json:"fade"`
}

const underlayPath = "set.underlay" // of the whole plan, whatever the set-up

// underlay draws the photograph, and lets it be taken by its corner.
func (d *drawer) underlay() {
	u := d.view.Document.Set.Underlay
	if u == nil {
		return
	}
	at := Spot{float64(u.At.X), float64(u.At.Y)}
	d.out.Underlay = &UnderlayDrawn{u.File, at, *u.Width, u.Turn, *u.Fade}
	h := &Handle{Name: "photograph", Kind: "photograph", At: [3]float64{at[0], at[1], 0}, Path: underlayPath, Fields: []Field{}, Copy: []Field{},
		Remove: d.everywhere(underlayPath, ""), Move: &Move{Path: underlayPath + ".at", Floor: true, First: []desk.Change{}}}
	for _, f := range [][2]string{{"width", u.Width.String()}, {"turn", u.Turn.String()}, {"fade", u.Fade.String()}} {
		h.Fields = append(h.Fields, Field{f[0], h.Path.Join(f[0]), f[1]})
	}
	d.out.Handles = append(d.out.Handles, h)
}

type photographQuery struct {
	PlanQuery
	File string `query:"file" required:"true" doc:"beside the plan"`
}

type photographReply struct {
	Type string `header:"Content-Type"`
	Body []byte
}

type keepPhotograph struct {
	PlanQuery
	Name    string `query:"name" required:"true" maxLength:"200" doc:"of the file as it was chosen"`
	RawBody []byte
}

type keptPhotograph struct {
	Body struct {
		File string `json:"file" doc:"as the plan names it"`
	}
}

type scaleCall struct {
	PlanQuery
	Body struct {
		From   Spot   `json:"from" doc:"one end of a length that is known"`
		To     Spot   `json:"to"`
		Length string `json:"length" maxLength:"40" doc:"of it, as typed"`
	}
}

type scaleReply struct {
	Body struct {
		Changes []desk.Change `json:"changes"`
	}
}

func (s *Server) underlayAPI(api huma.API) {
	huma.Register(api, operation(api, "underlay", http.MethodGet, "/api/underlay", "A photograph that lies beside a plan"),
		func(_ context.Context, in *photographQuery) (*photographReply, error) {
			text, form, err := s.photograph(in.Plan, in.File)
			if err != nil {
				return nil, problem(err)
			}
			return &photographReply{"image/" + form, text}, nil
		})
	keep := operation(api, "keep-underlay", http.MethodPost, "/api/underlay", "Lay a photograph beside a plan, under a name that is free")
	keep.MaxBodyBytes = mostPhotograph
	huma.Register(api, keep, func(_ context.Context, in *keepPhotograph) (*keptPhotograph, error) {
		file, err := s.keepPhotograph(in.Plan, in.Name, in.RawBody)
		if err != nil {
			return nil, problem(err)
		}
		r := &keptPhotograph{}
		r.Body.File = file
		return r, nil
	})
	huma.Register(api, operation(api, "scale-underlay", http.MethodPost, "/api/underlay/scale", "What makes a length on the photograph as long as it is known to be"),
		func(_ context.Context, in *scaleCall) (*scaleReply, error) {
			u, err := s.underlayOf(in.Plan)
			if err != nil {
				return nil, err
			}
			r := &scaleReply{}
			if r.Body.Changes, err = scaled(u, in.Body.From, in.Body.To, in.Body.Length); err != nil {
				return nil, problem(err)
			}
			return r, nil
		})
}

// form returns what kind of picture a file holds: png or jpeg.
func form(text []byte) (string, error) {
	c, form, err := image.DecodeConfig(bytes.NewReader(text))
	switch {
	case err != nil:
		return "", fault.Fault{Kind: fault.Call, Text: "this is no picture that can be read", Allowed: "PNG or JPEG"}
	case c.Width*c.Height > mostPixels || c.Width < 1 || c.Height < 1:
		return "", fault.Fault{Kind: fault.Call, Text: "the picture has too many pixels", Read: fmt.Sprintf("%d x %d", c.Width, c.Height), Allowed: "up to 100 million"}
	}
	return form, nil
}

// photograph reads a picture beside a plan, inside the folder.
func (s *Server) photograph(of, name string) (text []byte, kind string, err error) {
	if _, err = s.folder.file(of); err != nil {
		return nil, "", err
	}
	inFolder := path.Join(path.Dir(of), name)
	if !fs.ValidPath(inFolder) || strings.ContainsRune(name, '\\') || !slices.Contains(plan.Pictures, strings.ToLower(path.Ext(name))) {
		return nil, "", notThere("there is no such picture beside the plan", name)
	}
	info, err := s.folder.root.Stat(inFolder)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostPhotograph {
		return nil, "", notThere("there is no such picture beside the plan", name)
	}
	if text, err = s.folder.root.ReadFile(inFolder); err != nil {
		return nil, "", notThere("there is no such picture beside the plan", name)
	}
	kind, err = form(text)
	return text, kind, err
}

// keepPhotograph writes a picture beside a plan and returns its name there.
func (s *Server) keepPhotograph(of, name string, text []byte) (string, error) {
	if _, err := s.folder.file(of); err != nil {
		return "", err
	}
	kind, err := form(text)
	if err != nil {
		return "", err
	}
	stem := stemOf(strings.TrimSuffix(path.Base(filepath.ToSlash(name)), path.Ext(name)))
	if stem == "plan" {
		stem = "photograph"
	}
	ending := map[string]string{"png": ".png", "jpeg": ".jpg"}[kind]
	for n := 1; n <= mostPlans; n++ {
		file := stem + ending
		if n > 1 {
			file = fmt.Sprintf("%s-%d%s", stem, n, ending)
		}
		inFolder := path.Join(path.Dir(of), file)
		f, err := s.folder.root.OpenFile(inFolder, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", fault.Fault{Kind: fault.Unfinished, Text: "can't keep the picture: " + err.Error()}
		}
		f.Close() // the name is taken; Save fills it in one go
		if err := plan.Save(filepath.Join(s.folder.path, filepath.FromSlash(inFolder)), text); err != nil {
			s.folder.root.Remove(inFolder)
			return "", err
		}
		return file, nil
	}
	return "", fault.Fault{Kind: fault.Unfinished, Text: "too many pictures have this name"}
}

// underlayOf returns what lies under a plan as it stands.
func (s *Server) underlayOf(name string) (*plan.Underlay, error) {
	d, file, err := s.folder.desk(name)
	if err != nil {
		return nil, err
	}
	state, _ := d.State()
	p, faults := s.folder.read(file, state.Text)
	if p == nil {
		return nil, problem(faults.Err())
	}
	if p.Document.Set.Underlay == nil {
		return nil, notThere("there is no photograph under the plan", name)
	}
	return p.Document.Set.Underlay, nil
}

// scaled returns the edit that makes the way between two places of a photograph as long as it is known to be; the first stays
// where it is.
func scaled(u *plan.Underlay, from, to Spot, length string) ([]desk.Change, error) {
	var known unit.Metre
	if err := known.Parse(length); err != nil {
		return nil, fault.Fault{Kind: fault.Call, Path: "length", Text: err.Error(), Read: length, Allowed: known.Forms()}
	}
	by := float64(known) / math.Hypot(to[0]-from[0], to[1]-from[1])
	width := *u.Width * unit.Metre(by)
	const least, most = 0.01, 1000
	if !(float64(width) >= least && width <= most) {
		return nil, fault.Fault{Kind: fault.Call, Path: "length", Text: "makes the photograph no size that a set has", Read: length, Allowed: "a width of 1 cm to 1 km"}
	}
	at := Spot{from[0] + (float64(u.At.X)-from[0])*by, from[1] + (float64(u.At.Y)-from[1])*by}
	text := func(s string) *string { return &s }
	return []desk.Change{{Path: underlayPath + ".width", Value: text(fmt.Sprintf("%.4f m", float64(width)))},
		{Path: underlayPath + ".at", Value: text(fmt.Sprintf("%.3f %.3f", at[0], at[1]))}}, nil
}
