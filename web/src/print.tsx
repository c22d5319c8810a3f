import { effect, signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { get, query, type NumberDrawn, type PictureEvent, type Probed } from "./api";
import { drawing } from "./desk";
import { composed, developed, glass, hour, missing, place, ready, wanted, width } from "./developed";
import { asked } from "./points";

export { width };

const stops = signal(false); // the map of stops instead of the print
const kept = signal(""); // what the picture kept to compare with shows; "" for none
const wipe = signal(0.5);
const lines = signal(""); // frame lines of a format; "" for none
const pointed = signal(""); // gear in shot that is pointed out, by its text
const spot = signal<{ x: number; y: number } | null>(null); // probed, in shares of the picture
const probed = signal("");
const numbers = signal<{ of: string; drawn: NumberDrawn[] }>({ of: "", drawn: [] });

// shown is the picture that is seen: composed here, or else the server's own.
const shown = () => (glass.value ? developed.value : wanted());

effect(() => {
  const p = developed.value;
  if (composed.value > 0 && p) glass.value?.show(stops.value ? p.key : null, kept.value ? wipe.value : 0);
});

// later calls a function once nothing new has come for a moment; it returns what to call to give it up.
function later(call: () => Promise<void>): () => void {
  const wait = setTimeout(() => { call().catch(() => { /* a newer picture is on its way, or the server is away and said so */ }); }, 120);
  return () => clearTimeout(wait);
}

// The probe reads the engine's picture, never the screen's, and reads on as the picture changes.
effect(() => {
  const p = shown(), at = spot.value;
  if (!p || !at) { probed.value = ""; return; }
  return later(async () => {
    const pixel = { x: Math.min(p.width - 1, Math.floor(at.x * p.width)), y: Math.min(p.height - 1, Math.floor(at.y * p.height)) };
    const r: Probed = await (await get("/api/picture/probe?" + query({ ...place(p), ...pixel }))).json();
    if (shown() === p && spot.value === at) probed.value = r.printed;
  });
});

effect(() => {
  const p = shown();
  if (!p || !stops.value || !glass.value) return;
  return later(async () => { numbers.value = { of: p.picture, drawn: await (await get("/api/picture/numbers?" + query(place(p)))).json() }; });
});

// Print is the camera's view as a print on neutral grey, or its map of stops, beside a picture kept if there is one.
export function Print() {
  useEffect(() => { void ready(); }, [wanted()]);
  const p = shown();
  return (
    <section class="print" aria-labelledby="print">
      <h2 id="print">{stops.value ? "Stops over grey" : "Picture"}{p?.at ? ` at ${p.at}` : ""}</h2>
      {p ? <div class="mount"><Mounted p={p} />{stops.value ? <Key p={p} /> : null}</div> : <Waiting />}
      <p class="probed" aria-live="polite">{probed.value || "Level and direction, not beauty. Tap the picture, or use the arrow keys on it, to probe."}</p>
      {p || hour.value || !missing() ? <Tools p={p} /> : null}
      {p ? <Shot p={p} /> : null}
    </section>
  );
}

// Waiting keeps the picture's place, so that nothing moves when it comes, or says why none does.
function Waiting() {
  const none = missing();
  if (!none) return <div class="mount"><div class="mounted waiting"><p role="status">The picture comes when the readings stand.</p></div></div>;
  return <div role="status">{none.faults.map((f) => <p key={f.text}>▲ {f.path ? `${f.path}: ` : ""}{f.text}{f.allowed ? `; allowed: ${f.allowed}` : ""}{f.hint ? `; ${f.hint}` : ""}</p>)}</div>;
}

// Mounted is the print itself with what lies over it.
function Mounted({ p }: { p: PictureEvent }) {
  const box = useRef<HTMLDivElement>(null);
  const g = glass.value;
  useEffect(() => { if (g) box.current!.prepend(g.canvas); }, [g]);
  const tap = (e: PointerEvent) => {
    const b = box.current!.getBoundingClientRect();
    spot.value = { x: Math.min(1, Math.max(0, (e.clientX - b.left) / b.width)), y: Math.min(1, Math.max(0, (e.clientY - b.top) / b.height)) };
  };
  const keys = (e: KeyboardEvent) => {
    const step = e.shiftKey ? 0.05 : 1 / 200, at = spot.value ?? { x: 0.5, y: 0.5 };
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step], Enter: [0, 0] }[e.key];
    if (e.key === "Escape") spot.value = null;
    if (!by) return;
    e.preventDefault();
    spot.value = { x: Math.min(1, Math.max(0, at.x + by[0]!)), y: Math.min(1, Math.max(0, at.y + by[1]!)) };
  };
  const format = p.frame_lines.find((f) => f.name === lines.value);
  return (
    <div class="mounted" ref={box} data-picture={p.picture} data-final={p.final} style={{ aspectRatio: `${p.width} / ${p.height}` }}>
      {g ? null : <Plain p={p} />}
      <svg viewBox={`0 0 ${p.width} ${p.height}`} preserveAspectRatio="none" aria-hidden="true">
        {format ? <path class="format" d={`M0 0H${p.width}V${p.height}H0ZM${format.left * p.width} ${format.top * p.height}v${format.height * p.height}h${format.width * p.width}v${-format.height * p.height}Z`} /> : null}
      </svg>
      {stops.value && g && numbers.value.of === p.picture ? numbers.value.drawn.filter((n) => !kept.value || n.x >= wipe.value * p.width).map((n) => (
        <span key={`${n.x} ${n.y}`} class={n.white ? "on dark" : "on"} aria-hidden="true" style={{ left: `${(n.x / p.width) * 100}%`, top: `${(n.y / p.height) * 100}%` }}>{n.text}</span>
      )) : null}
      {p.in_shot.filter((s) => s.text === pointed.value).map((s) => (
        <span key={s.text} class="gear" aria-hidden="true" style={{ left: `${s.x * 100}%`, top: `${s.y * 100}%` }}>▲ {s.thing}</span>
      ))}
      {spot.value ? <span class="mark" aria-hidden="true" style={{ left: `${spot.value.x * 100}%`, top: `${spot.value.y * 100}%` }} /> : null}
      <div class="probe" role="application" tabIndex={0} aria-label={`${stops.value ? "map of stops over grey" : "what the camera sees"}; the arrow keys probe it`} onPointerDown={tap} onPointerMove={(e) => { if (e.buttons === 1) tap(e); }} onKeyDown={keys} />
      {kept.value && g ? <Wipe box={box} /> : null}
    </div>
  );
}

// Plain is the server's own picture, for a browser that cannot compose one.
function Plain({ p }: { p: PictureEvent }) {
  const [source, show] = useState("");
  useEffect(() => {
    let current = true, address = "";
    get("/api/picture/screen?" + query({ ...place(p), stops: String(stops.value) })).then((r) => r.blob()).then((b) => {
      if (!current) return;
      show((address = URL.createObjectURL(b)));
    }, () => { /* a sharper one is on its way */ });
    return () => {
      current = false;
      if (address) setTimeout(() => URL.revokeObjectURL(address), 5000);
    };
  }, [p.picture, stops.value]);
  return source ? <img src={source} alt={stops.value ? "map of stops over grey" : "what the camera sees"} /> : null;
}

// Wipe divides what was kept, on the left, from what is now.
function Wipe({ box }: { box: { current: HTMLDivElement | null } }) {
  const to = (share: number) => { wipe.value = Math.min(1, Math.max(0, share)); };
  const drag = (e: PointerEvent) => {
    if (e.buttons === 0) return;
    (e.currentTarget as HTMLElement).setPointerCapture(e.pointerId);
    const b = box.current!.getBoundingClientRect();
    to((e.clientX - b.left) / b.width);
  };
  const keys = (e: KeyboardEvent) => {
    const by = { ArrowLeft: -0.02, ArrowRight: 0.02, Home: -1, End: 1 }[e.key];
    if (by === undefined) return;
    e.preventDefault();
    to(wipe.value + by);
  };
  return (
    <>
      <span class="side a">A</span><span class="side b">B</span>
      <div class="wipe" style={{ left: `${wipe.value * 100}%` }} role="slider" tabIndex={0} aria-label="wipe: A, kept, on the left of it; B, now, on the right" aria-valuemin={0} aria-valuemax={100}
        aria-valuenow={Math.round(wipe.value * 100)} onPointerDown={drag} onPointerMove={drag} onKeyDown={keys}><span aria-hidden="true">◂▸</span></div>
    </>
  );
}

function Tools({ p }: { p: PictureEvent | null }) {
  return (
    <div class="printtools">
      <Looks p={p} />
      <Hour />
      <button type="button" disabled={!p} onClick={() => save(p!, "png")}>Save PNG</button>
      <button type="button" disabled={!p} onClick={() => save(p!, "exr")}>Save EXR</button>
      {kept.value ? <p>A {kept.value} · B {drawing.value?.setup || "the plan"}, now</p> : null}
      <p>{!p ? "○" : p.final ? "●" : "◐ rough,"} {p ? `${p.samples} ${p.samples === 1 ? "path" : "paths"} a pixel` : ""}{p && !p.final ? "; it sharpens" : ""}</p>
    </div>
  );
}

// Looks are the ways to look at a picture.
function Looks({ p }: { p: PictureEvent | null }) {
  const keep = () => {
    glass.value!.keep();
    kept.value = `${drawing.value?.setup || "the plan"}, revision ${p!.revision}${p!.at ? `, ${p!.at}` : ""}`;
  };
  return (
    <>
      <button type="button" disabled={!p} aria-pressed={stops.value} onClick={() => { stops.value = !stops.value; }}>Stops map</button>
      <button type="button" disabled={!p || !glass.value} onClick={keep}>Keep as A</button>
      {kept.value ? <button type="button" onClick={() => { kept.value = ""; }}>Drop A</button> : null}
      <label>frame <select value={lines.value} disabled={!p} onChange={(e) => { lines.value = e.currentTarget.value; }}><option value="">whole</option>{p?.frame_lines.map((f) => <option key={f.name}>{f.name}</option>)}</select></label>
    </>
  );
}

// Hour looks at the picture at another time of day; nothing is the plan's own.
function Hour() {
  const planned = drawing.value?.title_block.find((f) => f.name === "Hour")?.value;
  if (!planned) return null;
  return (
    <label>at <input class="hour" aria-label="hour of the picture" value={hour.value} placeholder={planned} size={6} autocomplete="off" spellcheck={false}
      onChange={(e) => { const typed = e.currentTarget.value.trim(); hour.value = typed === planned ? "" : typed; }} /></label>
  );
}

// save hands the picture to the person as a file.
async function save(p: PictureEvent, kind: "png" | "exr"): Promise<void> {
  const file = await (await get("/api/picture/file?" + query({ ...place({ ...p }), kind, stops: String(stops.value && kind === "png") }))).blob();
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = `${asked() || drawing.value?.title || "picture"}${stops.value && kind === "png" ? " stops" : ""}.${kind}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 5000);
}

// Key is the map's key: every band with its number, what drowns and what clips by pattern and word.
function Key({ p }: { p: PictureEvent }) {
  return (
    <ul class="stopskey" aria-label="key of the map: stops over grey, 0 an 18 % card in light at the key">
      {p.key.map((b) => <li key={b.label} class={`${b.pattern} ${b.white ? "white" : ""}`} style={{ backgroundColor: `rgb(${b.ground.join(" ")})` }}>{b.label}</li>)}
    </ul>
  );
}

// Shot says in words what gear the camera sees, and points it out.
function Shot({ p }: { p: PictureEvent }) {
  if (p.in_shot.length === 0) return <p>● No lamp, stand or frame is in shot.</p>;
  return (
    <ul class="shot" aria-label="gear in shot">
      {p.in_shot.map((s) => (
        <li key={s.text}><button type="button" class="plain" aria-pressed={pointed.value === s.text} onClick={() => { pointed.value = pointed.value === s.text ? "" : s.text; }}>▲ {s.text}</button></li>
      ))}
    </ul>
  );
}
