import { useEffect, useRef, useState } from "preact/hooks";
import type { Drawing, Lamp, Spot } from "./api";
import { drawing, edit } from "./desk";
import { chosen } from "./points";

// GroundPlan draws the set-up from above, to scale, north arrow and scale bar included. The server has worked out every line.
export function GroundPlan() {
  const d = drawing.value;
  const box = useRef<HTMLDivElement>(null);
  const [wide, measure] = useState(600);
  useEffect(() => {
    if (!box.current) return;
    const watch = new ResizeObserver((e) => measure(e[0]!.contentRect.width || 600));
    watch.observe(box.current);
    return () => watch.disconnect();
  }, [d === null]);
  if (!d) return null;
  const span = Math.max(d.high[0] - d.low[0], d.high[1] - d.low[1], 1);
  const edge = span * 0.12;
  const w = d.high[0] - d.low[0] + 2 * edge, h = d.high[1] - d.low[1] + 2 * edge;
  const px = w / wide; // metres a pixel
  return (
    <div class="groundplan" ref={box}>
      <svg viewBox={`${d.low[0] - edge} ${-d.high[1] - edge} ${w} ${h}`} role="group" aria-label={`Ground plan of ${d.title}, ${d.setup}`} style={{ fontSize: `${13 * px}px` }}>
        <defs>
          <pattern id="wall" width={6 * px} height={6 * px} patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2={6 * px} /></pattern>
        </defs>
        {d.rooms.map((r) => <Room key={r.name} room={r} px={px} />)}
        {d.objects.map((o) => <Outline key={o.name} thing={o} kind="object" px={px} />)}
        {d.walks.map((k) => <polyline key={k.name} class="walk" points={line(k.spots)} />)}
        {d.cloths.map((c) => <Outline key={c.name} thing={c} kind="cloth" px={px} />)}
        {d.camera ? <Camera camera={d.camera} px={px} /> : null}
        {d.people.map((p) => (
          <g key={p.name}>
            <circle class="person" cx={p.at[0]} cy={-p.at[1]} r={0.2} />
            <line class="ink" x1={p.at[0]} y1={-p.at[1]} x2={p.at[0] + 0.33 * p.looks[0]} y2={-p.at[1] - 0.33 * p.looks[1]} />
            <text class="strong" x={p.at[0] + 0.28} y={-p.at[1] - 0.2}>{p.name}</text>
          </g>
        ))}
        {[...d.lamps, ...d.practicals].map((l, i) => <Head key={l.name} lamp={l} number={i + 1} px={px} left={labelledLeft(l.at[0], d, px)} />)}
        {d.points.map((p) => (
          <circle key={p.name} class={p.name === chosen.value ? "point chosen" : "point"} cx={p.at[0]} cy={-p.at[1]} r={(p.name === chosen.value ? 7 : 3.5) * px}
            onClick={() => { chosen.value = p.name; }}><title>{p.name}</title></circle>
        ))}
      </svg>
      <Scale d={d} px={px} />
    </div>
  );
}

const line = (spots: Spot[]) => spots.map((s) => `${s[0]},${-s[1]}`).join(" ");
const wall = 0.12; // m, how thick a wall is drawn

function Room({ room, px }: { room: Drawing["rooms"][0]; px: number }) {
  const [x, y] = room.low, [far, top] = room.high;
  const out = `M${x - wall} ${-top - wall}H${far + wall}V${-y + wall}H${x - wall}Z`, inside = `M${x} ${-top}V${-y}H${far}V${-top}Z`;
  return (
    <g>
      <path class="wall" d={out + inside} fill="url(#wall)" fill-rule="evenodd" />
      {room.openings.map((o) => {
        const dx = o.to[0] - o.from[0], dy = o.to[1] - o.from[1], long = Math.hypot(dx, dy);
        const nx = (dy / long) * wall, ny = (-dx / long) * wall; // out of the room, seen from inside left to right
        const corners: Spot[] = [o.from, o.to, [o.to[0] - nx, o.to[1] - ny], [o.from[0] - nx, o.from[1] - ny]];
        const gel = o.fields.find((f) => f.name === "gel")?.value ?? "";
        return (
          <g key={o.name}>
            <polygon class="opening" points={line(corners)} />
            <line class="ink" x1={o.from[0] - nx / 2} y1={-o.from[1] + ny / 2} x2={o.to[0] - nx / 2} y2={-o.to[1] + ny / 2} />
            <text class="quiet" text-anchor="middle" x={(o.from[0] + o.to[0]) / 2 - 2.2 * nx} y={-(o.from[1] + o.to[1]) / 2 + 2.2 * ny + 5 * px}>{o.name}{gel ? `, ${gel}` : ""}</text>
          </g>
        );
      })}
    </g>
  );
}

function Outline({ thing, kind, px }: { thing: Drawing["objects"][0]; kind: string; px: number }) {
  const xs = thing.outline.map((s) => s[0]), ys = thing.outline.map((s) => s[1]);
  return (
    <g>
      <polygon class={kind} points={line(thing.outline)} />
      <text class="quiet" text-anchor="middle" x={(Math.min(...xs) + Math.max(...xs)) / 2} y={-Math.min(...ys) + 15 * px}>{thing.name}</text>
    </g>
  );
}

// labelledLeft reports whether a lamp's label stands on its left: outward, unless there is no room for it.
function labelledLeft(x: number, d: Drawing, px: number): boolean {
  const room = 110 * px;
  return x < (d.low[0] + d.high[0]) / 2 ? x - d.low[0] > room : d.high[0] - x < room;
}

// Head is a lamp that can be taken by hand, or moved with the arrow keys.
function Head({ lamp, number, px, left }: { lamp: Lamp; number: number; px: number; left: boolean }) {
  const [held, hold] = useState<{ at: Spot; group: string } | null>(null);
  const place = lamp.fields.find((f) => f.name === "at")!.path;
  const put = (at: Spot, group: string) => edit([{ path: place, value: `${at[0].toFixed(2)} ${at[1].toFixed(2)} ${lamp.height_m.toFixed(2)}` }], group);
  const take = (e: PointerEvent) => {
    (e.currentTarget as Element).setPointerCapture(e.pointerId);
    hold({ at: lamp.at, group: crypto.randomUUID() });
  };
  const drag = (e: PointerEvent) => {
    if (!held) return;
    const svg = (e.currentTarget as SVGGElement).ownerSVGElement!;
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM()!.inverse());
    const at: Spot = [p.x, -p.y];
    hold({ ...held, at });
    put(at, held.group);
  };
  const nudge = (e: KeyboardEvent) => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (!way) return;
    e.preventDefault();
    const step = e.shiftKey ? 0.25 : 0.05; // m
    put([lamp.at[0] + way[0]! * step, lamp.at[1] + way[1]! * step], "");
  };
  const at = held?.at ?? lamp.at;
  const [x, y] = [at[0], -at[1]];
  const turn = (Math.atan2(-lamp.axis[1], lamp.axis[0]) * 180) / Math.PI;
  const r = 11 * px;
  const anchor = left ? "end" : "start", beside = x + (left ? -16 : 16) * px;
  const dim = lamp.fields.find((f) => f.name === "dim")?.value, colour = lamp.fields.find((f) => f.name === "colour")?.value;
  return (
    <g>
      {lamp.edges.map((e, i) => <line key={i} class="beam" x1={x} y1={y} x2={e[0]} y2={-e[1]} />)}
      <g class="hand" tabIndex={0} role="button" aria-label={`${lamp.name}, move`} transform={`translate(${x} ${y}) rotate(${turn})`}
        onPointerDown={take} onPointerMove={drag} onPointerUp={() => hold(null)} onPointerCancel={() => hold(null)} onKeyDown={nudge}>
        <circle class="reach" r={26 * px} />
        <circle class="head" r={r} />
        {lamp.edges.length > 0 ? <path class="front" d={`M${r * 0.5} ${-r * 0.866}A${r} ${r} 0 0 1 ${r * 0.5} ${r * 0.866}Z`} /> : <path class="ink" d={`M${-r * 1.4} 0H${r * 1.4}M0 ${-r * 1.4}V${r * 1.4}`} />}
      </g>
      <text class="strong" text-anchor={anchor} x={beside} y={y - 2 * px}>{number} {lamp.name}</text>
      <text class="quiet" text-anchor={anchor} x={beside} y={y + 13 * px}>{dim}{colour ? `, ${colour}` : ""}, h {lamp.height_m.toFixed(1)} m</text>
    </g>
  );
}

function Camera({ camera, px }: { camera: NonNullable<Drawing["camera"]>; px: number }) {
  const [x, y] = [camera.at[0], -camera.at[1]];
  const [a, b] = camera.edges;
  const turn = a && b ? (Math.atan2(-(a[1] + b[1]) / 2 - y, (a[0] + b[0]) / 2 - x) * 180) / Math.PI : 0;
  return (
    <g>
      {camera.edges.map((e, i) => <line key={i} class="field" x1={x} y1={y} x2={e[0]} y2={-e[1]} />)}
      <path class="camera" transform={`translate(${x} ${y}) rotate(${turn}) scale(${px})`} d="M-24 -9H0L11 -13V13L0 9H-24Z" />
    </g>
  );
}

// Scale is the north arrow and a bar of whole metres about a third as long as the drawing is wide.
function Scale({ d, px }: { d: Drawing; px: number }) {
  const third = (d.high[0] - d.low[0]) / 3;
  const metres = [0.5, 1, 2, 5, 10, 20, 50, 100].findLast((m) => m <= third) ?? 0.5;
  const long = metres / px;
  return (
    <svg class="scale" viewBox={`0 0 ${long + 90} 50`} width={long + 90} height="50" role="img" aria-label={`scale bar of ${metres} metres, and north`}>
      <g transform="translate(24 28)"><circle class="ring" r="16" /><path class="front" d="M0 -19L5 6L0 3L-5 6Z" transform={`rotate(${-d.north_deg})`} /></g>
      <rect class="front" x="60" y="26" width={long / 2} height="6" /><rect class="empty" x={60 + long / 2} y="26" width={long / 2} height="6" />
      <text x="60" y="20">0</text><text x={60 + long} y="20" text-anchor="end">{metres} m</text>
    </svg>
  );
}
