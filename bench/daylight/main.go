// Command daylight holds the model of daylight against hours of a public weather file: it prints how often the file lies inside
// the printed interval, and writes docs/daylight-check.svg and the table in docs/daylight.md. Run it from the top of the
// repository.
package main

import (
	"fmt"
	"os"
	"strings"

	"gloam/internal/daylight"
)

const (
	table    = "docs/daylight.md"
	picture  = "docs/daylight-check.svg"
	folder   = "bench/daylight/testdata/"
	tableTop = "<!-- go run ./bench/daylight: table -->\n"
	tableEnd = "<!-- end of table -->\n"
)

// stations are where the hours come from; the first is the one some figures were chosen by.
var stations = []struct{ name, file string }{
	{"Greensboro, North Carolina, 48 hours over the year", "greensboro.csv"},
	{"Sand Point, Alaska, three days of June", "sandpoint.csv"},
	{"Albuquerque, New Mexico, three days and a half of April", "albuquerque.csv"},
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	var text string
	var all []comparison
	for _, s := range stations {
		hours, err := read(folder + s.file)
		if err != nil {
			return err
		}
		some := compare(hours, named)
		kept, err := persistence(hours)
		if err != nil {
			return err
		}
		text += s.name + ":\n\n" + summary(some) + "\n" + blind(hours) + kept + "\n"
		all = append(all, some...)
	}
	text += "All three:\n\n" + summary(all)
	fmt.Print(text)
	page, err := os.ReadFile(table)
	if err != nil {
		return err
	}
	top, rest, found := strings.Cut(string(page), tableTop)
	_, end, ended := strings.Cut(rest, tableEnd)
	if !found || !ended {
		return fmt.Errorf("%s has no place for the table", table)
	}
	if err := os.WriteFile(table, []byte(top+tableTop+"\n"+text+"\n"+tableEnd+end), 0o644); err != nil {
		return err
	}
	return os.WriteFile(picture, []byte(draw(all)), 0o644)
}

// summary returns the table of each kind of sky and of all.
func summary(all []comparison) string {
	var b strings.Builder
	b.WriteString("| sky | hours | figures | inside the interval | median half-width, stop | median of file over model, stop |\n|---|---|---|---|---|---|\n")
	line := func(name string, some []comparison) {
		fmt.Fprintf(&b, "| %s | %d | %d | %.0f %% | %.2f | %+.2f |\n", name, hoursIn(some), len(some), 100*inside(some), medianHalf(some), medianError(some))
	}
	for _, k := range kinds {
		if some := filter(all, func(c comparison) bool { return c.kind == k }); len(some) > 0 {
			line(k.String(), some)
		}
	}
	for _, part := range parts {
		line("all: "+part, filter(all, func(c comparison) bool { return c.part == part }))
	}
	line("**all**", all)
	return b.String()
}

// blind says what the interval of overcast is worth to who cannot tell a bright one from a grey one.
func blind(hours []hour) string {
	all := compare(hours, func(h hour) daylight.Kind {
		if k := named(h); k != daylight.BrightOvercast {
			return k
		}
		return daylight.Overcast
	})
	grey := filter(all, func(c comparison) bool { return c.kind == daylight.Overcast })
	return fmt.Sprintf("With every hour without shadows called plain overcast, %.0f %% of their figures lie inside, the file %+.2f stop over the model.\n",
		100*inside(grey), medianError(grey))
}
