package clock

import (
	"math/bits"
	"time"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Job is a set-up in the day's order: how long it takes to rig and to shoot, and the windows it may be shot in.
type Job struct {
	Name       string
	Rig, Shoot unit.Minute
	Windows    []Window
}

// Slot is when a job is done: rigged from RigFrom, shot from Roll to Done. Slack is how much later it could roll.
type Slot struct {
	Job                 int
	RigFrom, Roll, Done time.Time
	Slack               unit.Minute
}

// mostJobs bounds the orders that are tried: 2^16 sets of jobs.
const mostJobs = 16

// Order returns the order in which the most jobs fit their windows from an instant on, one crew doing one after the other, and
// of such orders one that is done earliest; and the jobs that do not fit. Rigging begins as late as the roll allows. More than
// 16 jobs are a fault.
func Order(from time.Time, jobs []Job) (slots []Slot, left []int, err error) {
	if len(jobs) > mostJobs {
		return nil, nil, fault.Fault{Text: "has more set-ups than an order can be found for", Allowed: "16 set-ups"}
	}
	done := make([]time.Time, 1<<len(jobs)) // by set of jobs: when they can all be done; the zero time is never
	last := make([]int8, 1<<len(jobs))
	done[0] = from
	most := 0
	for set := range done {
		if done[set].IsZero() {
			continue
		}
		if better(set, most, done) {
			most = set
		}
		for j := range jobs {
			next := set | 1<<j
			if next == set {
				continue
			}
			if s, ok := jobs[j].after(done[set]); ok && (done[next].IsZero() || s.Done.Before(done[next])) {
				done[next], last[next] = s.Done, int8(j)
			}
		}
	}
	for j := range jobs {
		if most&(1<<j) == 0 {
			left = append(left, j)
		}
	}
	return unwind(most, done, last, jobs), left, nil
}

// better reports whether a set holds more jobs than another, or as many done earlier.
func better(set, other int, done []time.Time) bool {
	a, b := bits.OnesCount(uint(set)), bits.OnesCount(uint(other))
	return a > b || a == b && done[set].Before(done[other])
}

// after returns when a job can be done by a crew that is free from an instant on.
func (j *Job) after(free time.Time) (s Slot, ok bool) {
	ready := free.Add(j.Rig.Duration())
	for _, w := range j.Windows {
		roll := ready
		if w.Opens.After(roll) {
			roll = w.Opens
		}
		slack := w.Closes.Sub(roll) - j.Shoot.Duration()
		if slack >= 0 {
			return Slot{RigFrom: roll.Add(-j.Rig.Duration()), Roll: roll, Done: roll.Add(j.Shoot.Duration()), Slack: unit.Minute(slack.Minutes())}, true
		}
	}
	return s, false
}

// unwind walks back from a set of jobs to the order that made it.
func unwind(set int, done []time.Time, last []int8, jobs []Job) (slots []Slot) {
	for set != 0 {
		j := int(last[set])
		set &^= 1 << j
		s, _ := jobs[j].after(done[set])
		s.Job = j
		slots = append([]Slot{s}, slots...)
	}
	return slots
}
