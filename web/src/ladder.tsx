import { drawing, levels } from "./desk";
import { chosen } from "./points";

const top = 24, rung = 44, left = 58, width = 260;

// Ladder is the stops over key: every point at its level with its interval as a bar and its target as a bracket, what clips
// hatched above and noise dotted below.
export function Ladder() {
  const d = drawing.value, e = levels.value;
  if (!d || !e) return null;
  const lit = e.levels.points.map((p, i) => ({ ...p, text: e.printed[i]! })).filter((p) => p.over_key_stops !== null);
  const all = lit.map((p) => p.over_key_stops!);
  const high = Math.ceil(Math.max(d.clip_stops, ...all)) + 1, low = Math.floor(Math.min(d.noise_floor_stops, ...all)) - 1;
  const y = (stops: number) => top + (high - stops) * rung;
  const bottom = y(low);
  const labels = spread(lit.map((p) => y(p.over_key_stops!)), 17);
  const rungs = Array.from({ length: high - low + 1 }, (_, i) => high - i);
  return (
    <section class="ladder" aria-labelledby="ladder">
      <h2 id="ladder">Stops over key</h2>
      <svg viewBox={`0 0 ${width} ${bottom + top}`} role="img" aria-label={lit.map((p) => `${p.name} ${p.text.over}`).join(", ")}>
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
            <text class={s === 0 ? "strong" : ""} x={left - 14} y={y(s) + 5} text-anchor="end">{s > 0 ? `+${s}` : s < 0 ? `−${-s}` : "0"}</text>
          </g>
        ))}
        {d.targets.filter((t) => t.over === "key").map((t) => (
          <path key={t.point} class="bracket" d={`M${left + 26} ${y(t.wanted_stops + t.tolerance_stops)}h-6V${y(t.wanted_stops - t.tolerance_stops)}h6`} />
        ))}
        {lit.map((p, i) => {
          const at = y(p.over_key_stops!);
          return (
            <g key={p.name} class={p.text.warm}>
              <line class="doubt" x1={left + 9} x2={left + 9} y1={y(p.over_key_stops! + p.interval_stops)} y2={y(p.over_key_stops! - p.interval_stops)} />
              <circle class="at" cx={left + 9} cy={at} r={p.name === chosen.value ? 7.5 : 5.5} />
              <line class="lead" x1={left + 28} y1={at} x2={left + 38} y2={labels[i]} />
              <text class={p.name === chosen.value ? "strong" : ""} x={left + 42} y={labels[i]! + 5}>{p.name}</text>
            </g>
          );
        })}
      </svg>
    </section>
  );
}

// spread moves labels apart to at least a gap, each as near to its place as the others leave room.
export function spread(places: number[], gap: number): number[] {
  const order = places.map((_, i) => i).sort((a, b) => places[a]! - places[b]!);
  const out = [...places];
  for (let round = 0; round < 50; round++) {
    for (let k = 1; k < order.length; k++) {
      const a = order[k - 1]!, b = order[k]!, lack = gap - (out[b]! - out[a]!);
      if (lack > 0) { out[a]! -= lack / 2; out[b]! += lack / 2; }
    }
  }
  return out;
}
