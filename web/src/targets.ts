// The targets of the set-up shown, joined from its drawing and its readings.

import type { Change, Drawing, Levels, Target } from "./api";
import { written, type Wish } from "./stops";

export interface Bracket extends Target { zero: number | null; outcome: string } // zero: where on the ladder its level counts from

// brackets are the targets with their places; one whose point is dark has none.
export function brackets(d: Drawing, l: Levels): Bracket[] {
  return d.targets.map((t) => {
    const read = l.targets.find((r) => r.of === t.point && r.over === t.over);
    const point = l.points.find((p) => p.name === t.point)?.over_key_stops ?? null;
    const level = read?.level_stops ?? null;
    const zero = t.over === "key" ? 0 : point === null || level === null ? null : point - level;
    return { ...t, zero, outcome: read?.outcome ?? "" };
  });
}

export const wishOf = (t: Target): Wish => ({ wanted: t.wanted_stops, tolerance: t.tolerance_stops });

// changes are what sets a target from one wish to another.
export function changes(t: Target, from: Wish, to: Wish): Change[] {
  const all: Change[] = [];
  if (to.wanted !== from.wanted) all.push({ path: t.level.path, value: written(to.wanted) });
  if (to.tolerance !== from.tolerance) all.push({ path: t.within.path, value: written(to.tolerance).slice(1) });
  return all;
}

// made are the changes that want a level at a point which wants none.
export const made = (path: string, point: string, stops: number): Change[] =>
  [{ path: `${path}.point`, value: point }, { path: `${path}.level`, value: written(stops) }];

// turned are the changes by which a target's level counts over something else. Where that is a point, or the key, what is wanted
// becomes what is there, so that nothing jumps.
export function turned(t: Target, over: string, l: Levels): Change[] {
  const at = (name: string) => (name === "key" ? 0 : l.points.find((p) => p.name === name)?.over_key_stops ?? null);
  const here = at(t.point), there = at(over);
  const level: Change[] = here === null || there === null ? [] : [{ path: t.level.path, value: written(Math.round((here - there) * 3) / 3) }];
  return [{ path: t.against.path, value: over }, ...level];
}
