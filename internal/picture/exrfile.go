package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"math"
)

// Words of the file format [OpenEXR], "OpenEXR File Layout".
const (
	exrMagic     = 20000630
	exrVersion   = 2
	exrLongNames = 0x400
	exrZIP       = 3
	exrHalf      = 1
	exrFloat     = 2

	exrBlock     = 16  // scanlines compressed together
	exrShortName = 31  // bytes; longer ones need the flag
	exrLongName  = 255 // bytes at most
)

// exrChannel is one plane of an OpenEXR file.
type exrChannel struct {
	name  string
	float bool // else half
}

func (c *exrChannel) size() int {
	if c.float {
		return 4
	}
	return 2
}

// exrFile is an OpenEXR file of scanlines to be written. Channels stand in the order of their names. row fills, for one
// line, a slice of Width values for each channel, and may be called from many goroutines.
type exrFile struct {
	width, height int
	channels      []exrChannel
	attributes    []exrAttribute
	row           func(y int, into [][]float32)
}

type exrAttribute struct {
	name, kind string
	value      any // fixed-size for encoding/binary, or []byte
}

// write writes the file: header, table of offsets, blocks. The blocks wait in memory, compressed, since their sizes come
// first.
func (f *exrFile) write(w io.Writer) error {
	blocks := make([][]byte, (f.height+exrBlock-1)/exrBlock)
	rows(len(blocks), func(i int) { blocks[i] = f.block(i * exrBlock) })

	var head bytes.Buffer
	f.header(&head)
	offset := uint64(head.Len() + 8*len(blocks))
	for _, b := range blocks {
		put(&head, offset)
		offset += uint64(len(b))
	}
	if _, err := w.Write(head.Bytes()); err != nil {
		return err
	}
	for _, b := range blocks {
		if _, err := w.Write(b); err != nil {
			return err
		}
	}
	return nil
}

func (f *exrFile) header(b *bytes.Buffer) {
	version := uint32(exrVersion)
	var list bytes.Buffer
	for i := range f.channels {
		c := &f.channels[i]
		if len(c.name) > exrShortName {
			version |= exrLongNames
		}
		kind := int32(exrHalf)
		if c.float {
			kind = exrFloat
		}
		list.WriteString(c.name + "\x00")
		put(&list, []int32{kind, 0, 1, 1}) // not perceptually linear; every pixel is there
	}
	list.WriteByte(0)

	put(b, []uint32{exrMagic, version})
	window := []int32{0, 0, int32(f.width - 1), int32(f.height - 1)}
	for _, a := range append([]exrAttribute{
		{"channels", "chlist", list.Bytes()},
		{"compression", "compression", uint8(exrZIP)},
		{"dataWindow", "box2i", window},
		{"displayWindow", "box2i", window},
		{"lineOrder", "lineOrder", uint8(0)}, // from the top
		{"pixelAspectRatio", "float", float32(1)},
		{"screenWindowCenter", "v2f", []float32{0, 0}},
		{"screenWindowWidth", "float", float32(1)},
	}, f.attributes...) {
		b.WriteString(a.name + "\x00" + a.kind + "\x00")
		put(b, int32(binary.Size(a.value)))
		put(b, a.value)
	}
	b.WriteByte(0)
}

// put appends a fixed-size value, least byte first.
func put(b *bytes.Buffer, value any) {
	if binary.Write(b, binary.LittleEndian, value) != nil {
		panic("picture: value of no fixed size")
	}
}

// block returns the block of the scanlines from y on: its line, its size, its data.
func (f *exrFile) block(y int) []byte {
	planes := make([][]float32, len(f.channels))
	line := 0
	for i := range planes {
		planes[i] = make([]float32, f.width)
		line += f.width * f.channels[i].size()
	}
	raw := make([]byte, 0, line*exrBlock)
	for at := y; at < min(y+exrBlock, f.height); at++ {
		f.row(at, planes)
		for i, plane := range planes {
			raw = appendPlane(raw, plane, f.channels[i].float)
		}
	}
	data := deflate(raw)
	out := binary.LittleEndian.AppendUint32(nil, uint32(y))
	out = binary.LittleEndian.AppendUint32(out, uint32(len(data)))
	return append(out, data...)
}

func appendPlane(raw []byte, plane []float32, float bool) []byte {
	for _, v := range plane {
		if float {
			raw = binary.LittleEndian.AppendUint32(raw, math.Float32bits(v))
		} else {
			raw = binary.LittleEndian.AppendUint16(raw, half(v))
		}
	}
	return raw
}

// deflate compresses as the ZIP method does: even bytes before odd ones, differences, zlib. What does not shrink stays as
// it is.
func deflate(raw []byte) []byte {
	split := make([]byte, 0, len(raw))
	for start := range 2 {
		for i := start; i < len(raw); i += 2 {
			split = append(split, raw[i])
		}
	}
	for i := len(split) - 1; i > 0; i-- {
		split[i] -= split[i-1] + 128
	}
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	if _, err := z.Write(split); err != nil {
		panic("picture: memory refuses to be written")
	}
	if z.Close() != nil {
		panic("picture: memory refuses to be written")
	}
	if packed.Len() >= len(raw) {
		return raw
	}
	return packed.Bytes()
}
