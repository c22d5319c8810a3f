// Where a hand is drawn to: the walls' faces, the axes of other things, else a grid. Nothing here touches the page.

import type { Drawing, Spot, Wall } from "../api";

export interface Axis { along: 0 | 1; at: number; of: string } // x or y equal to at

export interface Snapped { at: Spot; axes: Axis[] }

export const grid = 0.1; // m

// axesOf are what a place can be lined up with: faces of walls, and places of things not in the hand.
export function axesOf(d: Drawing, without: string[] = []): Axis[] {
  const all: Axis[] = [];
  const add = (at: Spot, of: string) => all.push({ along: 0, at: at[0], of }, { along: 1, at: at[1], of });
  for (const r of d.rooms) {
    add(r.low, "wall");
    add(r.high, "wall");
  }
  for (const h of d.handles) if (h.kind !== "room" && h.kind !== "walk" && !without.includes(h.name)) add([h.at[0], h.at[1]], h.name);
  return all;
}

// snap draws a place to the nearest axis each way, if it is within reach, else to the grid.
export function snap(at: Spot, axes: Axis[], reach: number): Snapped {
  const out: Snapped = { at: [0, 0], axes: [] };
  for (const along of [0, 1] as const) {
    let best: Axis | undefined;
    for (const a of axes) if (a.along === along && Math.abs(a.at - at[along]) <= (best ? Math.abs(best.at - at[along]) - 1e-9 : reach)) best = a;
    out.at[along] = best ? best.at : Math.round(at[along] / grid) * grid;
    if (best) out.axes.push(best);
  }
  return out;
}

export interface OnWall { room: number; wall: Wall; along: number; also: number; long: number; off: number }

// wallAt is the wall nearest to a place and another: how far along it from its left end seen from inside each is, and how far
// off both.
export function wallAt(d: Pick<Drawing, "rooms">, at: Spot, other = at): OnWall | undefined {
  let best: OnWall | undefined;
  d.rooms.forEach((r, room) => {
    for (const wall of r.walls) {
      const dx = wall.to[0] - wall.from[0], dy = wall.to[1] - wall.from[1], long = Math.hypot(dx, dy);
      const along = (s: Spot) => Math.min(long, Math.max(0, ((s[0] - wall.from[0]) * dx + (s[1] - wall.from[1]) * dy) / long));
      const off = (s: Spot) => Math.hypot(s[0] - wall.from[0] - (along(s) * dx) / long, s[1] - wall.from[1] - (along(s) * dy) / long);
      const far = (off(at) + off(other)) / 2;
      if (!best || far < best.off - 1e-9) best = { room, wall, along: along(at), also: along(other), long, off: far };
    }
  });
  return best;
}

// thingAt is the thing that something can be aimed at within reach of a place.
export function thingAt(d: Drawing, at: Spot, reach: number, without: string): string {
  const wanted = ["person", "point", "mark", "cloth", "object", "opening", "practical", "lamp"];
  let best = "", near = reach;
  for (const h of d.handles) {
    const off = Math.hypot(h.at[0] - at[0], h.at[1] - at[1]);
    if (h.name !== without && wanted.includes(h.kind) && off <= near) [best, near] = [h.name, off];
  }
  return best;
}
