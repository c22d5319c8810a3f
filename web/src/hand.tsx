// What can be taken by hand on the ground plan: dragged and turned by pointer or arrow keys, or told a number.

import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Field, Spot } from "./api";
import { drawing, edit } from "./desk";
import { Value } from "./value";

const inHand = signal(""); // name of what was taken last
export const held = signal(false); // something is being dragged

// spotOf is where on the plan a pointer is.
function spotOf(e: PointerEvent): Spot {
  const p = new DOMPoint(e.clientX, e.clientY).matrixTransform((e.currentTarget as SVGGElement).ownerSVGElement!.getScreenCTM()!.inverse());
  return [p.x, -p.y];
}

const arrows: Record<string, Spot> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

// useGrip lets a hand take something: each place it is taken to is put there, all of one drag as one step of undo. It returns
// where the thing is shown, and what to hang on its element.
function useGrip(name: string, at: Spot, put: (to: Spot, group: string) => void, nudge: (way: Spot, far: boolean) => void) {
  const [to, take] = useState<Spot | null>(null);
  const start = useRef({ off: [0, 0] as Spot, group: "" });
  const release = () => { take(null); held.value = false; };
  useEffect(() => () => { held.value = false; }, []);
  return {
    at: to ?? at,
    hand: {
      onFocus: () => { inHand.value = name; },
      onPointerDown: (e: PointerEvent) => {
        const g = e.currentTarget as SVGGElement, p = spotOf(e);
        g.setPointerCapture(e.pointerId);
        g.focus();
        start.current = { off: [at[0] - p[0], at[1] - p[1]], group: crypto.randomUUID() };
        take(at);
        held.value = true;
      },
      onPointerMove: (e: PointerEvent) => {
        if (!to) return;
        const p = spotOf(e), { off, group } = start.current, next: Spot = [p[0] + off[0], p[1] + off[1]];
        take(next);
        put(next, group);
      },
      onPointerUp: release, onPointerCancel: release,
      onKeyDown: (e: KeyboardEvent) => {
        const way = arrows[e.key];
        if (!way) return;
        e.preventDefault();
        nudge(way, e.shiftKey);
      },
    },
  };
}

// useMove is a grip that moves a thing: text says its place as the plan writes it.
export function useMove(name: string, at: Spot, path: string, text: (at: Spot) => string) {
  const put = (to: Spot, group: string) => edit([{ path, value: text(to) }], group);
  return useGrip(name, at, put, (way, far) => {
    const step = far ? 0.25 : 0.05; // m
    put([at[0] + way[0] * step, at[1] + way[1] * step], "");
  });
}

// Turn is the handle before a thing by which it is turned about its middle: to the degree, by the compass.
export function Turn({ name, at, looks, below, path, px }: { name: string; at: Spot; looks: Spot; below: number; path: string; px: number }) {
  const reach = 44 * px;
  const face = (way: Spot, group: string, by = 0) => {
    const bearing = Math.round((Math.atan2(way[0], way[1]) * 180) / Math.PI + drawing.value!.north_deg + by);
    const tilt = Math.abs(below) < 0.05 ? "" : ` ${Math.abs(below).toFixed(1)} deg ${below > 0 ? "down" : "up"}`;
    edit([{ path, value: `${((bearing % 360) + 360) % 360} deg${tilt}` }], group);
  };
  const handle: Spot = [at[0] + looks[0] * reach, at[1] + looks[1] * reach];
  const grip = useGrip(name, handle, (to, group) => face([to[0] - at[0], to[1] - at[1]], group),
    (way, far) => face(looks, "", (way[0] - way[1]) * (far ? 15 : 1)));
  if (looks[0] === 0 && looks[1] === 0) return null;
  return (
    <g>
      <line class="beam" x1={at[0]} y1={-at[1]} x2={grip.at[0]} y2={-grip.at[1]} />
      <g class="hand" tabIndex={0} role="button" aria-label={`${name}, turn`} {...grip.hand}>
        <circle class="reach" cx={grip.at[0]} cy={-grip.at[1]} r={14 * px} />
        <circle class="empty" cx={grip.at[0]} cy={-grip.at[1]} r={5 * px} />
      </g>
    </g>
  );
}

const where = ["at", "faces", "aim"];

// AtHand takes numbers for what was taken last, in any unit.
export function AtHand() {
  const d = drawing.value;
  const thing: { name: string; fields: Field[] } | undefined = d ? [...d.lamps, ...d.practicals, ...d.cloths, ...d.people].find((t) => t.name === inHand.value) : undefined;
  if (!thing) return null;
  return (
    <p class="athand"><b>{thing.name}</b>
      {thing.fields.filter((f) => where.includes(f.name)).map((f) => <label key={f.path}>{f.name} <Value field={f} label={`${thing.name}, ${f.name}`} /></label>)}
    </p>
  );
}
