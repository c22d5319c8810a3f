import { useEffect, useRef, useState } from "preact/hooks";
import type { Drawing } from "./api";
import { Paper } from "./board/paper";
import { fromCompass } from "./board/place";
import { Camera, Cloth, Dimensions, Floor, Lamp, Mark, Opening, Person, Reading, Room, SelfPoint, Step, Thing, Under } from "./board/glyphs";
import { Guides, Ruler, Sketch } from "./board/sketch";
import { handles, held, paper, section } from "./board/state";
import { Section } from "./board/section";
import { Strip } from "./board/strip";
import { Things } from "./board/things";
import { Photograph } from "./board/underlay";
import { hourSun } from "./clock";
import { drawing, edit } from "./desk";
import { AtHand } from "./hand";
import { Value } from "./value";

// GroundPlan is the drawing board: the set-up from above, to scale, with its tools, its north arrow and scale bar, and on
// demand a section. The server has worked out every line.
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
  const span = Math.max(d.high[0] - d.low[0], d.high[1] - d.low[1], 3);
  const edge = Math.max(span * 0.18, (62 * span * 1.4) / wide), zoom = paper.value?.zoom ?? 1;
  const w = Math.max(d.high[0] - d.low[0], span * 0.6) + 2 * edge, h = Math.max(d.high[1] - d.low[1], span * 0.5) + 2 * edge;
  const middle = paper.value?.middle ?? [(d.low[0] + d.high[0]) / 2, (d.low[1] + d.high[1]) / 2];
  const px = w / zoom / wide; // metres a pixel
  return (
    <div class="groundplan" ref={box}>
      <Strip />
      <Paper d={d} px={px} view={[middle[0] - w / zoom / 2, -middle[1] - h / zoom / 2, w / zoom, h / zoom]}>
        <Contents d={d} px={px} roomy={wide >= 420} />
      </Paper>
      <Scale d={d} px={px} />
      {section.value ? <Section d={d} wide={wide} /> : null}
      <AtHand />
      <Things />
    </div>
  );
}

function Contents({ d, px, roomy }: { d: Drawing; px: number; roomy: boolean }) {
  const all = [...d.lamps, ...d.practicals];
  const of = (name: string) => handles.value.get(name);
  return (
    <>
      <Photograph d={d} h={of("photograph")} px={px} />
      <Under d={d} px={px} />
      {d.rooms.map((r) => <Room key={r.name} room={r} px={px} />)}
      {hourSun.value === undefined && d.sun?.patches.filter((p) => p.plane === "floor").map((p) => <Floor key={p.opening} outline={p.outline} />)}
      {d.rooms.map((r) => <g key={r.name}>{r.openings.map((o) => <Opening key={o.name} room={r} opening={o} px={px} />)}</g>)}
      <Dimensions d={d} px={px} />
      {d.objects.map((o) => <Thing key={o.name} thing={o} h={of(o.name)} px={px} />)}
      {d.walks.map((k) => <polyline key={k.name} class="walk" points={k.spots.map((s) => `${s[0]},${-s[1]}`).join(" ")} />)}
      {d.marks.map((m) => <Mark key={m.name} h={of(m.name)} px={px} />)}
      {d.cloths.map((c) => <Cloth key={c.name} cloth={c} h={of(c.name)} px={px} />)}
      {d.camera ? <Camera camera={d.camera} h={of("camera")} px={px} /> : null}
      {d.people.map((p) => <Person key={p.name} person={p} h={of(p.name)} px={px} />)}
      {all.map((l, i) => <Lamp key={l.name} lamp={l} number={i + 1} h={of(l.name)} px={px} roomy={roomy} left={labelledLeft(l.at[0], d, px)} />)}
      {d.handles.filter((h) => h.kind === "step").map((h) => <Step key={h.name} h={h} px={px} />)}
      {d.handles.filter((h) => h.kind === "ambient" && h.move).map((h) => <Reading key={h.name} h={h} px={px} />)}
      {d.points.map((p) => <SelfPoint key={p.name} point={p} people={d.people} h={of(p.name)} px={px} />)}
      <Guides d={d} px={px} />
      <Sketch px={px} />
      <Ruler px={px} />
    </>
  );
}

// labelledLeft reports whether a lamp's label stands on its left: outward, unless there is no room for it.
function labelledLeft(x: number, d: Drawing, px: number): boolean {
  const room = 110 * px;
  return x < (d.low[0] + d.high[0]) / 2 ? x - d.low[0] > room : d.high[0] - x < room;
}

// Scale is the north arrow and a bar of whole metres about a third as long as the drawing is wide; while the sun is up, where
// it stands.
function Scale({ d, px }: { d: Drawing; px: number }) {
  const third = Math.max(d.high[0] - d.low[0], 2) / 3 / (paper.value?.zoom ?? 1);
  const metres = [0.2, 0.5, 1, 2, 5, 10, 20, 50, 100].findLast((m) => m <= third) ?? 0.2;
  const long = metres / px;
  const sun = hourSun.value === undefined ? d.sun : hourSun.value;
  return (
    <div class="scaleline">
      <North d={d} />
      <svg class="scale" viewBox={`0 0 ${long + 40} 50`} width={long + 40} height="50" role="img" aria-label={`scale bar of ${metres} metres`}>
        <rect class="front" x="10" y="26" width={long / 2} height="6" /><rect class="empty" x={10 + long / 2} y="26" width={long / 2} height="6" />
        <text x="10" y="20">0</text><text x={10 + long} y="20" text-anchor="end">{metres} m</text>
      </svg>
      <label class="northfield">+y is at <Value field={d.north} label="north: azimuth of +y" /></label>
      <Compass d={d} />
      {sun ? <span class="quiet">sun {Math.round(sun.azimuth_deg)}°, {Math.round(sun.altitude_deg)}° up</span> : null}
    </div>
  );
}

// Compass sets north from what a compass shows along +y, and how far east of true north it points there.
function Compass({ d }: { d: Drawing }) {
  const [shown, show] = useState(""), [east, tell] = useState("");
  const deg = fromCompass(shown, east);
  return (
    <details class="compass">
      <summary>from a compass</summary>
      <form class="figures" aria-label="North from a compass" onSubmit={(e) => { e.preventDefault(); if (deg !== null) edit([{ path: d.north.path, value: `${deg} deg` }]); }}>
        <label>+y by the compass <input value={shown} size={6} inputMode="decimal" onInput={(e) => show(e.currentTarget.value)} /></label>
        <label>declination, east + <input value={east} size={6} inputMode="decimal" onInput={(e) => tell(e.currentTarget.value)} /></label>
        <button type="submit" disabled={deg === null}>{deg === null ? "Set" : `Set ${deg}°`}</button>
      </form>
    </details>
  );
}

// North is the arrow, dragged or turned by the arrow keys: what changes is the azimuth of the plan's own +y, from true north.
function North({ d }: { d: Drawing }) {
  const group = useRef("");
  const put = (deg: number) => edit([{ path: d.north.path, value: `${((Math.round(deg) % 360) + 360) % 360} deg` }], group.current);
  const end = () => { group.current = ""; };
  return (
    <svg class="scale north hand" viewBox="0 0 60 60" width="60" height="60" tabindex={0} role="slider" aria-label="north arrow, turn" aria-valuemin={0} aria-valuemax={359} aria-valuenow={Math.round(d.north_deg)} aria-valuetext={`+y is at ${Math.round(d.north_deg)} degrees`}
      onPointerDown={(e) => { e.currentTarget.setPointerCapture(e.pointerId); group.current = crypto.randomUUID(); }}
      onPointerMove={(e) => {
        if (!group.current) return;
        const b = e.currentTarget.getBoundingClientRect(), x = e.clientX - b.x - b.width / 2, y = e.clientY - b.y - b.height / 2;
        if (Math.hypot(x, y) > 8) put((-Math.atan2(x, -y) * 180) / Math.PI);
      }}
      onPointerUp={end} onPointerCancel={end}
      onKeyDown={(e) => {
        const way = { ArrowLeft: 1, ArrowRight: -1, ArrowUp: -1, ArrowDown: 1 }[e.key];
        if (!way) return;
        e.preventDefault();
        put(d.north_deg + way * (e.shiftKey ? 1 : 5));
      }}>
      <g transform="translate(30 32)"><circle class="ring" r="18" /><path class="front" d="M0 -22L6 7L0 3L-6 7Z" transform={`rotate(${-d.north_deg})`} /></g>
    </svg>
  );
}
