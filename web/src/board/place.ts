// How places and lengths are written, for the plan and for a reader. Nothing here touches the page.

import type { Change, Handle, Place, Spot } from "../api";

export const metres = (m: number): string => (Math.abs(m) < 0.005 ? "0.00" : m.toFixed(2));

// feet is a length in feet and whole inches, as it is read beside metres.
export function feet(m: number): string {
  const inches = Math.round(m / 0.0254);
  const whole = Math.trunc(Math.abs(inches) / 12), rest = Math.abs(inches) % 12;
  return `${inches < 0 ? "−" : ""}${whole}′ ${rest}″`;
}

export const both = (m: number): string => `${m.toFixed(2)} m, ${feet(m)}`;

// measured is a length as typed with its unit: a bare number is metres.
export const measured = (typed: string): string => (/^[-−+]?[\d.,]+$/.test(typed.trim()) ? `${typed.trim()} m` : typed.trim());

// join is the path of a name below another, quoted as the server reads it.
export function join(path: string, name: string): string {
  const step = name === "" || /[.[\]"]/.test(name) ? JSON.stringify(name) : name;
  return path === "" ? step : `${path}.${step}`;
}

// moved is the edit that takes a thing to a place.
export function moved(h: Handle, to: Place): Change[] {
  const m = h.move;
  if (!m) return [];
  const flat = `${metres(to[0])} ${metres(to[1])}`;
  if (m.height) return [...m.first, { path: m.path, value: flat }, ...(Math.abs(to[2] - h.at[2]) > 0.001 ? [{ path: m.height, value: `${metres(to[2])} m` }] : [])];
  const high = m.floor && Math.abs(to[2]) < 0.005 ? "" : ` ${metres(to[2])}`;
  return [...m.first, { path: m.path, value: flat + high }];
}

// raised is the edit that gives a thing a height as typed, in any unit.
export function raised(h: Handle, typed: string): Change[] {
  const m = h.move!;
  if (m.height) return [{ path: m.height, value: measured(typed) }];
  return [...m.first, { path: m.path, value: `${metres(h.at[0])} m ${metres(h.at[1])} m ${measured(typed)}` }];
}

const turn = (deg: number): number => ((deg % 360) + 360) % 360;

// bearing is the azimuth of a way on the plan, in degrees from true north.
export const bearing = (way: Spot, north: number): number => turn((Math.atan2(way[0], way[1]) * 180) / Math.PI + north);

// fromCompass is the azimuth from true north of what a compass shows, with its declination to the east; null for no figures.
export function fromCompass(shown: string, east: string): number | null {
  const figures = [shown, east || "0"].map((s) => Number(s.trim().replace(",", ".").replace("−", "-").replace(/\s*(°|deg)$/, "")));
  if (shown.trim() === "" || !figures.every(Number.isFinite)) return null;
  return turn(Math.round((figures[0]! + figures[1]!) * 10) / 10);
}

// turned is the edit that makes a thing look a way, to so many degrees; below keeps its tilt.
export function turned(h: Handle, way: Spot, north: number, to: number, by = 0): Change[] {
  const t = h.turn!;
  const raw = bearing(way, t.degree ? 0 : north) + by;
  const deg = turn(Math.round(raw / to) * to);
  if (t.degree) return [{ path: t.path, value: `${deg} deg` }];
  const tilt = h.kind === "person" || Math.abs(t.below_deg) < 0.05 ? "" : ` ${Math.abs(t.below_deg).toFixed(1)} deg ${t.below_deg > 0 ? "down" : "up"}`;
  return [{ path: t.path, value: `${deg} deg${tilt}` }];
}
