// The tools that add something: what each asks, what a hand on the paper fills in, and the edit that it comes to. Nothing here
// touches the page.

import type { Change, Drawing, Handle, Spot } from "../api";
import { bearing, join, measured, metres } from "./place";
import { thingAt, wallAt } from "./snap";

export type Form = Record<string, string>;

export interface Ask { name: string; label: string; first?: string; words?: string[] | "lamps" | "cloths" | "points"; may?: boolean; when?: (f: Form) => boolean }

// hand is what the hand does: press and drag a box, press and drag the way it looks, drag along a wall, tap place after place.
export interface Tool { id: string; word: string; section: string; hand: "box" | "way" | "wall" | "places"; asks: Ask[] }

const name: Ask = { name: "name", label: "name" };
const at: Ask = { name: "at", label: "at" };
const high = (first: string): Ask => ({ name: "height", label: "height", first, may: true });

export const tools: Tool[] = [
  { id: "room", word: "Room", section: "set.rooms", hand: "box", asks: [name, { name: "size", label: "width x depth", first: "5 x 4 m" }, { name: "tall", label: "height", first: "2.8 m" }, { name: "at", label: "inner corner", first: "0 0" }] },
  { id: "opening", word: "Window, door", section: "openings", hand: "wall", asks: [name, { name: "wall", label: "wall", words: ["far", "right", "near", "left", "ceiling"] }, { name: "from", label: "from its left", may: true }, { name: "size", label: "width x height", first: "1.6 x 1.2 m" }, { name: "sill", label: "sill", first: "0.9 m", may: true }, { name: "glass", label: "glass", words: ["single", "double", "none"] }, { name: "gel", label: "gel", may: true }] },
  { id: "object", word: "Object", section: "set.objects", hand: "box", asks: [name, { name: "kind", label: "kind", words: ["table", "box", "mirror"] }, { name: "size", label: "size", first: "1.5 x 0.6 x 0.75 m" }, at, { name: "high", label: "height of its middle", first: "1.5 m", when: (f) => f.kind === "mirror" }, { name: "faces", label: "faces", first: "N", when: (f) => f.kind === "mirror" }, { name: "turn", label: "turned", may: true, when: (f) => f.kind !== "mirror" }, { name: "material", label: "surface", may: true }] },
  { id: "person", word: "Person", section: "people", hand: "way", asks: [name, at, { name: "faces", label: "looks", first: "N" }, { name: "key", label: "key side", words: ["left", "right"] }, { name: "face", label: "face, seated", may: true }] },
  { id: "mark", word: "Mark", section: "marks", hand: "way", asks: [name, at] },
  { id: "walk", word: "Walk", section: "walks", hand: "places", asks: [name, { name: "places", label: "places; between" }, { name: "who", label: "who", may: true }] },
  { id: "point", word: "Point", section: "points", hand: "way", asks: [name, at, { ...high("1.2 m"), when: (f) => f.receptor !== "spot" || /^[-\d]/.test(f.at ?? "") }, { name: "receptor", label: "meter", words: ["flat", "dome", "spot"] }, { name: "faces", label: "faces", first: "up", when: (f) => f.receptor !== "spot" }] },
  { id: "lamp", word: "Lamp", section: "lamps", hand: "way", asks: [name, { name: "kit", label: "kit", words: "lamps" }, at, high("2 m"), { name: "aim", label: "aimed at", first: "N" }, { name: "dim", label: "level", may: true }, { name: "colour", label: "kelvin", may: true }] },
  { id: "cloth", word: "Cloth", section: "cloths", hand: "way", asks: [name, { name: "kind", label: "kind", words: "cloths" }, { name: "size", label: "size", first: "1.2 x 1.2 m" }, at, high("1.5 m"), { name: "faces", label: "faces", first: "N" }] },
  { id: "practical", word: "Practical", section: "practicals", hand: "way", asks: [name, { name: "kind", label: "kind", words: ["globe", "shade", "tube", "panel", "candle"] }, at, high("1.5 m"), { name: "diameter", label: "diameter", first: "0.14 m", when: (f) => f.kind !== "panel" && f.kind !== "candle" }, { name: "length", label: "length", first: "0.3 m", when: (f) => f.kind === "tube" || f.kind === "shade" }, { name: "size", label: "size", first: "0.6 x 0.6 m", when: (f) => f.kind === "panel" }, { name: "faces", label: "faces", first: "N", when: (f) => f.kind === "panel" || f.kind === "tube" }, { name: "flux", label: "flux", first: "470 lm", when: (f) => f.kind !== "candle" }, { name: "colour", label: "kelvin", may: true }, { name: "dim", label: "level", may: true }] },
  { id: "camera", word: "Camera", section: "camera", hand: "way", asks: [at, high("1.5 m"), { name: "aim", label: "looks at", first: "N" }, { name: "lens", label: "lens", first: "35 mm" }] },
  { id: "ambient", word: "Ambient reading", section: "ambient", hand: "way", asks: [name, { name: "reading", label: "reading", first: "640 lx" }, { name: "shape", label: "comes from", words: ["everywhere", "overcast", "dome"] }, { name: "point", label: "read at", words: "points" }, { ...at, when: (f) => !f.point }, { ...high("1.5 m"), when: (f) => !f.point }, { name: "faces", label: "meter faces", first: "up", when: (f) => !f.point }, { name: "colour", label: "kelvin", may: true }, { name: "through", label: "through", may: true }, { name: "luminance", label: "sky seen, cd/m²", may: true }] },
];

// wordsOf are what an ask lets choose among; undefined lets type.
export function wordsOf(a: Ask, d: Drawing): string[] | undefined {
  if (a.words === "lamps") return d.stock.lamps;
  if (a.words === "cloths") return d.stock.cloths;
  if (a.words === "points") return [...d.points.map((p) => p.name), ""];
  return a.words;
}

// proposed is the first free name of a kind: lamp 2.
export function proposed(word: string, taken: string[]): string {
  const stem = word.toLowerCase().replace(/,.*| reading/, "");
  for (let n = 1; ; n++) if (!taken.includes(`${stem} ${n}`)) return `${stem} ${n}`;
}

// blank is a tool's form before anything was filled in.
export function blank(tool: Tool, d: Drawing): Form {
  const f: Form = {};
  for (const a of tool.asks) f[a.name] = a.name === "name" ? proposed(tool.word, d.stock.taken) : a.first ?? (a.may ? "" : wordsOf(a, d)?.[0] ?? "");
  const somebody = d.people[0]?.name ?? d.points[0]?.name;
  if ("aim" in f && somebody) f.aim = somebody;
  return f;
}

// filled is a form after a hand was pressed at one place and let go at another: both snapped, reach in metres.
export function filled(tool: Tool, f: Form, from: Spot, to: Spot, d: Drawing, reach: number): Form {
  const spot = (s: Spot) => `${metres(s[0])} ${metres(s[1])}`;
  const w = Math.abs(to[0] - from[0]), h = Math.abs(to[1] - from[1]), dragged = Math.hypot(w, h) > reach;
  switch (tool.hand) {
    case "box": {
      const low: Spot = [Math.min(from[0], to[0]), Math.min(from[1], to[1])];
      if (w < 0.05 || h < 0.05 || f.kind === "mirror") return { ...f, at: spot(from) };
      if (tool.id === "room") return { ...f, at: spot(low), size: `${metres(w)} x ${metres(h)} m` };
      const tall = /x\s*([^x]+)$/.exec(f.size ?? "")?.[1]?.trim() ?? "0.75 m";
      return { ...f, at: spot([low[0] + w / 2, low[1] + h / 2]), size: `${metres(w)} m x ${metres(h)} m x ${measured(tall)}` };
    }
    case "wall": {
      const a = wallAt(d, from, to);
      if (!a) return f;
      const tall = /x\s*([^x]+)$/.exec(f.size ?? "")?.[1]?.trim() ?? "1.2 m";
      const on = { ...f, wall: a.wall.name, room: String(a.room), from: `${metres(Math.min(a.along, a.also))} m` };
      return dragged ? { ...on, size: `${metres(Math.abs(a.along - a.also))} m x ${measured(tall)}` } : on;
    }
    case "places": return { ...f, places: [f.places, spot(from)].filter(Boolean).join("; ") };
  }
  const way = ["aim", "faces"].find((k) => k in f);
  const out: Form = { ...f, at: spot(from) };
  if (tool.id === "ambient") out.point = "";
  if (way && dragged) out[way] = thingAt(d, to, 2 * reach, "") || `${Math.round(bearing([to[0] - from[0], to[1] - from[1]], d.north_deg))} deg`;
  return out;
}

// lacks is what a form still needs, in words; "" for nothing.
export function lacks(tool: Tool, f: Form, d: Drawing): string {
  if ("name" in f && d.stock.taken.includes(f.name!.trim())) return `the name ${f.name} is taken`;
  if ("name" in f && /[."[\]]/.test(f.name!)) return "a name has no dots, quotes or brackets";
  if (tool.id === "opening" && d.rooms.length === 0) return "draw a room first";
  if (tool.id === "walk" && (f.places ?? "").split(";").filter((s) => s.trim()).length < 2) return "a walk needs two places or more: tap them";
  for (const a of tool.asks) if (!a.may && !(a.words && f[a.name] === "") && (a.when?.(f) ?? true) && !f[a.name]?.trim()) return a.name === "at" ? "tap its place, or type it" : `type ${a.label}`;
  return "";
}

// sides are sizes as typed, each with its unit, so that others can follow: a bare one has that of the next, or metres.
function sides(typed: string): string {
  const all = typed.split(/\s*[x×]\s*/);
  const unit = /[a-z]+$/.exec(all.at(-1)!.trim())?.[0] ?? "m";
  return all.map((s) => (/^[\d.,]+$/.test(s.trim()) ? `${s.trim()} ${unit}` : s.trim())).join(" x ");
}

// made is the edit that adds what a form says.
export function made(tool: Tool, f: Form, d: Drawing): Change[] {
  const base = d.stock.base === "" ? "" : d.stock.base + ".";
  const out: Change[] = [];
  let path = tool.id === "camera" ? `${base}camera` : join(base + tool.section, (f.name ?? "").trim());
  const put = (field: string, value: string | undefined) => { if (value?.trim()) out.push({ path: `${path}.${field}`, value: value.trim() }); };
  if (tool.id === "room") {
    put("size", `${sides(f.size!)} x ${measured(f.tall!)}`);
    if (!/^0(\.0+)? 0(\.0+)?$/.test(f.at!.trim())) put("corner", f.at);
    return out;
  }
  if (tool.id === "opening") {
    const room = d.rooms[Number(f.room ?? 0)] ?? d.rooms[0]!;
    out.push(...room.first);
    path = join(`${room.path}.openings`, f.name!.trim());
  }
  if (tool.id === "walk") {
    f.places!.split(";").map((s) => s.trim()).filter(Boolean).forEach((s, i) => out.push({ path: `${path}.marks[${i}]`, value: s }));
    put("who", f.who);
    return out;
  }
  if (tool.id === "camera" && !d.stock.camera) for (const [k, v] of [["ei", "800"], ["fps", "24"], ["shutter", "180 deg"], ["stop", "T2.8"]]) put(k!, v);
  for (const a of tool.asks) {
    if (a.name === "name" || a.name === "high" || (a.when && !a.when(f))) continue;
    let value = f[a.name];
    if (["height", "sill", "from", "face"].includes(a.name) && value?.trim()) value = measured(value);
    if (a.name === "at" && tool.id === "object" && f.kind === "mirror" && value) value = `${value.split(" ").map(measured).join(" ")} ${measured(f.high!)}`;
    if (a.name === "glass" && value === "single" || a.name === "receptor" && value === "flat") continue; // as it is without
    if (a.name === "luminance" && value && /^[\d.,]+$/.test(value)) value += " cd/m2";
    put(tool.id === "opening" && a.name === "from" ? "at" : a.name, value);
  }
  return out;
}

// copied is the edit that puts a copy of a thing beside it, and the copy's name.
export function copied(h: Handle, taken: string[]): { name: string; changes: Change[] } {
  const stem = h.name.replace(/ \d+$/, "");
  let n = 2;
  while (taken.includes(`${stem} ${n}`)) n++;
  const name = `${stem} ${n}`;
  const parent = h.path.slice(0, h.path.length - join("", h.name).length);
  const path = join(parent.replace(/\.$/, ""), name);
  const beside: Spot = [h.at[0] + 0.5, h.at[1]];
  const changes: Change[] = [];
  for (const f of h.copy) {
    let value = f.value;
    if (h.move && f.path === h.move.path.slice(h.path.length)) value = h.move.floor || h.move.height ? `${metres(beside[0])} ${metres(beside[1])}` : `${metres(beside[0])} ${metres(beside[1])} ${metres(h.at[2])}`;
    if (f.path === ".height" && h.move && !h.move.height && h.kind !== "person") continue;
    changes.push({ path: path + f.path, value });
  }
  return { name, changes };
}
