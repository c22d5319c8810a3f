package server

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWhoIsTurnedAway(t *testing.T) {
	c := running(t, withPlan(t, small))
	host := strings.TrimPrefix(c.at, "http://")
	port := host[strings.LastIndex(host, ":"):]
	set := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	named := func(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }
	cases := []struct {
		name         string
		method, path string
		change       func(*http.Request)
		want         int
	}{
		{"the page itself", "GET", "/api/plans", nil, 200},
		{"by localhost", "GET", "/api/plans", named("localhost" + port), 200},
		{"from its own origin", "GET", "/api/plans", set("Origin", c.at), 200},
		{"a name that leads here from elsewhere", "GET", "/api/plans", named("evil.example" + port), 421},
		{"the name of another port", "GET", "/api/plans", named("127.0.0.1:1"), 421},
		{"no port", "GET", "/", named("127.0.0.1"), 421},
		{"another page's origin", "POST", "/api/plan/undo?plan=table.yaml", set("Origin", "http://evil.example"), 403},
		{"an origin without a name", "POST", "/api/plan/undo?plan=table.yaml", set("Origin", "null"), 403},
		{"another port's origin", "GET", "/api/plans", set("Origin", "http://127.0.0.1:1"), 403},
		{"another site's form", "GET", "/api/plans", set("Sec-Fetch-Site", "cross-site"), 403},
		{"no token", "GET", "/api/plans", set(tokenHeader, ""), 401},
		{"a wrong token", "POST", "/api/plans", set(tokenHeader, "x"+c.token[1:]), 401},
		{"a longer token", "POST", "/api/plans", set(tokenHeader, c.token+"x"), 401},
		{"the page before it has a token", "GET", "/", set(tokenHeader, ""), 200},
		{"the page changed", "POST", "/", nil, 405},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			if status, text := c.ask(k.method, k.path, nil, k.change); status != k.want {
				t.Errorf("status %d, want %d: %s", status, k.want, text)
			}
		})
	}
}

func TestThePageMayAskNobodyElse(t *testing.T) {
	c := running(t, t.TempDir())
	answer, err := http.Get(c.at + "/")
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	for name, want := range map[string]string{"Content-Security-Policy": "default-src 'none'; script-src 'self';", "X-Content-Type-Options": "nosniff",
		"Referrer-Policy": "no-referrer", "Cache-Control": "no-store", "Cross-Origin-Resource-Policy": "same-origin"} {
		if got := answer.Header.Get(name); !strings.HasPrefix(got, want) {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
}

func TestABodyIsBounded(t *testing.T) {
	c := running(t, withPlan(t, small))
	long := `{"title": "` + strings.Repeat("x", mostBody) + `"}`
	if status, text := c.ask("POST", "/api/plans", long, nil); status != http.StatusRequestEntityTooLarge && status != http.StatusInternalServerError {
		t.Errorf("status %d: %s", status, text)
	}
}

func TestNoNameLeadsOutOfTheFolder(t *testing.T) {
	outside := withPlan(t, small)
	folder := withPlan(t, small)
	for _, err := range []error{
		os.Symlink(filepath.Join(outside, "table.yaml"), filepath.Join(folder, "link.yaml")),
		os.Symlink(outside, filepath.Join(folder, "way")),
		os.Symlink("table.yaml", filepath.Join(folder, "inner.yaml")),
		os.Mkdir(filepath.Join(folder, "folder.yaml"), 0o755),
		os.WriteFile(filepath.Join(folder, ".hidden.yaml"), []byte(small), 0o644),
		os.WriteFile(filepath.Join(folder, "other.txt"), []byte(small), 0o644),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	c := running(t, folder)
	cases := []struct{ name, plan string }{
		{"dots", "../" + filepath.Base(outside) + "/table.yaml"},
		{"dots within", "way/../../x.yaml"},
		{"an absolute path", filepath.Join(outside, "table.yaml")},
		{"a link to a file outside", "link.yaml"},
		{"a link to a folder outside", "way/table.yaml"},
		{"a folder", "folder.yaml"},
		{"a hidden file", ".hidden.yaml"},
		{"a journal", ".table.yaml.journal"},
		{"no plan", "other.txt"},
		{"backslashes", `..\table.yaml`},
		{"a zero byte", "table.yaml%00"},
		{"nothing", ""},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			if status, text := c.ask("GET", "/api/plan?plan="+k.plan, nil, nil); status < 400 || strings.Contains(text, "A table") {
				t.Errorf("status %d: %s", status, text)
			}
			if status, text := c.ask("POST", "/api/plan/edits?plan="+k.plan, edit(1, "title", "x"), nil); status < 400 {
				t.Errorf("edited: %s", text)
			}
		})
	}
	if status, text := c.ask("GET", "/api/plan?plan=inner.yaml", nil, nil); status != 200 {
		t.Errorf("a link that stays inside: %d %s", status, text)
	}
	if text, _ := os.ReadFile(filepath.Join(outside, "table.yaml")); string(text) != small {
		t.Errorf("the file outside was changed:\n%s", text)
	}
	var list struct{ Plans []PlanFile }
	c.must("GET", "/api/plans", nil, &list)
	if len(list.Plans) != 1 || list.Plans[0] != (PlanFile{"table.yaml", "A table"}) {
		t.Errorf("the list is %+v", list.Plans)
	}
}
