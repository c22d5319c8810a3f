import { useEffect, useRef, useState } from "preact/hooks";
import type { Cloth, Drawing, Field, Lamp, Person, Spot } from "./api";
import { drawing } from "./desk";
import { AtHand, held, Turn, useMove } from "./hand";
import { chosen } from "./points";

// GroundPlan draws the set-up from above, to scale, north arrow and scale bar included. The server has worked out every line.
export function GroundPlan() {
  const told = drawing.value;
  const frame = useRef<Pick<Drawing, "low" | "high"> | null>(null);
  if (told && (!held.value || !frame.current)) frame.current = { low: told.low, high: told.high };
  const d = told && { ...told, ...frame.current }; // the paper keeps still under a hand
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
        {d.objects.map((o) => <Outline key={o.name} thing={o} px={px} />)}
        {d.walks.map((k) => <polyline key={k.name} class="walk" points={line(k.spots)} />)}
        {d.cloths.map((c) => <Hung key={c.name} cloth={c} px={px} />)}
        {d.camera ? <Camera camera={d.camera} px={px} /> : null}
        {d.people.map((p) => <Body key={p.name} person={p} px={px} />)}
        {[...d.lamps, ...d.practicals].map((l, i) => <Head key={l.name} lamp={l} number={i + 1} px={px} left={labelledLeft(l.at[0], d, px)} />)}
        {d.points.map((p) => (
          <circle key={p.name} class={`point${p.name === chosen.value ? " chosen" : ""}${onBody(p.at, d.people) ? " worn" : ""}`} cx={p.at[0]} cy={-p.at[1]} r={(p.name === chosen.value ? 7 : 3.5) * px}
            onClick={() => { chosen.value = p.name; }}><title>{p.name}</title></circle>
        ))}
      </svg>
      <Scale d={d} px={px} />
      <AtHand />
    </div>
  );
}

const line = (spots: Spot[]) => spots.map((s) => `${s[0]},${-s[1]}`).join(" ");
const wall = 0.12; // m, how thick a wall is drawn
const body = 0.2; // m, radius of a person

// onBody reports whether a point lies on somebody: a hand there takes the person; the point is chosen in the table.
const onBody = (at: Spot, people: Person[]) => people.some((p) => Math.hypot(at[0] - p.at[0], at[1] - p.at[1]) < body);

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

const path = (fields: Field[], name: string) => fields.find((f) => f.name === name)!.path;

function Outline({ thing, px }: { thing: Drawing["objects"][0]; px: number }) {
  return <g><polygon class="object" points={line(thing.outline)} /><Under outline={thing.outline} name={thing.name} px={px} /></g>;
}

// Under is a name below an outline.
function Under({ outline, name, px }: { outline: Spot[]; name: string; px: number }) {
  const xs = outline.map((s) => s[0]), ys = outline.map((s) => s[1]);
  return <text class="quiet" text-anchor="middle" x={(Math.min(...xs) + Math.max(...xs)) / 2} y={-Math.min(...ys) + 15 * px}>{name}</text>;
}

// Hung is a cloth that can be moved and turned by hand, or with the arrow keys.
function Hung({ cloth, px }: { cloth: Cloth; px: number }) {
  const grip = useMove(cloth.name, cloth.at, path(cloth.fields, "at"), (at) => `${at[0].toFixed(2)} ${at[1].toFixed(2)} ${cloth.height_m.toFixed(2)}`);
  const by: Spot = [grip.at[0] - cloth.at[0], grip.at[1] - cloth.at[1]];
  return (
    <g>
      <Turn name={cloth.name} at={grip.at} looks={cloth.looks} below={cloth.below_deg} path={path(cloth.fields, "faces")} px={px} />
      <g class="hand" tabIndex={0} role="button" aria-label={`${cloth.name}, move`} transform={`translate(${by[0]} ${-by[1]})`} {...grip.hand}>
        <polygon class="grip" points={line(cloth.outline)} />
        <polygon class="cloth" points={line(cloth.outline)} />
      </g>
      <Under outline={cloth.outline.map((s): Spot => [s[0] + by[0], s[1] + by[1]])} name={cloth.name} px={px} />
    </g>
  );
}

// Body is a person who can be moved and turned by hand, or with the arrow keys.
function Body({ person, px }: { person: Person; px: number }) {
  const feet = person.feet_m === 0 ? "" : ` ${person.feet_m.toFixed(2)}`;
  const grip = useMove(person.name, person.at, path(person.fields, "at"), (at) => `${at[0].toFixed(2)} ${at[1].toFixed(2)}${feet}`);
  const [x, y] = [grip.at[0], -grip.at[1]];
  return (
    <g>
      <Turn name={person.name} at={grip.at} looks={person.looks} below={0} path={path(person.fields, "faces")} px={px} />
      <g class="hand" tabIndex={0} role="button" aria-label={`${person.name}, move`} {...grip.hand}>
        <circle class="reach" cx={x} cy={y} r={26 * px} />
        <circle class="person" cx={x} cy={y} r={body} />
        <line class="ink" x1={x} y1={y} x2={x + 0.33 * person.looks[0]} y2={y - 0.33 * person.looks[1]} />
      </g>
      <text class="strong" x={x + 0.28} y={y - 0.2}>{person.name}</text>
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
  const grip = useMove(lamp.name, lamp.at, path(lamp.fields, "at"), (at) => `${at[0].toFixed(2)} ${at[1].toFixed(2)} ${lamp.height_m.toFixed(2)}`);
  const [x, y] = [grip.at[0], -grip.at[1]];
  const turn = (Math.atan2(-lamp.axis[1], lamp.axis[0]) * 180) / Math.PI;
  const r = 11 * px;
  const anchor = left ? "end" : "start", beside = x + (left ? -16 : 16) * px;
  const dim = lamp.fields.find((f) => f.name === "dim")?.value, colour = lamp.fields.find((f) => f.name === "colour")?.value;
  return (
    <g>
      {lamp.edges.map((e, i) => <line key={i} class="beam" x1={x} y1={y} x2={e[0]} y2={-e[1]} />)}
      <g class="hand" tabIndex={0} role="button" aria-label={`${lamp.name}, move`} transform={`translate(${x} ${y}) rotate(${turn})`} {...grip.hand}>
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
