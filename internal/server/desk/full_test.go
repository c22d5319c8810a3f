package desk

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// On a real disk without a byte left an edit is refused in plain words and the plan stays; with room again all goes on.
func TestARealDiskThatIsFull(t *testing.T) {
	folder := t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", folder).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be made here: %s", out)
	}
	t.Cleanup(func() { exec.Command("umount", folder).Run() })
	file := filepath.Join(folder, "table.yaml")
	if err := os.WriteFile(file, []byte(sample), 0o644); err != nil {
		t.Fatal(err)
	}
	d := opened(t, file)
	one := mustEdit(t, d, "a", 1, set("title", "One"))
	filler, err := os.Create(filepath.Join(folder, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	for block := make([]byte, 512); err == nil; _, err = filler.Write(block) {
	}
	filler.Close()
	if _, err := d.Edit(Edit{Base: 2, By: "a", Changes: []Change{set("title", "Two")}}); err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("error %v, want that the disk is full", err)
	}
	if got := onDisk(t, file); got != one.Text {
		t.Errorf("the disk holds\n%s", got)
	}
	if err := os.Remove(filler.Name()); err != nil {
		t.Fatal(err)
	}
	two := mustEdit(t, d, "a", 2, set("title", "Two"))
	if s, _ := opened(t, file).State(); s.Text != two.Text || !s.CanUndo {
		t.Errorf("opened again, the plan is\n%s", s.Text)
	}
}
