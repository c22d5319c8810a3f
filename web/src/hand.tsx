// What can be taken by hand on the ground plan and in section: dragged, nudged and turned by pointer or key, or told a number.

import { useRef } from "preact/hooks";
import type { Change, Handle, Place, Spot } from "./api";
import { both, metres, moved, raised, turned } from "./board/place";
import { axesOf, snap, thingAt } from "./board/snap";
import { copy, guides, handles, held, once, placeOf, places, remove, snapping, take, taken } from "./board/state";
import { drawing, edit } from "./desk";
import { Value } from "./value";
import { reach } from "./touch";

// Plane is how the paper lies: seen from above, or in one of the sections. A spot is right and up.
export type Plane = "plan" | "far" | "left";

export const onPlane = (at: Place, plane: Plane): Spot => (plane === "plan" ? [at[0], at[1]] : [plane === "far" ? at[0] : at[1], at[2]]);

function shifted(at: Place, by: Spot, plane: Plane): Place {
  const [x, y, z] = at;
  if (plane === "plan") return [x + by[0], y + by[1], z];
  return plane === "far" ? [x + by[0], y, z + by[1]] : [x, y + by[0], z + by[1]];
}

// spotOf is where on the paper a pointer is.
export function spotOf(e: PointerEvent): Spot {
  const svg = (e.currentTarget as SVGElement).closest("svg")!;
  const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM()!.inverse());
  return [p.x, -p.y];
}

const arrows: Record<string, Spot> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
export const step = 0.1, fine = 0.01; // m

// put takes things by a way, all in one edit.
function put(from: [string, Place][], by: Spot, plane: Plane, group: string): void {
  const now: Record<string, Place> = { ...places.value }, changes: Change[] = [];
  for (const [name, at] of from) {
    const h = handles.value.get(name);
    if (!h?.move) continue;
    now[name] = shifted(at, by, plane);
    changes.push(...moved(h, now[name]!));
  }
  if (changes.length === 0) return;
  places.value = now;
  edit(once(changes), group);
}

const along = (name: string): [string, Place][] => (taken.value.includes(name) ? taken.value : [name])
  .map((n) => handles.value.get(n)).filter((h) => h !== undefined).map((h) => [h.name, placeOf(h)]);

interface Drag { from: Spot; hold: Spot; all: [string, Place][]; group: string; went: boolean }

// useTake lets a hand take a thing and all that are taken with it, each drag as one step of undo. It returns what to hang on
// the thing's element.
export function useTake(h: Handle, plane: Plane, px: number) {
  const drag = useRef<Drag | null>(null);
  const end = () => { drag.current = null; held.value = false; guides.value = []; places.value = { ...places.value }; };
  return {
    tabindex: 0, role: "button" as const, "aria-label": plane === "plan" ? `${h.name}, move` : `${h.name}, raise`, "aria-pressed": taken.value.includes(h.name),
    onFocus: () => { if (!taken.value.includes(h.name)) take(h.name, false); },
    onPointerDown: (e: PointerEvent) => {
      if (e.button !== 0) return;
      e.stopPropagation();
      const g = e.currentTarget as SVGGElement;
      if (e.shiftKey) take(h.name, true);
      else if (!taken.value.includes(h.name)) take(h.name, false);
      g.setPointerCapture(e.pointerId);
      if (!e.shiftKey) g.focus({ preventScroll: true });
      drag.current = { from: spotOf(e), hold: onPlane(placeOf(h), plane), all: along(h.name), group: crypto.randomUUID(), went: false };
      held.value = h.move !== undefined;
    },
    onPointerMove: (e: PointerEvent) => {
      const s = drag.current, d = drawing.value;
      if (!s || !h.move || !d) return;
      const p = spotOf(e), by: Spot = [p[0] - s.from[0], p[1] - s.from[1]];
      if (!s.went && Math.hypot(by[0], by[1]) < 3 * px) return; // a tap only takes
      s.went = true;
      const wanted: Spot = [s.hold[0] + by[0], s.hold[1] + by[1]];
      const to = snapping.value && !e.altKey ? snap(wanted, plane === "plan" ? axesOf(d, s.all.map(([n]) => n)) : [], 5 * px) : { at: wanted, axes: [] };
      guides.value = to.axes;
      put(s.all, [to.at[0] - s.hold[0], to.at[1] - s.hold[1]], plane, s.group);
    },
    onPointerUp: end, onPointerCancel: end,
    onKeyDown: (e: KeyboardEvent) => {
      const way = arrows[e.key];
      if (!way || !h.move) return;
      e.preventDefault();
      const far = e.shiftKey ? fine : step;
      put(along(h.name), [way[0] * far, way[1] * far], plane, "");
    },
  };
}

// Turned is the handle before a thing by which it is turned, or aimed at another by being laid on it.
export function Turned({ h, px }: { h: Handle; px: number }) {
  const group = useRef("");
  const t = h.turn;
  if (!t || (t.looks[0] === 0 && t.looks[1] === 0)) return null;
  const [x, y] = placeOf(h), arm = (reach(14) + 30) * px;
  const d = drawing.value!;
  const face = (way: Spot, to: number, by = 0) => edit(turned(h, way, d.north_deg, to, by), group.current);
  const at: Spot = [x + t.looks[0] * arm, y + t.looks[1] * arm];
  return (
    <g>
      <line class="beam" x1={x} y1={-y} x2={at[0]} y2={-at[1]} />
      <g class="hand turn" tabindex={0} role="button" aria-label={`${h.name}, turn`}
        onFocus={() => { if (!taken.value.includes(h.name)) take(h.name, false); }}
        onPointerDown={(e) => {
          e.stopPropagation();
          const g = e.currentTarget as SVGGElement;
          g.setPointerCapture(e.pointerId);
          g.focus({ preventScroll: true });
          group.current = crypto.randomUUID();
          held.value = true;
        }}
        onPointerMove={(e) => {
          if (!group.current) return;
          const p = spotOf(e), other = t.aims && !e.altKey ? thingAt(d, p, 14 * px, h.name) : "";
          if (other) edit([{ path: t.path, value: other }], group.current);
          else face([p[0] - x, p[1] - y], 1);
        }}
        onPointerUp={() => { group.current = ""; held.value = false; }} onPointerCancel={() => { group.current = ""; held.value = false; }}
        onKeyDown={(e) => {
          const way = arrows[e.key];
          if (!way) return;
          e.preventDefault();
          face(t.looks, 1, (way[0] - way[1]) * (e.shiftKey ? 1 : 5));
        }}>
        <circle class="reach" cx={at[0]} cy={-at[1]} r={reach(14) * px} />
        <circle class="empty" cx={at[0]} cy={-at[1]} r={5 * px} />
      </g>
    </g>
  );
}

// AtHand takes numbers for what is taken, in any unit, and what else is done to it.
export function AtHand() {
  const all = taken.value.map((n) => handles.value.get(n)).filter((h) => h !== undefined);
  const h = all[0];
  if (!h) return null;
  const height = h.move && !h.move.height && h.fields.some((f) => f.name === "height") && h.kind !== "person";
  return (
    <section class="athand" aria-label="Taken">
      <b>{all.length === 1 ? h.name : `${all.length} things`}</b> <small>{all.length === 1 ? h.kind : all.map((x) => x.name).join(", ")}</small>
      {all.length === 1 ? h.fields.filter((f) => !(height && f.name === "height")).map((f) => <label key={f.path}>{f.name} <Value field={f} label={`${h.name}, ${f.name}`} /></label>) : null}
      {all.length === 1 && height ? (
        <label>height <Value field={{ name: "height", path: "", value: `${metres(h.at[2])} m` }} label={`${h.name}, height`} put={(typed) => edit(once(raised(h, typed)))} /> <small>{both(h.at[2]).split(", ")[1]}</small></label>
      ) : null}
      <span class="deeds">
        {all.some((x) => x.copy.length > 0) ? <button type="button" onClick={copy}>Copy</button> : null}
        {all.some((x) => x.remove.length > 0) ? <button type="button" onClick={remove}>Delete</button> : null}
        <button type="button" onClick={() => { taken.value = []; }}>Let go</button>
      </span>
    </section>
  );
}
