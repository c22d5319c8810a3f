//go:build linux

package main

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"

	"gloam/internal/ray"
)

// harness is a running copy of the C++ program that traces the same rays through Embree.
type harness struct {
	process *exec.Cmd
	to      io.WriteCloser
	from    *bufio.Reader
}

// compile makes the C++ program in the folder and returns its path.
func compile(folder string) (string, error) {
	program := filepath.Join(folder, "harness")
	out, err := exec.Command("g++", "-O3", "-std=c++17", "-o", program, "bench/embree/harness.cpp", "-lembree3").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("the harness does not compile (needs g++ and libembree-dev): %w\n%s", err, out)
	}
	return program, nil
}

// files writes scene and rays for the harness.
func files(folder string, positions []float32, triangles []int32, closest, shadow []ray.Ray) error {
	var b bytes.Buffer
	for _, part := range []any{[]int32{int32(len(positions) / 3), int32(len(triangles) / 3)}, positions, triangles} {
		if err := binary.Write(&b, binary.LittleEndian, part); err != nil {
			return err
		}
	}
	if err := os.WriteFile(filepath.Join(folder, "scene"), b.Bytes(), 0o600); err != nil {
		return err
	}
	for name, rays := range map[string][]ray.Ray{"closest": closest, "any": shadow} {
		var b bytes.Buffer
		if err := binary.Write(&b, binary.LittleEndian, int32(len(rays))); err != nil {
			return err
		}
		if err := binary.Write(&b, binary.LittleEndian, rays); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, name), b.Bytes(), 0o600); err != nil {
			return err
		}
	}
	return nil
}

// start runs the harness on the folder's files with an Embree configuration.
func start(program, folder, config string, robust bool) (*harness, error) {
	flag := "0"
	if robust {
		flag = "1"
	}
	h := &harness{process: exec.Command(program, filepath.Join(folder, "scene"), filepath.Join(folder, "closest"), filepath.Join(folder, "any"), config, flag)}
	h.process.Stderr = os.Stderr
	to, err := h.process.StdinPipe()
	if err != nil {
		return nil, err
	}
	from, err := h.process.StdoutPipe()
	if err != nil {
		return nil, err
	}
	h.to, h.from = to, bufio.NewReader(from)
	return h, h.process.Start()
}

// ask sends a command and scans the answer's words into the results.
func (h *harness) ask(command string, results ...any) error {
	if _, err := fmt.Fprintln(h.to, command); err != nil {
		return err
	}
	line, err := h.from.ReadString('\n')
	if err != nil {
		return fmt.Errorf("the harness does not answer: %w", err)
	}
	_, err = fmt.Sscan(line, results...)
	return err
}

// stop ends the harness.
func (h *harness) stop() error {
	h.to.Close()
	return h.process.Wait()
}
