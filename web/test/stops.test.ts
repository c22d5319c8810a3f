import assert from "node:assert/strict";
import test from "node:test";
import type { Drawing, Levels, Target } from "../src/api";
import { least, nearest, pulled, spread, stepped, written } from "../src/stops";
import { brackets, changes, made, turned } from "../src/targets";

test("stops are written as a plan reads them", () => {
  for (const [stops, text] of [[0, "0"], [1, "+1"], [-3, "-3"], [1 / 3, "+1/3"], [-2 / 3, "-2/3"], [1.5, "+1 1/2"], [-1.1667, "-1 1/6"], [0.05, "0"], [1.95, "+2"]] as const) {
    assert.equal(written(stops), text);
  }
  assert.ok(Object.is(nearest(-0.1, 3), 0), "no minus nought");
});

test("a bracket is pulled in thirds, its ends in sixths, and neither end crosses the other", () => {
  const w = { wanted: -3, tolerance: 1 / 3 };
  assert.deepEqual(pulled(w, "all", -2.05), { wanted: -2, tolerance: 1 / 3 });
  assert.deepEqual(pulled(w, "upper", -2.49), { wanted: -3, tolerance: 0.5 });
  assert.deepEqual(pulled(w, "lower", -4), { wanted: -3, tolerance: 1 });
  assert.equal(pulled(w, "upper", -5).tolerance, least);
});

test("keys step as a hand pulls", () => {
  const w = { wanted: 0, tolerance: 1 / 2 };
  assert.equal(written(stepped(w, "all", true, false).wanted), "+1/3");
  assert.equal(stepped(w, "all", false, true).wanted, -1);
  assert.equal(written(stepped(w, "lower", false, false).tolerance), "+2/3");
  assert.equal(written(stepped(w, "upper", false, false).tolerance), "+1/3");
});

test("labels are spread to the gap, in their order", () => {
  const out = spread([10, 11, 12, 100], 18);
  for (let i = 1; i < out.length; i++) assert.ok(out[i]! - out[i - 1]! >= 17.9);
  assert.equal(out[3], 100);
});

const target = (point: string, over: string, wanted: number): Target => ({
  path: "targets[0]", point, over, bound: "at", wanted_stops: wanted, tolerance_stops: 0.5,
  level: { name: "level", path: "targets[0].level", value: "" }, within: { name: "tolerance", path: "targets[0].tolerance", value: "" }, against: { name: "over", path: "targets[0].over", value: "" },
});
const levels = {
  points: [{ name: "a", over_key_stops: 1 }, { name: "b", over_key_stops: -2 }, { name: "c", over_key_stops: null }],
  targets: [{ of: "a", over: "b", level_stops: 3, outcome: "met" }, { of: "a", over: "ambient", level_stops: 0.5, outcome: "missed" }],
} as unknown as Levels;

test("a target over something else stands where its level counts from", () => {
  const d = { targets: [target("a", "key", 0), target("a", "b", 3), target("a", "ambient", 1), target("c", "b", 1)] } as unknown as Drawing;
  assert.deepEqual(brackets(d, levels).map((b) => [b.zero, b.outcome]), [[0, ""], [-2, "met"], [0.5, "missed"], [null, ""]]);
});

test("edits say what changed and nothing else", () => {
  const t = target("a", "key", 0);
  assert.deepEqual(changes(t, { wanted: 0, tolerance: 0.5 }, { wanted: 1, tolerance: 0.5 }), [{ path: "targets[0].level", value: "+1" }]);
  assert.deepEqual(changes(t, { wanted: 0, tolerance: 0.5 }, { wanted: 0, tolerance: 1 / 3 }), [{ path: "targets[0].tolerance", value: "1/3" }]);
  assert.deepEqual(made("targets[4]", "a", -1), [{ path: "targets[4].point", value: "a" }, { path: "targets[4].level", value: "-1" }]);
  assert.deepEqual(turned(t, "b", levels), [{ path: "targets[0].over", value: "b" }, { path: "targets[0].level", value: "+3" }]);
  assert.deepEqual(turned(t, "ambient", levels), [{ path: "targets[0].over", value: "ambient" }]);
});
