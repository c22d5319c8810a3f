// The picture composed of its layers on the GPU: halves times weights times level, added up; then shown by the server's tables,
// as a print or as a map of stops, beside another picture if one was kept.

import type { Band, Layer, Tables } from "./api";
import { composeSource, most as mostTerms, showSource, vertexSource } from "./shaders";

interface Target { texture: WebGLTexture; frame: WebGLFramebuffer; width: number; height: number }
interface Halves { low: WebGLTexture; high: WebGLTexture }

// Term is a layer as it is added up.
export type Term = Pick<Layer, "version" | "weights" | "level">;

const same = (a: Term, b: Term | undefined) => b !== undefined && a.version === b.version && a.level === b.level &&
  a.weights.every((w, i) => w.every((x, k) => x === b.weights[i]![k]));

// moving tells which terms to keep out of the folded base: those that differ from what was drawn last, as long as they are few.
export function moving(terms: Term[], last: Term[]): number[] {
  const all = terms.map((_, i) => i).filter((i) => !same(terms[i]!, last[i]));
  return terms.length !== last.length || 2 * all.length > terms.length ? [] : all;
}

export class Glass {
  readonly canvas = document.createElement("canvas");
  private readonly gl: WebGL2RenderingContext;
  private readonly halves = new Map<string, Halves>();
  private readonly composers: WebGLProgram[] = [];
  private readonly shower: WebGLProgram;
  private readonly places = new Map<WebGLProgram, Map<string, WebGLUniformLocation | null>>();
  private readonly shown: WebGLTexture;
  private readonly encoded: WebGLTexture;
  private spare: Target[] = [];
  private base: Target | null = null; // of all terms but those that move
  private out: number[] = []; // those that move
  private last: Term[] = [];
  private picture: Target | null = null;
  private kept: Target | null = null;

  // It throws where the browser cannot do it.
  constructor(private readonly tables: Tables) {
    const gl = this.canvas.getContext("webgl2", { alpha: false, antialias: false, depth: false, preserveDrawingBuffer: true });
    if (!gl?.getExtension("EXT_color_buffer_float")) throw new Error("no float targets");
    this.gl = gl;
    this.shower = this.program(showSource);
    this.shown = this.table(tables.shown);
    this.encoded = this.table(tables.encoded);
    gl.bindVertexArray(gl.createVertexArray());
  }

  has(version: string): boolean { return this.halves.has(version); }

  // put takes a layer's halves, as the server sends them.
  put(version: string, width: number, height: number, bytes: ArrayBuffer): void {
    const half = bytes.byteLength / 2;
    const texture = (from: number) => {
      const t = this.texture();
      this.gl.texImage2D(this.gl.TEXTURE_2D, 0, this.gl.RGBA16F, width, height, 0, this.gl.RGBA, this.gl.HALF_FLOAT, new Uint16Array(bytes, from, half / 2));
      return t;
    };
    this.halves.set(version, { low: texture(0), high: texture(half) });
  }

  // drop forgets all layers but some.
  drop(but: Set<string>): void {
    for (const [version, h] of this.halves) {
      if (but.has(version)) continue;
      this.gl.deleteTexture(h.low);
      this.gl.deleteTexture(h.high);
      this.halves.delete(version);
    }
  }

  // compose adds the terms up. What stays is folded into one base, so that a dial costs its own layers alone.
  compose(terms: Term[], width: number, height: number): void {
    const sized = this.base?.width === width && this.base.height === height;
    const moved = sized ? moving(terms, this.last) : [];
    const folded = sized && terms.length === this.last.length && terms.every((t, i) => this.out.includes(i) || same(t, this.last[i]));
    if (this.picture && this.picture !== this.base) this.spare.push(this.picture);
    if (!folded) {
      if (this.base) this.spare.push(this.base);
      this.out = moved;
      this.base = this.sum(terms.filter((_, i) => !moved.includes(i)), null, width, height);
    }
    this.picture = this.out.length === 0 ? this.base! : this.sum(this.out.map((i) => terms[i]!), this.base, width, height);
    this.last = terms.map((t) => ({ ...t }));
    this.canvas.width = width;
    this.canvas.height = height;
  }

  // keep keeps the picture as it is now, to compare others with.
  keep(): void {
    if (!this.picture) return;
    if (this.kept) this.spare.push(this.kept);
    this.kept = this.sum([], this.picture, this.picture.width, this.picture.height);
  }

  // show draws the picture, or its map of stops by a key; left of the wipe, a share of the width, what was kept.
  show(key: Band[] | null, wipe: number): void {
    const { gl, shower: p } = this;
    if (!this.picture) return;
    gl.useProgram(p);
    [this.picture.texture, (this.kept ?? this.picture).texture, this.shown, this.encoded].forEach((t, i) => this.bind(p, ["picture", "kept", "shown", "encoded"][i]!, i, t));
    const { width, height } = this.canvas;
    gl.uniform2i(this.place(p, "size"), width, height);
    gl.uniform1f(this.place(p, "wipe"), this.kept ? Math.round(wipe * width) : 0);
    gl.uniform1f(this.place(p, "most"), this.tables.most);
    gl.uniform3fv(this.place(p, "luminance"), this.tables.luminance);
    gl.uniform1i(this.place(p, "bands"), key?.length ?? 0);
    if (key) {
      const colours = (pick: (b: Band) => number[]) => key.flatMap((b) => pick(b).map((x) => x / 255));
      gl.uniform1fv(this.place(p, "from"), key.map((b) => b.from));
      gl.uniform3fv(this.place(p, "ground"), colours((b) => b.ground));
      gl.uniform3fv(this.place(p, "contour"), colours((b) => b.contour));
      gl.uniform3fv(this.place(p, "ink"), colours((b) => b.ink));
      gl.uniform1iv(this.place(p, "pattern"), key.map((b) => ["", "dots", "hatch"].indexOf(b.pattern)));
    }
    this.draw(null, width, height);
  }

  // sum adds terms to what another target holds, into a new one.
  private sum(terms: Term[], from: Target | null, width: number, height: number): Target {
    let so = from;
    for (let i = 0; i < terms.length || i === 0; i += mostTerms) {
      const some = terms.slice(i, i + mostTerms), to = this.target(width, height), before = so;
      this.add(some, before, to);
      if (before && before !== from) this.spare.push(before);
      so = to;
    }
    return so!;
  }

  private add(terms: Term[], from: Target | null, to: Target): void {
    const { gl } = this, p = (this.composers[terms.length] ??= this.program(composeSource(terms.length)));
    gl.useProgram(p);
    this.bind(p, "before", 0, from?.texture ?? this.shown);
    gl.uniform1i(this.place(p, "begun"), from ? 1 : 0);
    terms.forEach((t, i) => {
      const h = this.halves.get(t.version)!;
      this.bind(p, `low${i}`, 1 + 2 * i, h.low);
      this.bind(p, `high${i}`, 2 + 2 * i, h.high);
      for (const [name, first] of [["a", 0], ["b", 4]] as const) {
        const columns = [0, 1, 2, 3].flatMap((band) => t.weights.map((w) => w[first + band]! * t.level));
        gl.uniformMatrix4fv(this.place(p, name + i), false, columns);
      }
    });
    this.draw(to.frame, to.width, to.height);
  }

  private draw(into: WebGLFramebuffer | null, width: number, height: number): void {
    const { gl } = this;
    gl.bindFramebuffer(gl.FRAMEBUFFER, into);
    gl.viewport(0, 0, width, height);
    gl.drawArrays(gl.TRIANGLES, 0, 3);
  }

  private bind(p: WebGLProgram, name: string, unit: number, texture: WebGLTexture): void {
    const { gl } = this;
    gl.activeTexture(gl.TEXTURE0 + unit);
    gl.bindTexture(gl.TEXTURE_2D, texture);
    gl.uniform1i(this.place(p, name), unit);
  }

  private place(p: WebGLProgram, name: string): WebGLUniformLocation | null {
    let known = this.places.get(p);
    if (!known) this.places.set(p, (known = new Map()));
    if (!known.has(name)) known.set(name, this.gl.getUniformLocation(p, name));
    return known.get(name)!;
  }

  private texture(): WebGLTexture {
    const { gl } = this, t = gl.createTexture();
    gl.activeTexture(gl.TEXTURE0);
    gl.bindTexture(gl.TEXTURE_2D, t);
    for (const name of [gl.TEXTURE_MIN_FILTER, gl.TEXTURE_MAG_FILTER]) gl.texParameteri(gl.TEXTURE_2D, name, gl.NEAREST);
    return t;
  }

  // table lays a table out in rows of 64.
  private table(values: number[]): WebGLTexture {
    const { gl } = this, rows = Math.ceil(values.length / 64), cells = new Float32Array(64 * rows);
    cells.set(values);
    const t = this.texture();
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.R32F, 64, rows, 0, gl.RED, gl.FLOAT, cells);
    return t;
  }

  private target(width: number, height: number): Target {
    const { gl } = this;
    for (const t of this.spare.filter((t) => t.width !== width || t.height !== height)) {
      gl.deleteTexture(t.texture);
      gl.deleteFramebuffer(t.frame);
    }
    this.spare = this.spare.filter((t) => t.width === width && t.height === height);
    const spare = this.spare.pop();
    if (spare) return spare;
    const texture = this.texture(), frame = gl.createFramebuffer();
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, width, height, 0, gl.RGBA, gl.FLOAT, null);
    gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
    gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, texture, 0);
    return { texture, frame, width, height };
  }

  private program(fragment: string): WebGLProgram {
    const { gl } = this, p = gl.createProgram();
    for (const [kind, source] of [[gl.VERTEX_SHADER, vertexSource], [gl.FRAGMENT_SHADER, fragment]] as const) {
      const s = gl.createShader(kind)!;
      gl.shaderSource(s, source);
      gl.compileShader(s);
      gl.attachShader(p, s);
    }
    gl.linkProgram(p);
    if (!gl.getProgramParameter(p, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(p) ?? "no program");
    return p;
  }
}
