import assert from "node:assert/strict";
import test from "node:test";
import type { Drawing, Handle } from "../src/api";
import { blank, copied, filled, lacks, made, proposed, tools } from "../src/board/make";
import { bearing, both, feet, fromCompass, join, measured, moved, raised, turned } from "../src/board/place";
import { axesOf, snap, thingAt, wallAt } from "../src/board/snap";

const handle = (name: string, kind: string, at: [number, number, number], more: Partial<Handle> = {}): Handle =>
  ({ name, kind, at, path: `x.${name}`, fields: [], remove: [], copy: [], move: { path: `x.${name}.at`, floor: false, first: [] }, ...more });

// A room 5 × 4 m whose window's wall is the near one, with a person in it.
const d = {
  north_deg: 30, low: [0, 0], high: [5, 4],
  rooms: [{ name: "hall", low: [0, 0], high: [5, 4], floor_m: 0, height_m: 2.8, path: "set.rooms.hall", first: [], openings: [],
    walls: [{ name: "far", from: [0, 4], to: [5, 4] }, { name: "right", from: [5, 4], to: [5, 0] }, { name: "near", from: [5, 0], to: [0, 0] }, { name: "left", from: [0, 0], to: [0, 4] }] }],
  people: [{ name: "ann" }], points: [], handles: [handle("ann", "person", [2, 2, 0]), handle("key", "lamp", [4, 3.03, 2])],
  stock: { lamps: ["B12-D26", "B3-D55"], cloths: ["muslin"], taken: ["ann", "key", "lamp 1"], base: "", camera: true },
} as unknown as Drawing;

const tool = (id: string) => tools.find((t) => t.id === id)!;

// An inch is 25.4 mm exactly (international yard and pound agreement, 1959; from memory).
test("lengths in both units", () => {
  assert.equal(feet(3.81), "12′ 6″");
  assert.equal(feet(-0.3048), "−1′ 0″");
  assert.equal(both(5), "5.00 m, 16′ 5″");
  assert.equal(measured("3.8"), "3.8 m");
  assert.equal(measured("12'6\""), "12'6\"");
  assert.equal(measured("3,8"), "3,8 m");
});

test("paths of names with dots are quoted", () => {
  assert.equal(join("lamps", "key lamp"), "lamps.key lamp");
  assert.equal(join("lamps", "B12.5"), 'lamps."B12.5"');
  assert.equal(join("", "lamps"), "lamps");
});

test("a place is written as it was", () => {
  const h = handle("key", "lamp", [1, 2, 1.5]);
  assert.deepEqual(moved(h, [1.5, 2, 1.5]), [{ path: "x.key.at", value: "1.50 2.00 1.50" }]);
  assert.deepEqual(moved({ ...h, move: { path: "p", floor: true, first: [] }, at: [1, 2, 0] }, [-0.001, 2, 0]), [{ path: "p", value: "0.00 2.00" }]);
  const apart = { ...h, move: { path: "p", height: "q", floor: false, first: [] } };
  assert.deepEqual(moved(apart, [1, 3, 1.5]), [{ path: "p", value: "1.00 3.00" }]);
  assert.deepEqual(moved(apart, [1, 3, 2]), [{ path: "p", value: "1.00 3.00" }, { path: "q", value: "2.00 m" }]);
  assert.deepEqual(raised(h, "12'6\""), [{ path: "x.key.at", value: "1.00 m 2.00 m 12'6\"" }]);
  assert.deepEqual(raised(apart, "2"), [{ path: "q", value: "2 m" }]);
});

// +y is at 30° from true north: what looks along +x looks 90° further.
test("ways are told from true north", () => {
  assert.equal(Math.round(bearing([1, 0], 30)), 120);
  assert.equal(Math.round(bearing([0, -1], 200)), 20);
  const h = handle("key", "lamp", [1, 2, 1.5], { turn: { path: "t", looks: [0, 1], below_deg: 10, degree: false, aims: true } });
  assert.deepEqual(turned(h, [1, 0], 30, 1), [{ path: "t", value: "120 deg 10.0 deg down" }]);
  assert.deepEqual(turned({ ...h, kind: "person" }, [0, 1], 350, 5, 12), [{ path: "t", value: "0 deg" }]);
  assert.deepEqual(turned({ ...h, turn: { ...h.turn!, degree: true } }, [-1, 0], 30, 1), [{ path: "t", value: "270 deg" }]);
});

// A compass that points 5° east of true north shows 5° too little.
test("north from a compass", () => {
  assert.equal(fromCompass("350", "5"), 355);
  assert.equal(fromCompass("358°", "4,5"), 2.5);
  assert.equal(fromCompass("2", "−5"), 357);
  assert.equal(fromCompass("", "5"), null);
  assert.equal(fromCompass("east", ""), null);
});

test("a place is drawn to walls, then to things, then to the grid", () => {
  const axes = axesOf(d);
  const near = snap([4.97, 2.86], axes, 0.06);
  assert.equal(near.at[0], 5);
  assert.equal(near.axes[0]!.of, "wall");
  assert.ok(Math.abs(near.at[1] - 2.9) < 1e-9, `${near.at}`);
  assert.equal(snap([1.22, 3.0], axes, 0.06).at[1], 3.03);
  assert.equal(snap([1.22, 3.0], axesOf(d, ["key"]), 0.02).at[1], 3);
});

test("the nearest wall counts from its left end seen from inside", () => {
  const on = wallAt(d, [3.4, 0.2])!;
  assert.equal(on.wall.name, "near");
  assert.ok(Math.abs(on.along - 1.6) < 1e-9 && Math.abs(on.off - 0.2) < 1e-9);
  assert.equal(wallAt({ ...d, rooms: [] } as Drawing, [0, 0]), undefined);
});

test("a hand laid on a thing finds it", () => {
  assert.equal(thingAt(d, [2.1, 2], 0.2, ""), "ann");
  assert.equal(thingAt(d, [2.1, 2], 0.2, "ann"), "");
  assert.equal(thingAt(d, [3, 2], 0.2, ""), "");
});

test("names are proposed that are free", () => {
  assert.equal(proposed("Lamp", ["lamp 1", "lamp 3"]), "lamp 2");
  assert.equal(proposed("Window, door", []), "window 1");
  assert.equal(proposed("Ambient reading", []), "ambient 1");
});

test("a room is dragged, or its size typed in feet", () => {
  const room = tool("room"), f = filled(room, blank(room, d), [6, 5], [2, 1], d, 0.1);
  assert.deepEqual(made(room, f, d), [{ path: "set.rooms.room 1.size", value: "4.00 m x 4.00 m x 2.8 m" }, { path: "set.rooms.room 1.corner", value: "2.00 1.00" }]);
  assert.equal(made(room, { ...blank(room, d), size: "16 x 12 ft", tall: "9'" }, d)[0]!.value, "16 ft x 12 ft x 9'");
});

test("a window is dragged along a wall", () => {
  const w = tool("opening"), f = filled(w, blank(w, d), [4.9, 0.1], [3.3, 0], d, 0.1);
  const said = Object.fromEntries(made(w, f, d).map((c) => [c.path.split(".").at(-1), c.value]));
  assert.deepEqual(said, { wall: "near", at: "0.10 m", size: "1.60 m x 1.2 m", sill: "0.9 m" });
});

test("a lamp looks where the hand was dragged, or at whom it was laid on", () => {
  const lamp = tool("lamp"), f = blank(lamp, d);
  assert.equal(filled(lamp, f, [1, 1], [2, 1], d, 0.1).aim, "120 deg");
  assert.equal(filled(lamp, f, [1, 1], [2, 1.9], d, 0.1).aim, "ann");
  assert.equal(filled(lamp, f, [1, 1], [1, 1], d, 0.1).aim, "ann", "somebody is there to be lit");
  assert.equal(filled(lamp, f, [1, 1], [2, 1], d, 0.1).at, "1.00 1.00");
});

test("a form says what it lacks", () => {
  const lamp = tool("lamp"), walk = tool("walk");
  assert.equal(lacks(lamp, { ...blank(lamp, d), name: "key" }, d), "the name key is taken");
  assert.equal(lacks(lamp, { ...blank(lamp, d), name: "a.b" }, d), "a name has no dots, quotes or brackets");
  assert.equal(lacks(lamp, blank(lamp, d), d), "tap its place, or type it");
  assert.equal(lacks(walk, { ...blank(walk, d), places: "1 1" }, d), "a walk needs two places or more: tap them");
  assert.equal(lacks(walk, filled(walk, { ...blank(walk, d), places: "1 1" }, [2, 2], [2, 2], d, 0.1), d), "");
});

test("new things are written in the set-up shown", () => {
  const in2 = { ...d, stock: { ...d.stock, base: "setups.dusk", camera: false } } as Drawing;
  const mark = tool("mark");
  assert.deepEqual(made(mark, { name: "stool", at: "1 1" }, in2), [{ path: "setups.dusk.marks.stool.at", value: "1 1" }]);
  const camera = made(tool("camera"), filled(tool("camera"), blank(tool("camera"), in2), [1, 1], [1, 1], in2, 0.1), in2);
  assert.deepEqual(camera.slice(0, 1), [{ path: "setups.dusk.camera.ei", value: "800" }]);
});

test("a mirror's place has its height, a globe no length", () => {
  const object = tool("object"), f = { ...blank(object, d), kind: "mirror", size: "1 x 1 m", at: "1 2", high: "1.4" };
  assert.equal(made(object, f, d).find((c) => c.path.endsWith(".at"))!.value, "1 m 2 m 1.4 m");
  const globe = made(tool("practical"), { ...blank(tool("practical"), d), at: "1 2" }, d).map((c) => c.path.split(".").at(-1));
  assert.ok(!globe.includes("length") && !globe.includes("faces") && globe.includes("diameter"));
});

test("a copy stands beside, under a free name", () => {
  const h = handle("lamp 1", "lamp", [1, 2, 1.5], { path: "lamps.lamp 1", move: { path: "lamps.lamp 1.at", floor: false, first: [] }, copy: [{ name: "", path: ".kit", value: "B3-D55" }, { name: "", path: ".at", value: "ann" }, { name: "", path: ".height", value: "2 m" }] });
  assert.deepEqual(copied(h, ["lamp 1", "lamp 2"]), { name: "lamp 3", changes: [{ path: "lamps.lamp 3.kit", value: "B3-D55" }, { path: "lamps.lamp 3.at", value: "1.50 2.00 1.50" }] });
});
