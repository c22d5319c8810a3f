// What the hand is drawing, lined up with, or measuring.

import type { Drawing } from "../api";
import { both } from "./place";
import { band, form, guides, measuring, press, ruler, tool } from "./state";

// Guides are the lines a hand is drawn to.
export function Guides({ d, px }: { d: Drawing; px: number }) {
  const far = 200;
  return (
    <g class="guides" aria-hidden="true">
      {guides.value.map((a) => (a.along === 0
        ? <g key={`x${a.at}`}><line x1={a.at} y1={-far} x2={a.at} y2={far} /><text class="quiet" x={a.at + 4 * px} y={-d.high[1] - 22 * px}>{a.of}</text></g>
        : <g key={`y${a.at}`}><line x1={-far} y1={-a.at} x2={far} y2={-a.at} /><text class="quiet" x={d.low[0] - 4 * px} text-anchor="end" y={-a.at - 4 * px}>{a.of}</text></g>))}
    </g>
  );
}

// Sketch is what a press would draw, and the band round things.
export function Sketch({ px }: { px: number }) {
  const p = press.value, t = tool.value, b = band.value;
  const box = (from: [number, number], to: [number, number], face: string) => <rect class={face} x={Math.min(from[0], to[0])} y={-Math.max(from[1], to[1])} width={Math.abs(to[0] - from[0])} height={Math.abs(to[1] - from[1])} />;
  const spots = (form.value.places ?? "").split(";").map((s) => s.trim().split(/\s+/).map(Number)).filter((s) => s.length > 1 && s.every(Number.isFinite));
  return (
    <g class="sketch" aria-hidden="true">
      {b ? box(b.from, b.to, "band") : null}
      {p && t?.hand === "box" ? (
        <>
          {box(p.from, p.to, "draft")}
          <text class="strong" x={Math.max(p.from[0], p.to[0]) + 8 * px} y={-Math.min(p.from[1], p.to[1])}>{Math.abs(p.to[0] - p.from[0]).toFixed(2)} × {Math.abs(p.to[1] - p.from[1]).toFixed(2)} m</text>
        </>
      ) : null}
      {p && t && t.hand !== "box" || p && measuring.value ? <line class="draft" x1={p.from[0]} y1={-p.from[1]} x2={p.to[0]} y2={-p.to[1]} /> : null}
      {p ? <circle class="draft" cx={p.from[0]} cy={-p.from[1]} r={5 * px} /> : null}
      {t?.hand === "places" ? <polyline class="draft" points={spots.map((s) => `${s[0]},${-s[1]!}`).join(" ")} /> : null}
    </g>
  );
}

// Ruler is what was measured last.
export function Ruler({ px }: { px: number }) {
  const [a, b] = ruler.value;
  if (!a) return null;
  if (!b) return <circle class="draft" cx={a[0]} cy={-a[1]} r={5 * px} />;
  return (
    <g class="dimension">
      <path d={`M${a[0]} ${-a[1]}L${b[0]} ${-b[1]}`} />
      <circle class="point" cx={a[0]} cy={-a[1]} r={3 * px} /><circle class="point" cx={b[0]} cy={-b[1]} r={3 * px} />
      <text class="strong" x={(a[0] + b[0]) / 2 + 8 * px} y={-(a[1] + b[1]) / 2 - 6 * px}>{both(Math.hypot(a[0] - b[0], a[1] - b[1]))}</text>
    </g>
  );
}
