import type { Reading } from "./api";
import { Brackets } from "./bracket";
import { drawing, levels } from "./desk";
import { chosen } from "./points";
import { spread } from "./stops";
import { brackets } from "./targets";
import { Wanted } from "./wanted";

const top = 24, rung = 44, left = 44, width = 260;

// Ladder is the stops over key: every point at its level with its interval as a bar and its target as a bracket that can be
// dragged, walks as long as they swing, what clips hatched above and noise dotted below.
export function Ladder() {
  const d = drawing.value, e = levels.value;
  if (!d || !e) return null;
  const lit = e.levels.points.map((p, i) => ({ ...p, text: e.printed[i]! })).filter((p) => p.over_key_stops !== null);
  const all = lit.map((p) => p.over_key_stops!);
  const wanted = brackets(d, e.levels);
  const ends = wanted.filter((t) => t.zero !== null).map((t) => t.zero! + t.wanted_stops);
  const high = Math.ceil(Math.max(d.clip_stops, ...all, ...ends)) + 1, low = Math.floor(Math.min(d.noise_floor_stops, ...all, ...ends)) - 1;
  const y = (stops: number) => top + (high - stops) * rung;
  const bottom = y(low);
  const labels = spread(lit.map((p) => y(p.over_key_stops!)), 18);
  const rungs = Array.from({ length: high - low + 1 }, (_, i) => high - i);
  return (
    <section class="ladder" aria-labelledby="ladder">
      <h2 id="ladder">Stops over key</h2>
      <svg viewBox={`0 0 ${width} ${bottom + 6}`} role="group" aria-label="stop ladder">
        <defs>
          <pattern id="clips" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2="7" /></pattern>
          <pattern id="noise" width="6" height="6" patternUnits="userSpaceOnUse"><circle class="dot" cx="2" cy="2" r="1" /></pattern>
        </defs>
        <rect x={left} y={top} width={width - left} height={Math.max(0, y(d.clip_stops) - top)} fill="url(#clips)" />
        <rect x={left} y={y(d.noise_floor_stops)} width={width - left} height={Math.max(0, bottom - y(d.noise_floor_stops))} fill="url(#noise)" />
        <text class="on" x={width - 4} y={top + 16} text-anchor="end">clips</text>
        <text class="on" x={width - 4} y={bottom - 8} text-anchor="end">noise</text>
        <line class="rail" x1={left} y1={top} x2={left} y2={bottom} />
        {rungs.map((s) => (
          <g key={s}>
            <line class={s === 0 ? "key" : "rung"} x1={left - 8} y1={y(s)} x2={s === 0 ? width : left} y2={y(s)} />
            <text class={s === 0 ? "strong" : ""} x={left - 12} y={y(s) + 5} text-anchor="end">{s > 0 ? `+${s}` : s < 0 ? `−${-s}` : "0"}</text>
          </g>
        ))}
        {e.levels.walks.map((w) => <Swing key={w.name} points={w.points} x={left + 18} y={y} />)}
        {lit.map((p, i) => (
          <g key={p.name} class={`tone ${p.text.warm}`} role="button" tabIndex={0} aria-pressed={p.name === chosen.value}
            aria-label={`${p.name}, ${p.text.over} ${p.text.interval}`} onClick={() => { chosen.value = p.name; }}
            onKeyDown={(k) => { if (k.key === "Enter" || k.key === " ") { k.preventDefault(); chosen.value = p.name; } }}>
            <rect class="reach" x={left + 46} y={labels[i]! - 9} width={width - left - 46} height="18" />
            <line class="doubt" x1={left + 9} x2={left + 9} y1={y(p.over_key_stops! + p.interval_stops)} y2={y(p.over_key_stops! - p.interval_stops)} />
            <circle class="at" cx={left + 9} cy={y(p.over_key_stops!)} r={p.name === chosen.value ? 7.5 : 5.5} />
            <line class="lead" x1={left + 40} y1={y(p.over_key_stops!)} x2={left + 50} y2={labels[i]} />
            <text class={p.name === chosen.value ? "strong" : ""} x={left + 54} y={labels[i]! + 5}>{p.name}</text>
          </g>
        ))}
        <Brackets targets={wanted} x={left + 24} y={y} stopsAt={(at) => high - (at - top) / rung} />
      </svg>
      <Wanted targets={wanted} />
      {e.lines.length > 0 ? <ul class="lines">{e.lines.map((l) => <li key={l.name}><b>{l.name}</b> {l.text}</li>)}</ul> : null}
    </section>
  );
}

// Swing is a walk from its darkest place to its brightest.
function Swing({ points, x, y }: { points: Reading[]; x: number; y: (stops: number) => number }) {
  const lit = points.map((p) => p.over_key_stops).filter((s) => s !== null);
  if (lit.length === 0) return null;
  const most = y(Math.max(...lit)), least = y(Math.min(...lit));
  return <path class="swing" d={`M${x - 4} ${most}h8M${x} ${most}V${least}M${x - 4} ${least}h8`} />;
}
