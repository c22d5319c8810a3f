package clock

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

var midnight = time.Date(2027, 9, 22, 0, 0, 0, 0, time.UTC)

func job(name string, rig, shoot unit.Minute, windows ...[2]int) Job {
	j := Job{Name: name, Rig: rig, Shoot: shoot}
	for _, w := range windows {
		j.Windows = append(j.Windows, Window{Opens: midnight.Add(time.Duration(w[0]) * time.Minute), Closes: midnight.Add(time.Duration(w[1]) * time.Minute)})
	}
	return j
}

// The reverse that needs the morning sun goes first, the one that holds all day waits for the gap, and what only holds while
// another is shot is left out.
func TestOrder(t *testing.T) {
	jobs := []Job{
		job("all day", 60, 30, [2]int{0, 1440}),
		job("morning", 30, 30, [2]int{540, 600}),
		job("dusk", 45, 15, [2]int{1115, 1141}),
		job("same dusk", 45, 15, [2]int{1115, 1141}),
	}
	slots, left, err := Order(midnight.Add(8*time.Hour), jobs)
	if err != nil || len(slots) != 3 || len(left) != 1 {
		t.Fatal(slots, left, err)
	}
	for i, want := range []struct {
		job  int
		roll int
	}{{1, 540}, {0, 630}, {2, 1115}} {
		s := slots[i]
		if s.Job != want.job || s.Roll.Sub(midnight) != time.Duration(want.roll)*time.Minute {
			t.Errorf("%d. is %s at %s", i+1, jobs[s.Job].Name, s.Roll)
		}
	}
	if slots[2].Slack != 11 || !slots[2].RigFrom.Equal(midnight.Add(1070*time.Minute)) {
		t.Errorf("dusk: slack %s, rig from %s", slots[2].Slack, slots[2].RigFrom)
	}
	if _, _, err := Order(midnight, make([]Job, 17)); err == nil {
		t.Error("17 jobs")
	}
}

// Against trying every order: as many jobs fit, and are done as early. None is shot outside a window or while another is rigged.
func TestOrderAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minute := rapid.IntRange(0, 300)
		var jobs []Job
		for range rapid.IntRange(0, 5).Draw(t, "jobs") {
			opens := minute.Draw(t, "opens")
			jobs = append(jobs, job("", unit.Minute(rapid.IntRange(0, 60).Draw(t, "rig")), unit.Minute(rapid.IntRange(1, 60).Draw(t, "shoot")),
				[2]int{opens, opens + minute.Draw(t, "long")}))
		}
		slots, left, err := Order(midnight, jobs)
		if err != nil || len(slots)+len(left) != len(jobs) {
			t.Fatal(slots, left, err)
		}
		free := midnight
		for _, s := range slots {
			j := jobs[s.Job]
			if s.RigFrom.Before(free) || s.Roll.Before(j.Windows[0].Opens) || s.Done.After(j.Windows[0].Closes) || s.Slack < 0 {
				t.Fatalf("%+v after %s in %v", s, free, j)
			}
			free = s.Done
		}
		most, done := tryAll(jobs, make([]bool, len(jobs)), midnight, 0)
		if len(slots) != most || len(slots) > 0 && !free.Equal(done) {
			t.Fatalf("%d done by %s; trying all finds %d by %s", len(slots), free, most, done)
		}
	})
}

func tryAll(jobs []Job, used []bool, free time.Time, count int) (most int, done time.Time) {
	most, done = count, free
	for j := range jobs {
		if used[j] {
			continue
		}
		ready := free.Add(jobs[j].Rig.Duration())
		if w := jobs[j].Windows[0]; w.Opens.After(ready) {
			ready = w.Opens
		}
		end := ready.Add(jobs[j].Shoot.Duration())
		if end.After(jobs[j].Windows[0].Closes) {
			continue
		}
		used[j] = true
		if n, at := tryAll(jobs, used, end, count+1); n > most || n == most && at.Before(done) {
			most, done = n, at
		}
		used[j] = false
	}
	return most, done
}

// A level that rises by a hundredth of a stop a minute is within ±0.5 of 0 for 100 minutes about its middle, to the second; with
// an interval of 0.2 surely for 60 and maybe for 140.
func TestWindowOfALine(t *testing.T) {
	g := Grid{midnight, time.Minute, 401}
	c := Curve{g, make([]float64, g.Count), make([]float64, g.Count)}
	for i := range c.Level {
		c.Level[i], c.Interval[i] = (float64(i)-200.5)/100, 0.2
	}
	target := &Target{Tolerance: 0.5}
	for _, row := range []struct {
		name          string
		how           Certainty
		opens, closes float64
	}{{"likely", Likely, 150.5, 250.5}, {"sure", Sure, 170.5, 230.5}, {"maybe", Maybe, 130.5, 270.5}} {
		w := c.Windows(target, row.how)
		if len(w) != 1 {
			t.Fatal(row.name, w)
		}
		if got := w[0].Opens.Sub(midnight).Minutes(); math.Abs(got-row.opens) > 0.02 {
			t.Errorf("%s opens at %.3f min", row.name, got)
		}
		if got := w[0].Closes.Sub(midnight).Minutes(); math.Abs(got-row.closes) > 0.02 {
			t.Errorf("%s closes at %.3f min", row.name, got)
		}
		if math.Abs(w[0].Opening-0.01) > 1e-9 || math.Abs(w[0].Closing-0.01) > 1e-9 {
			t.Errorf("%s runs %g, %g", row.name, w[0].Opening, w[0].Closing)
		}
		if got := w[0].Best.Sub(midnight).Minutes(); math.Abs(got-200.5) > 1 {
			t.Errorf("%s is best at %.1f min", row.name, got)
		}
	}
	p := PlanFor(&c.Windows(target, Likely)[0], 40, 30)
	if math.Abs(float64(p.Slack)-70) > 0.01 || math.Abs(p.RigBy.Sub(midnight).Minutes()-110.5) > 0.02 {
		t.Errorf("%+v", p)
	}
	both := Together([]Curve{c, c}, []*Target{target, {Wanted: 0.25, Tolerance: 0.5}}, Likely)
	if len(both) != 1 || math.Abs(both[0].Opens.Sub(midnight).Minutes()-175.5) > 0.1 || math.Abs(both[0].Closes.Sub(midnight).Minutes()-250.5) > 0.1 {
		t.Errorf("together %v", both)
	}
}

// Of any curve the sure windows lie in the likely ones and these in the maybe ones, and at every instant inside a window the target holds.
func TestWindowsNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "instants")
		c := Curve{Grid{midnight, time.Minute, n}, make([]float64, n), make([]float64, n)}
		for i := range n {
			c.Level[i], c.Interval[i] = rapid.Float64Range(-3, 3).Draw(t, "level"), rapid.Float64Range(0, 1).Draw(t, "interval")
			if rapid.IntRange(0, 9).Draw(t, "dark") == 0 {
				c.Level[i] = math.NaN()
			}
		}
		target := &Target{Wanted: unit.Stop(rapid.Float64Range(-1, 1).Draw(t, "wanted")), Tolerance: unit.Stop(rapid.Float64Range(0, 1).Draw(t, "tolerance"))}
		in := func(how Certainty, i int) bool {
			for _, w := range c.Windows(target, how) {
				if w.Closes.Before(w.Opens) || w.Best.Before(w.Opens) || w.Best.After(w.Closes) {
					t.Fatalf("a window %+v", w)
				}
				if !c.At(i).Before(w.Opens) && !c.At(i).After(w.Closes) {
					return true
				}
			}
			return false
		}
		for i := range n {
			sure, likely, maybe := in(Sure, i), in(Likely, i), in(Maybe, i)
			if sure && !likely || likely && !maybe {
				t.Fatalf("at %d sure %t, likely %t, maybe %t", i, sure, likely, maybe)
			}
			if holds := math.Abs(c.Level[i]-float64(target.Wanted)) <= float64(target.Tolerance); holds && !likely {
				t.Fatalf("at %d it holds outside the windows", i)
			}
		}
	})
}
