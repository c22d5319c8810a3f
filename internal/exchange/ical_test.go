package exchange

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// component is a part of a calendar as a strict reader has it.
type component struct {
	name       string
	properties map[string][]string // TEXT values unescaped
	parts      []*component
}

var (
	contentLine = regexp.MustCompile(`^([A-Z-]+)((?:;[A-Z-]+=[A-Z-]+)*):(.*)$`)
	instant     = regexp.MustCompile(`^\d{8}T\d{6}Z$`)
)

// readStrictly reads a calendar as [RFC5545] has it and no other way: line ends of section 3.1, folds of at most 75 octets
// between characters, values of section 3.3, the properties that sections 3.6, 3.6.1 and 3.6.6 ask for, once each.
func readStrictly(text string) (*component, error) {
	if !utf8.ValidString(text) {
		return nil, errors.New("not UTF-8")
	}
	if strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\r") || strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\n") {
		return nil, errors.New("a line end that is not CRLF")
	}
	if !strings.HasSuffix(text, "\r\n") {
		return nil, errors.New("the last line has no end")
	}
	var lines []string
	for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		if len(line) > 75 {
			return nil, fmt.Errorf("a line of %d octets", len(line))
		}
		if !utf8.ValidString(line) {
			return nil, errors.New("a character is cut by a fold")
		}
		if strings.HasPrefix(line, " ") && len(lines) > 0 {
			lines[len(lines)-1] += line[1:]
			continue
		}
		lines = append(lines, line)
	}
	root := &component{}
	stack := []*component{root}
	for _, line := range lines {
		m := contentLine.FindStringSubmatch(line)
		if m == nil {
			return nil, fmt.Errorf("no content line: %q", line)
		}
		top := stack[len(stack)-1]
		switch name, value := m[1], m[3]; name {
		case "BEGIN":
			part := &component{name: value, properties: map[string][]string{}}
			top.parts, stack = append(top.parts, part), append(stack, part)
		case "END":
			if len(stack) == 1 || top.name != value {
				return nil, fmt.Errorf("END of %s in %s", value, top.name)
			}
			stack = stack[:len(stack)-1]
		default:
			if len(stack) == 1 {
				return nil, fmt.Errorf("%s outside a calendar", name)
			}
			read, err := readValue(name, m[2], value)
			if err != nil {
				return nil, err
			}
			top.properties[name] = append(top.properties[name], read)
		}
	}
	if len(stack) != 1 || len(root.parts) != 1 || root.parts[0].name != "VCALENDAR" {
		return nil, errors.New("not one whole calendar")
	}
	return root.parts[0], root.parts[0].check()
}

func readValue(name, parameters, value string) (string, error) {
	for _, r := range value {
		if r < ' ' && r != '\t' || r == 0x7f {
			return "", fmt.Errorf("%s holds a control character", name)
		}
	}
	switch name {
	case "DTSTAMP", "DTSTART", "DTEND", "TRIGGER":
		if !instant.MatchString(value) || (name == "TRIGGER") != (parameters == ";VALUE=DATE-TIME") {
			return "", fmt.Errorf("%s%s is no UTC time: %s", name, parameters, value)
		}
		if _, err := time.Parse("20060102T150405Z", value); err != nil {
			return "", err
		}
	case "SUMMARY", "DESCRIPTION", "LOCATION":
		return unescape(value)
	}
	return value, nil
}

func unescape(value string) (string, error) {
	var out strings.Builder
	for i := 0; i < len(value); i++ {
		switch c := value[i]; c {
		case ',', ';':
			return "", fmt.Errorf("a bare %q in a text", c)
		case '\\':
			if i++; i == len(value) || !strings.ContainsRune(`\;,nN`, rune(value[i])) {
				return "", errors.New("a bare backslash in a text")
			}
			if c = value[i]; c == 'n' || c == 'N' {
				c = '\n'
			}
			out.WriteByte(c)
		default:
			out.WriteByte(c)
		}
	}
	return out.String(), nil
}

// check holds a component against what it must hold once and may hold at all.
func (c *component) check() error {
	must := map[string]string{"VCALENDAR": "PRODID VERSION", "VEVENT": "UID DTSTAMP DTSTART", "VALARM": "ACTION TRIGGER DESCRIPTION"}
	may := map[string]string{"VCALENDAR": "CALSCALE", "VEVENT": "DTEND SUMMARY DESCRIPTION LOCATION", "VALARM": ""}
	inside := map[string]string{"VCALENDAR": "VEVENT", "VEVENT": "VALARM"}
	for _, name := range strings.Fields(must[c.name]) {
		if len(c.properties[name]) != 1 {
			return fmt.Errorf("%s has %d of %s", c.name, len(c.properties[name]), name)
		}
	}
	for name, values := range c.properties {
		if known := " " + must[c.name] + " " + may[c.name] + " "; !strings.Contains(known, " "+name+" ") || len(values) > 1 {
			return fmt.Errorf("%s has %d of %s", c.name, len(values), name)
		}
	}
	if end := c.properties["DTEND"]; len(end) == 1 && end[0] <= c.properties["DTSTART"][0] {
		return errors.New("an event that ends before it begins")
	}
	for _, part := range c.parts {
		if part.name != inside[c.name] {
			return fmt.Errorf("%s in %s", part.name, c.name)
		}
		if err := part.check(); err != nil {
			return err
		}
	}
	return nil
}

func write(t testing.TB, events ...Event) string {
	t.Helper()
	var b strings.Builder
	if err := WriteCalendar(&b, events); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var dusk = Event{
	Identity: []string{"The last ferry", "18:35", "lit side over ambient"}, Summary: "18:35: lit side over ambient",
	Description: "best 18:48; slack 11 min, rig by 17:50\nRe-meter from 17:45, the sky is modelled – “half or double” is possible; opens then at 17:55 or 18:54",
	Location:    "57.70 N, 11.60 E",
	Start:       time.Date(2027, 9, 22, 18, 35, 0, 0, time.FixedZone("UTC+2", 7200)), End: time.Date(2027, 9, 22, 17, 1, 0, 0, time.UTC),
	Alarm: time.Date(2027, 9, 22, 15, 50, 0, 0, time.UTC), Stamp: time.Date(2027, 9, 22, 0, 0, 0, 0, time.UTC),
}

func TestCalendar(t *testing.T) {
	c, err := readStrictly(write(t, dusk))
	if err != nil {
		t.Fatal(err)
	}
	e := c.parts[0]
	for name, want := range map[string]string{
		"SUMMARY": dusk.Summary, "DESCRIPTION": dusk.Description, "LOCATION": dusk.Location,
		"DTSTART": "20270922T163500Z", "DTEND": "20270922T170100Z", "DTSTAMP": "20270922T000000Z",
	} {
		if got := e.properties[name]; len(got) != 1 || got[0] != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if got := e.parts[0].properties["TRIGGER"][0]; got != "20270922T155000Z" {
		t.Errorf("alarm at %s", got)
	}
	if once, again := write(t, dusk), write(t, dusk); once != again {
		t.Error("the same event twice gives other bytes")
	}
	later := dusk
	later.Start = later.Start.Add(time.Minute)
	moved, err := readStrictly(write(t, later))
	if err != nil || moved.parts[0].properties["UID"][0] != e.properties["UID"][0] {
		t.Errorf("a window that moved is another event (%v)", err)
	}
	other := dusk
	other.Identity = []string{"The last ferry", "18:35 lit side over ambient"}
	apart, err := readStrictly(write(t, other))
	if err != nil || apart.parts[0].properties["UID"][0] == e.properties["UID"][0] {
		t.Errorf("two events have one identity (%v)", err)
	}
	if _, err := readStrictly(write(t)); err != nil {
		t.Errorf("an empty calendar: %v", err)
	}
}

// The strict reader refuses what is not a calendar; else the tests above would prove nothing.
func TestStrictReader(t *testing.T) {
	good := write(t, dusk)
	for name, bad := range map[string]string{
		"bare line feeds":   strings.ReplaceAll(good, "\r\n", "\n"),
		"unfolded":          strings.ReplaceAll(good, "\r\n ", ""),
		"a comma":           strings.Replace(good, `\,`, ",", 1),
		"no UID":            regexp.MustCompile(`UID:.*\r\n`).ReplaceAllString(good, ""),
		"a local time":      strings.Replace(good, "163500Z", "163500", 1),
		"no such day":       strings.Replace(good, "20270922T163500Z", "20270932T163500Z", 1),
		"ends early":        strings.Replace(good, "20270922T170100Z", "20270922T160100Z", 1),
		"two calendars":     good + good,
		"an alarm unclosed": strings.Replace(good, "END:VALARM\r\n", "", 1),
		"a bell":            strings.Replace(good, "SUMMARY:", "SUMMARY:\a", 1),
	} {
		if bad == good {
			t.Fatalf("%s: nothing was changed", name)
		}
		if _, err := readStrictly(bad); err == nil {
			t.Errorf("%s is read", name)
		}
	}
}

func FuzzCalendar(f *testing.F) {
	f.Add("a,b;c\\d", "line\r\nline\rline\nline", "ä€😀")
	f.Add(strings.Repeat("é", 80), strings.Repeat("x", 74), "\x00\x7f\xff")
	f.Fuzz(func(t *testing.T, summary, description, location string) {
		e := dusk
		e.Summary, e.Description, e.Location = "s"+summary, description, location
		text := write(t, e)
		c, err := readStrictly(text)
		if err != nil {
			t.Fatalf("%v in %q", err, text)
		}
		if printable(e.Summary) && c.parts[0].properties["SUMMARY"][0] != e.Summary {
			t.Errorf("%q is read back as %q", e.Summary, c.parts[0].properties["SUMMARY"])
		}
	})
}

func printable(text string) bool {
	return utf8.ValidString(text) && !strings.ContainsFunc(text, func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' || r == 0x7f })
}
