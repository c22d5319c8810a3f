// The things of a ground plan in the trade's manner, each with its handle.

import { useRef } from "preact/hooks";
import type * as api from "../api";
import type { Drawing, Handle, Spot } from "../api";
import { drawing, edit } from "../desk";
import { spotOf, Turned, useTake } from "../hand";
import { hourSun } from "../clock";
import { chosen } from "../points";
import { feet } from "./place";
import { wallAt } from "./snap";
import { handles, held, placeOf, snapping, take, taken } from "./state";
import { reach } from "../touch";

export const line = (spots: readonly (Spot | api.Place)[]) => spots.map((s) => `${s[0]},${-s[1]}`).join(" ");
const thick = 0.12; // m, how thick a wall is drawn
const body = 0.2; // m, radius of a person

const ofTaken = (name: string) => (taken.value.includes(name) ? " taken" : "");
const by = (h: Handle): Spot => { const at = placeOf(h); return [at[0] - h.at[0], at[1] - h.at[1]]; };

// Under is what lies below all: where lamps' beams fall on the floor, and from where the sun comes.
export function Under({ d, px }: { d: Drawing; px: number }) {
  const sun = hourSun.value === undefined ? d.sun : hourSun.value;
  const middle: Spot = [(d.low[0] + d.high[0]) / 2, (d.low[1] + d.high[1]) / 2];
  const far = Math.max(d.high[0] - d.low[0], d.high[1] - d.low[1]) / 2 + 26 * px;
  return (
    <g>
      {d.lamps.map((l) => (l.floor.length > 0 ? <polygon key={l.name} class="spill" points={line(l.floor)} /> : null))}
      {sun ? (
        <g class="sunmark" transform={`translate(${middle[0] + sun.toward[0] * far} ${-middle[1] - sun.toward[1] * far})`} aria-hidden="true">
          <circle class="empty" r={8 * px} /><line class="ink" x1={-sun.toward[0] * 10 * px} y1={sun.toward[1] * 10 * px} x2={-sun.toward[0] * 34 * px} y2={sun.toward[1] * 34 * px} />
        </g>
      ) : null}
    </g>
  );
}

export function Room({ room, px }: { room: api.Room; px: number }) {
  const [x, y] = room.low, [far, top] = room.high;
  const out = `M${x - thick} ${-top - thick}H${far + thick}V${-y + thick}H${x - thick}Z`, inside = `M${x} ${-top}V${-y}H${far}V${-top}Z`;
  return (
    <g>
      <path class={`wall${ofTaken(room.name)}`} d={out + inside} fill="url(#wall)" fill-rule="evenodd" tabindex={0} role="button" aria-label={`${room.name}, room`} aria-pressed={taken.value.includes(room.name)}
        onFocus={() => take(room.name, false)} onPointerDown={(e) => { e.stopPropagation(); take(room.name, e.shiftKey); }} />
      <text class="quiet" x={x + 8 * px} y={-y - 8 * px}>{room.name}</text>
    </g>
  );
}

// Floor is where the sun falls.
export const Floor = ({ outline }: { outline: api.Place[] }) => <polygon class="sunpatch" points={line(outline)} fill="url(#sun)" />;

// Opening is a window or door, dragged along the walls of its room.
export function Opening({ room, opening, px }: { room: api.Room; opening: api.Opening; px: number }) {
  const group = useRef("");
  const h = handles.value.get(opening.name);
  const dx = opening.to[0] - opening.from[0], dy = opening.to[1] - opening.from[1], long = Math.hypot(dx, dy);
  const nx = (dy / long) * thick, ny = (-dx / long) * thick; // out of the room, seen from inside left to right
  const corners: Spot[] = [opening.from, opening.to, [opening.to[0] - nx, opening.to[1] - ny], [opening.from[0] - nx, opening.from[1] - ny]];
  const gel = opening.fields.find((f) => f.name === "gel")?.value ?? "";
  const hang = (wall: string, along: number) => h && edit([{ path: `${h.path}.wall`, value: wall }, { path: `${h.path}.at`, value: `${Math.max(0, along).toFixed(2)} m` }], group.current);
  const own = { ...drawing.value!, rooms: [room] };
  const end = () => { group.current = ""; held.value = false; };
  return (
    <g>
    <g class={`hand${ofTaken(opening.name)}`} tabindex={0} role="button" aria-label={`${opening.name}, move`} aria-pressed={taken.value.includes(opening.name)}
      onFocus={() => { if (!taken.value.includes(opening.name)) take(opening.name, false); }}
      onPointerDown={(e) => {
        e.stopPropagation();
        take(opening.name, e.shiftKey);
        (e.currentTarget as SVGGElement).setPointerCapture(e.pointerId);
        (e.currentTarget as SVGGElement).focus({ preventScroll: true });
        group.current = crypto.randomUUID();
        held.value = true;
      }}
      onPointerMove={(e) => {
        const on = group.current ? wallAt(own, spotOf(e)) : undefined;
        if (!on || on.long < long) return;
        const along = Math.min(on.long - long, Math.max(0, on.along - long / 2));
        hang(on.wall.name, snapping.value && !e.altKey ? Math.min(on.long - long, Math.round(along * 10) / 10) : along);
      }}
      onPointerUp={end} onPointerCancel={end}
      onKeyDown={(e) => {
        const way = { ArrowLeft: -1, ArrowRight: 1 }[e.key], on = wallAt(own, opening.from);
        if (!way || !on) return;
        e.preventDefault();
        hang(on.wall.name, Math.min(on.long - long, on.along + way * (e.shiftKey ? 0.01 : 0.1)));
      }}>
      <polygon class="opening" points={line(corners)} />
      <polygon class="grip" points={line(corners)} />
      <line class="ink" x1={opening.from[0] - nx / 2} y1={-opening.from[1] + ny / 2} x2={opening.to[0] - nx / 2} y2={-opening.to[1] + ny / 2} />
    </g>
    <text class="quiet" text-anchor="middle" x={(opening.from[0] + opening.to[0]) / 2 - 2.2 * nx} y={-(opening.from[1] + opening.to[1]) / 2 + 2.2 * ny + 5 * px}>{opening.name}{gel ? `, ${gel}` : ""}</text>
    </g>
  );
}

// Dimensions are a room's sides in both units, outside its walls, as a drawing states them.
export function Dimensions({ d, px }: { d: Drawing; px: number }) {
  const r = d.rooms[0];
  if (!r || d.rooms.length > 1) return null;
  const y = -r.low[1] + thick + 30 * px, x = r.high[0] + thick + 14 * px, tick = 5 * px;
  const w = r.high[0] - r.low[0], h = r.high[1] - r.low[1];
  return (
    <g class="dimension" aria-hidden="true">
      <path d={`M${r.low[0]} ${y}H${r.high[0]}M${r.low[0]} ${y - tick}V${y + tick}M${r.high[0]} ${y - tick}V${y + tick}M${x} ${-r.low[1]}V${-r.high[1]}M${x - tick} ${-r.low[1]}H${x + tick}M${x - tick} ${-r.high[1]}H${x + tick}`} />
      <text class="quiet" text-anchor="middle" x={r.low[0] + w / 2} y={y + 15 * px}>{w.toFixed(2)} m {feet(w)}</text>
      <text class="quiet" text-anchor="middle" transform={`translate(${x + 14 * px} ${-r.low[1] - h / 2}) rotate(-90)`}>{h.toFixed(2)} m {feet(h)}</text>
    </g>
  );
}

function Below({ outline, name, px }: { outline: Spot[]; name: string; px: number }) {
  const xs = outline.map((s) => s[0]), ys = outline.map((s) => s[1]);
  return <text class="quiet" text-anchor="middle" x={(Math.min(...xs) + Math.max(...xs)) / 2} y={-Math.min(...ys) + 15 * px}>{name}</text>;
}

export function Thing({ thing, h, px }: { thing: api.Thing; h?: Handle; px: number }) {
  return h ? <Stood thing={thing} h={h} px={px} face="object" /> : null;
}

export function Cloth({ cloth, h, px }: { cloth: api.Cloth; h?: Handle; px: number }) {
  return h ? <Stood thing={cloth} h={h} px={px} face="cloth" /> : null;
}

// Stood is a thing by its outline, moved and turned by hand.
function Stood({ thing, h, px, face }: { thing: api.Thing; h: Handle; px: number; face: string }) {
  const off = by(h);
  return (
    <g>
      {ofTaken(h.name) || face === "cloth" ? <Turned h={h} px={px} /> : null}
      <g class={`hand${ofTaken(h.name)}`} transform={`translate(${off[0]} ${-off[1]})`} {...useTake(h, "plan", px)}>
        <polygon class="grip" points={line(thing.outline)} />
        <polygon class={face} points={line(thing.outline)} />
      </g>
      <Below outline={thing.outline.map((s): Spot => [s[0] + off[0], s[1] + off[1]])} name={thing.name} px={px} />
    </g>
  );
}

export function Person({ person, h, px }: { person: api.Person; h?: Handle; px: number }) {
  return h ? <Body person={person} h={h} px={px} /> : null;
}

// Body is a person; the side away from the key is hatched.
function Body({ person, h, px }: { person: api.Person; h: Handle; px: number }) {
  const at = placeOf(h), x = at[0], y = -at[1], s = person.shadow;
  const dark = s[0] !== 0 || s[1] !== 0;
  return (
    <g>
      <Turned h={h} px={px} />
      <g class={`hand${ofTaken(h.name)}`} {...useTake(h, "plan", px)}>
        <circle class="reach" cx={x} cy={y} r={reach(26) * px} />
        <circle class="person" cx={x} cy={y} r={body} />
        {dark ? <path class="shade" fill="url(#shade)" d={`M${x + s[1] * body} ${y + s[0] * body}A${body} ${body} 0 0 0 ${x - s[1] * body} ${y - s[0] * body}Z`} /> : null}
        <line class="ink" x1={x} y1={y} x2={x + 0.33 * person.looks[0]} y2={y - 0.33 * person.looks[1]} />
      </g>
      <text class="strong" x={x + 0.28} y={y - 0.2}>{person.name}</text>
    </g>
  );
}

export function Lamp({ lamp, number, h, px, left, roomy }: { lamp: api.Lamp; number: number; h?: Handle; px: number; left: boolean; roomy: boolean }) {
  return h ? <Head lamp={lamp} number={number} h={h} px={px} left={left} roomy={roomy} /> : null;
}

// Head is a lamp with its beam to half of the axis.
function Head({ lamp, number, h, px, left, roomy }: { lamp: api.Lamp; number: number; h: Handle; px: number; left: boolean; roomy: boolean }) {
  const at = placeOf(h), x = at[0], y = -at[1];
  const turn = (Math.atan2(-lamp.axis[1], lamp.axis[0]) * 180) / Math.PI, r = 11 * px;
  const anchor = left ? "end" : "start", beside = x + (left ? -16 : 16) * px;
  const dim = lamp.fields.find((f) => f.name === "dim")?.value, colour = lamp.fields.find((f) => f.name === "colour")?.value;
  return (
    <g>
      {lamp.edges.map((e, i) => <line key={i} class="beam" x1={x} y1={y} x2={e[0]} y2={-e[1]} />)}
      {lamp.across.length > 0 && ofTaken(h.name) ? <polygon class="across" points={line(lamp.across)} /> : null}
      {ofTaken(h.name) ? <Turned h={h} px={px} /> : null}
      <g class={`hand${ofTaken(h.name)}`} transform={`translate(${x} ${y}) rotate(${turn})`} {...useTake(h, "plan", px)}>
        <circle class="reach" r={reach(26) * px} />
        <circle class="head" r={r} />
        {lamp.edges.length > 0 ? <path class="front" d={`M${r * 0.5} ${-r * 0.866}A${r} ${r} 0 0 1 ${r * 0.5} ${r * 0.866}Z`} /> : <path class="ink" d={`M${-r * 1.4} 0H${r * 1.4}M0 ${-r * 1.4}V${r * 1.4}`} />}
      </g>
      <text class="strong" text-anchor={anchor} x={beside} y={y - 2 * px}>{number} {lamp.name}</text>
      {roomy || ofTaken(h.name) ? <text class="quiet" text-anchor={anchor} x={beside} y={y + 13 * px}>{dim}{colour ? `, ${colour}` : ""}, h {at[2].toFixed(1)} m</text> : null}
    </g>
  );
}

export function Camera({ camera, h, px }: { camera: NonNullable<Drawing["camera"]>; h?: Handle; px: number }) {
  return h ? <Lens camera={camera} h={h} px={px} /> : null;
}

function Lens({ camera, h, px }: { camera: NonNullable<Drawing["camera"]>; h: Handle; px: number }) {
  const at = placeOf(h), x = at[0], y = -at[1], looks = h.turn?.looks ?? [1, 0];
  return (
    <g>
      {camera.edges.map((e, i) => <line key={i} class="field" x1={x} y1={y} x2={e[0]} y2={-e[1]} />)}
      {ofTaken("camera") ? <Turned h={h} px={px} /> : null}
      <g class={`hand${ofTaken("camera")}`} transform={`translate(${x} ${y}) rotate(${(Math.atan2(-looks[1], looks[0]) * 180) / Math.PI})`} {...useTake(h, "plan", px)}>
        <circle class="reach" r={reach(26) * px} />
        <path class="camera" d={`M${-24 * px} ${-9 * px}H0L${11 * px} ${-13 * px}V${13 * px}L0 ${9 * px}H${-24 * px}Z`} />
      </g>
    </g>
  );
}

export function Mark({ h, px }: { h?: Handle; px: number }) { return h ? <Cross h={h} px={px} name={h.name} /> : null; }
export function Step({ h, px }: { h: Handle; px: number }) { return <Cross h={h} px={px} name="" />; }

// Cross is a place on the floor.
function Cross({ h, px, name }: { h: Handle; px: number; name: string }) {
  const at = placeOf(h), x = at[0], y = -at[1], r = 6 * px;
  return (
    <g>
      <g class={`hand${ofTaken(h.name)}`} {...useTake(h, "plan", px)}>
        <circle class="reach" cx={x} cy={y} r={reach(20) * px} />
        <path class="ink" d={`M${x - r} ${y - r}L${x + r} ${y + r}M${x - r} ${y + r}L${x + r} ${y - r}`} />
      </g>
      {name ? <text class="quiet" x={x + 9 * px} y={y + 4 * px}>{name}</text> : null}
    </g>
  );
}

// Reading is where ambient light was metered.
export function Reading({ h, px }: { h: Handle; px: number }) {
  const at = placeOf(h), x = at[0], y = -at[1], r = 6 * px;
  return (
    <g>
      <g class={`hand${ofTaken(h.name)}`} {...useTake(h, "plan", px)}>
        <circle class="reach" cx={x} cy={y} r={reach(20) * px} />
        <path class="head" d={`M${x} ${y - r}L${x + r} ${y}L${x} ${y + r}L${x - r} ${y}Z`} />
      </g>
      <text class="quiet" x={x + 9 * px} y={y + 4 * px}>{h.name}</text>
    </g>
  );
}

// SelfPoint is a metering point: the plan's own are moved by hand, those of a person go with them.
export function SelfPoint({ point, people, h, px }: { point: Drawing["points"][0]; people: api.Person[]; h?: Handle; px: number }) {
  if (h?.move) return <Free point={point} h={h} px={px} />;
  const worn = people.some((p) => Math.hypot(point.at[0] - p.at[0], point.at[1] - p.at[1]) < body);
  return <Dot point={point} at={point.at} worn={worn} px={px} />;
}

function Free({ point, h, px }: { point: Drawing["points"][0]; h: Handle; px: number }) {
  const at = placeOf(h);
  return (
    <g class={`hand${ofTaken(h.name)}`} {...useTake(h, "plan", px)}>
      <circle class="reach" cx={at[0]} cy={-at[1]} r={reach(20) * px} />
      <Dot point={point} at={[at[0], at[1]]} worn={false} px={px} />
      <text class="quiet" x={at[0] + 9 * px} y={-at[1] - 6 * px}>{point.name}</text>
    </g>
  );
}

const Dot = ({ point, at, worn, px }: { point: Drawing["points"][0]; at: Spot; worn: boolean; px: number }) => (
  <circle class={`point${point.name === chosen.value ? " chosen" : ""}${worn ? " worn" : ""}`} cx={at[0]} cy={-at[1]} r={(point.name === chosen.value ? 7 : 3.5) * px}
    onClick={() => { chosen.value = point.name; }}><title>{point.name}</title></circle>
);
