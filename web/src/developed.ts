// The picture as far as it is here: its layers fetched, and composed under the dials as they stand or as a hand holds them.

import { effect, signal } from "@preact/signals";
import { get, listen, query, type NoPicture, type PictureEvent, type Tables } from "./api";
import { edited, noPicture, picture, plan, planName, unsent } from "./desk";
import { Glass } from "./glass";
import { held, type Held } from "./held";
import { asked } from "./points";

export const width = 480; // pixels across of the picture asked for

// hour is another time of day to show the picture at, such as 17:30; "" is the plan's own. Whoever drags an hour sets it.
export const hour = signal("");

export const glass = signal<Glass | null>(null); // null until the tables are here, or where the browser can't
const unable = signal(false);
export const developed = signal<PictureEvent | null>(null); // the picture whose layers are all here
export const composed = signal(0); // counts compositions
const other = signal<PictureEvent | null>(null); // at another hour
const noOther = signal<NoPicture | null>(null);
const hold = signal<Held>({});

// wanted is the picture to show: the one of the hour looked at.
export const wanted = () => (hour.value ? other.value : picture.value);

// missing is why there is none, in the server's words.
export const missing = () => (hour.value ? noOther.value : noPicture.value);

// place names a picture in a call.
export const place = (p: PictureEvent | null) => ({ plan: planName(), setup: asked(), picture: width, at: hour.value, ...(p ? { name: p.picture } : {}) });

// ready makes the glass, once.
export async function ready(): Promise<void> {
  if (glass.value || unable.value) return;
  try {
    const tables: Tables = await (await get("/api/picture/tables")).json();
    const made = new Glass(tables);
    made.canvas.addEventListener("webglcontextlost", () => { glass.value = null; unable.value = true; });
    glass.value ??= made;
  } catch (e) {
    unable.value = !(e instanceof TypeError); // a server that does not answer is asked again
  }
}

addEventListener("hashchange", () => { hour.value = ""; developed.value = null; });

interface Listening { of: string; hour: string; end: AbortController }
let listening: Listening | null = null;

// turn listens to the pictures of another hour. What the hour does not change the server keeps from the last one's, which is
// listened to until the new one's speak.
function turn(of: string, at: string): void {
  const last = listening, end = new AbortController();
  listening = { of, hour: at, end };
  listen("/api/picture/stream?" + query({ ...place(null), instead: last?.of === of ? last.hour : "" }), (kind, data) => {
    last?.end.abort();
    if (end.signal.aborted) return;
    if (kind === "picture") [other.value, noOther.value] = [data as PictureEvent, null];
    if (kind === "no-picture") [other.value, noOther.value] = [null, data as NoPicture];
  }, end.signal).catch(() => { if (!end.signal.aborted) hour.value = ""; }); // the server is away, and says so elsewhere
}

effect(() => {
  const of = planName() + " " + asked(), at = hour.value;
  noOther.value = null;
  if (at) {
    const wait = setTimeout(() => turn(of, at), 50); // an hour that is dragged past is not asked for
    return () => clearTimeout(wait);
  }
  listening?.end.abort();
  listening = other.value = null;
});

let fetching = false;

// looked is what is looked at, whatever the hour.
const looked = () => planName() + " " + asked();

// develop fetches what layers are missing, of the newest picture; what came meanwhile is next.
async function develop(): Promise<void> {
  if (fetching) return;
  fetching = true;
  for (;;) {
    const current = wanted(), g = glass.value, of = looked();
    if (!current || !g || current === developed.value) break;
    const lacking = current.layers.filter((l) => !g.has(l.version));
    try {
      await Promise.all(lacking.map(async (l) => {
        const r = await get("/api/picture/layer?" + query({ ...place(current), version: l.version }));
        g.put(l.version, current.width, current.height, await r.arrayBuffer());
      }));
    } catch {
      if (wanted() === current) break; // the server is away; the next picture tries again
      continue;
    }
    if (of !== looked()) continue;
    g.drop(new Set([...current.layers, ...(wanted() ?? current).layers].map((l) => l.version)));
    developed.value = current;
  }
  fetching = false;
}

// A picture stays until the next is here, or there is none.
effect(() => {
  if (wanted() && glass.value) void develop();
  else if (missing()) developed.value = null;
});

// A dial at hand holds its level until a picture of the plan with it is here.
effect(() => { hold.value = { ...hold.peek(), ...held(edited.value) }; });
effect(() => {
  const p = developed.value;
  if (p && unsent.value === 0 && p.revision >= (plan.value?.revision ?? 0)) hold.value = {};
});

effect(() => {
  const p = developed.value, g = glass.value, levels = hold.value;
  if (!p || !g) return;
  g.compose(p.layers.map((l) => {
    const dial = p.dials[l.dial], percent = dial ? levels[dial.path] : undefined;
    return percent === undefined ? l : { ...l, level: dial!.levels[percent]! };
  }), p.width, p.height);
  composed.value = composed.peek() + 1;
});
