import type { Drawing, Handle, Side, Spot } from "../api";
import { onPlane, useTake } from "../hand";
import { metres } from "./place";
import { cut, handles, placeOf, section, taken } from "./state";
import { reach } from "../touch";

const line = (spots: readonly Spot[]) => spots.map((s) => `${s[0]},${-s[1]}`).join(" ");

// Section is the set-up from the side: the same things, by their heights. What lies before the cut is drawn thin.
export function Section({ d, wide }: { d: Drawing; wide: number }) {
  const plane = section.value as "far" | "left", i = plane === "far" ? 0 : 1, across = plane === "far" ? 1 : 0;
  const sides = d.sides[plane];
  const high = Math.max(3, ...d.rooms.map((r) => r.floor_m + r.height_m), ...sides.map((s) => s.at[1] + 0.3));
  const edge = Math.max(d.high[i] - d.low[i], 3) * 0.08;
  const w = Math.max(d.high[i] - d.low[i], 3) + 2 * edge, h = Math.max(high + 0.8, w * 0.35), px = w / wide;
  const from = d.low[across], to = d.high[across];
  const at = Math.min(to, Math.max(from, cut.value));
  return (
    <section class="section" aria-labelledby="section">
      <h2 id="section">Section</h2>
      <p class="strip">
        <button type="button" aria-pressed={plane === "far"} onClick={() => { section.value = "far"; cut.value = -1e3; }}>looking far, along y</button>
        <button type="button" aria-pressed={plane === "left"} onClick={() => { section.value = "left"; cut.value = 1e3; }}>looking left, along x</button>
        <label>cut at {plane === "far" ? "y" : "x"} {metres(at).replace("-", "−")} m <input type="range" min={from} max={to} step="0.1" value={at} onInput={(e) => { cut.value = e.currentTarget.valueAsNumber; }} /></label>
      </p>
      <svg class="paper" viewBox={`${d.low[i] - edge} ${0.5 - h} ${w} ${h}`} role="group" aria-label={`Section, looking ${plane}`} style={{ fontSize: `${13 * px}px` }}>
        <line class="ground" x1={d.low[i] - edge} x2={d.high[i] + edge} y1="0" y2="0" />
        {d.rooms.map((r) => <rect key={r.name} class="wall cutroom" x={r.low[i]} y={-r.floor_m - r.height_m} width={r.high[i] - r.low[i]} height={r.height_m} />)}
        {d.sun?.patches.map((p) => <polygon key={p.opening + p.plane} class="sunpatch" points={line(p.outline.map((c): Spot => [c[i]!, c[2]]))} />)}
        {sides.map((s) => {
          const handle = handles.value.get(s.name);
          const before = plane === "far" ? s.depth[1] < at - 0.01 : s.depth[0] > at + 0.01;
          return handle ? <Seen key={s.name} side={s} h={handle} plane={plane} before={before} px={px} /> : null;
        })}
      </svg>
    </section>
  );
}

function Seen({ side, h, plane, before, px }: { side: Side; h: Handle; plane: "far" | "left"; before: boolean; px: number }) {
  const at = onPlane(placeOf(h), plane), by: Spot = [at[0] - side.at[0], at[1] - side.at[1]];
  const round = side.outline.length === 0;
  const lamp = side.kind === "lamp" || side.kind === "practical";
  const hand = useTake(h, plane, px);
  const named = lamp || side.kind === "camera" || side.kind === "person" || taken.value.includes(h.name);
  return (
    <g class={`${before ? "before" : ""}${taken.value.includes(h.name) ? " taken" : ""}`}>
      {side.edges.map((e, i) => <line key={i} class={side.kind === "camera" ? "field" : "beam"} x1={at[0]} y1={-at[1]} x2={e[0]} y2={-e[1]} />)}
      <g class={h.move ? "hand" : ""} {...(h.move ? hand : {})}>
        {round ? <circle class="reach" cx={at[0]} cy={-at[1]} r={reach(20) * px} /> : null}
        {round ? <circle class={lamp ? "head" : "point"} cx={at[0]} cy={-at[1]} r={(lamp ? 10 : side.kind === "camera" ? 8 : 3.5) * px} />
          : <polygon class={side.kind === "cloth" ? "cloth" : side.kind === "person" ? "person" : "object"} points={line(side.outline)} transform={`translate(${by[0]} ${-by[1]})`} />}
      </g>
      {named ? <text class="quiet" x={at[0] + 13 * px} y={-at[1] - 4 * px}>{h.name}{lamp ? `, ${at[1].toFixed(1)} m` : ""}</text> : null}
    </g>
  );
}
