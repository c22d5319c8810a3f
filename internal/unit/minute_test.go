package unit

import (
	"testing"
	"time"
)

func TestMinute(t *testing.T) {
	for text, want := range map[string]Minute{"40 min": 40, "1.5 h": 90, "20": 20, "0": 0, "2 hours": 120} {
		var m Minute
		if err := m.Parse(text); err != nil || m != want {
			t.Errorf("%q is read as %v (%v)", text, float64(m), err)
		}
	}
	for _, text := range []string{"-5 min", "9 days", "12 m", "", "1e9 min"} {
		var m Minute
		if m.Parse(text) == nil {
			t.Errorf("%q is read as %v", text, float64(m))
		}
	}
	if m := Minute(90); m.String() != "90 min" || m.Duration() != 90*time.Minute {
		t.Errorf("%s, %s", m, m.Duration())
	}
}
