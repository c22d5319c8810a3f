// What the server says and how it is asked. The server describes the same in OpenAPI at /api/openapi.json.

export type Spot = [number, number];
export interface Fault { place?: { file?: string; line?: number; column?: number }; path?: string; text: string; read?: string; allowed?: string; hint?: string }
export interface Field { name: string; path: string; value: string }
export interface Loss { revision: number; path: string; lost: string; kept: string; reason: string }
export interface State { revision: number; text: string; can_undo: boolean; can_redo: boolean; lost: Loss[]; note?: string }
export interface PlanEvent extends State { setups: string[]; setup: string }
export type Place = [number, number, number];
export interface Thing { name: string; kind: string; outline: Spot[] }
export interface Cloth extends Thing { at: Spot; height_m: number }
export interface Person { name: string; at: Spot; looks: Spot; shadow: Spot }
export interface Lamp { name: string; kind: string; at: Spot; height_m: number; axis: Spot; edges: Spot[]; across: Spot[]; floor: Spot[]; fields: Field[] }
export interface Wall { name: string; from: Spot; to: Spot }
export interface Opening { name: string; from: Spot; to: Spot; sill_m: number; height_m: number; fields: Field[] }
export interface Room { name: string; low: Spot; high: Spot; floor_m: number; height_m: number; walls: Wall[]; openings: Opening[]; path: string; first: Change[] }
export interface Side { name: string; kind: string; at: Spot; depth: Spot; outline: Spot[]; edges: Spot[] }
export interface Move { path: string; height?: string; floor: boolean; first: Change[] }
export interface Turn { path: string; looks: Spot; below_deg: number; degree: boolean; aims: boolean }
export interface Handle { name: string; kind: string; at: Place; path: string; fields: Field[]; move?: Move; turn?: Turn; remove: string[]; copy: Field[] }
export interface Stock { lamps: string[]; cloths: string[]; taken: string[]; base: string; camera: boolean }
export interface Target {
  path: string; point: string; over: string; bound: string; wanted_stops: number; tolerance_stops: number; level: Field; within: Field; against: Field;
}
export interface Drawing {
  revision: number; setup: string; title: string; north_deg: number; north: Field; low: Spot; high: Spot;
  rooms: Room[]; objects: Thing[]; cloths: Cloth[]; lamps: Lamp[]; practicals: Lamp[]; people: Person[];
  points: { name: string; at: Spot; faces: Spot }[];
  walks: { name: string; spots: Spot[] }[];
  marks: { name: string; at: Spot }[];
  camera?: { at: Spot; height_m: number; edges: Spot[] };
  sun?: { toward: Spot; altitude_deg: number; azimuth_deg: number; patches: { opening: string; plane: string; outline: Place[] }[] };
  underlay?: { file: string; at: Spot; width_m: number; turn_deg: number; fade: number };
  sides: { far: Side[]; left: Side[] };
  handles: Handle[]; stock: Stock;
  title_block: Field[];
  targets: Target[]; tints: { path: string; point: string; mired: Field; within: Field }[]; new_target: string;
  noise_floor_stops: number; clip_stops: number;
}
export interface Reading { name: string; over_key_stops: number | null; mired_from_balance: number | null; interval_stops: number; by: { source: string; share: number }[] }
export interface Printed { over: string; interval: string; level: string; mired: string; warm: string; by: string[] }
export interface Levels {
  setup: string; points: Reading[];
  targets: { of: string; over: string; level_stops: number | null; outcome: string; colour?: unknown }[];
  walks: { name: string; points: Reading[] }[];
  lamps: { name: string; reserve_stops: number | null; outcome: string }[];
}
export interface LevelsEvent { revision: number; final: boolean; levels: Levels; printed: Printed[]; lines: { name: string; text: string }[] }
export interface FaultsEvent { revision: number; faults: Fault[]; notes: Fault[] }
export interface Layer { name: string; version: string; weights: number[][]; level: number; dial: number }
export interface Band { label: string; from: number; ground: number[]; contour: number[]; pattern: "" | "dots" | "hatch"; ink: number[]; white: boolean }
export interface PictureEvent {
  revision: number; at: string; picture: string; width: number; height: number; samples: number; final: boolean;
  layers: Layer[]; dials: { path: string; levels: number[] }[]; key: Band[];
  frame_lines: { name: string; left: number; top: number; width: number; height: number }[];
  in_shot: { thing: string; text: string; x: number; y: number }[];
}
export interface NoPicture { revision: number; faults: Fault[] }
export interface Tables { luminance: number[]; most: number; shown: number[]; encoded: number[] }
export interface NumberDrawn { x: number; y: number; text: string; white: boolean }
export interface Probed { luminance_cd_m2: number; over_grey_stops: number | null; printed: string }
export interface ClockWindow { target: string; mode: string; opens: string | null; sure: unknown[] }
export interface SunAt { toward: Spot; altitude_deg: number; azimuth_deg: number }
export interface ClockEvent {
  revision: number; charts: Themed;
  time: { left: number; right: number; from_minute: number; to_minute: number };
  clock: { windows: ClockWindow[]; constant: string[] }; printed: string[];
  follow: { target: string; lamps: string[]; steps: { clock: string; settings: string[] }[] }[]; cautions: { name: string; text: string }[];
  targets: string[]; points: string[]; hours: { minute: number; clock: string; levels: string[]; points: string[]; sun?: SunAt }[]; planned_minute: number;
}
export interface WaysEvent {
  revision: number; outcome: string; choices: number; rows: { name: string; planned: string; ways: string[] }[];
  ways: { what: string[]; outcome: string; doubtful: boolean; settings: { of: string; field: string; path: string; now: string; new: string }[]; changes: Change[]; limits: string[]; through: string[] }[];
}
export interface Themed { day: string; night: string; rain: string }
export interface Colours { lights: string[]; mireds: Themed; chromaticity: Themed }
export interface Matched { settings: { by: string; kelvin: string; eye: string; camera: string; change: Change }[]; warning: string }
export interface VariantsEvent { revision: number; setups: string[]; rows: { name: string; cells: { text: string; apart: string }[] }[] }
export interface Explanation { point: string; steps: { what: string; formula: string; inputs: string[] | null; result: string; source: string }[]; doubts: { cause: string; stops: number }[] }
export interface Plans { folder: string; plans: { plan: string; title: string }[]; examples: { example: string; title: string; note: string }[] }
export interface Change { path: string; value?: string }

// Refused is an answer that is no good one, in the server's words.
export class Refused extends Error {
  constructor(readonly status: number, readonly faults: Fault[], text: string) { super(text); }
}

// The token comes behind the # of the address that the terminal printed, and is kept for further windows.
const kept = "gloam.token";
if (/^#[A-Z0-9]{20,}$/.test(location.hash)) {
  localStorage.setItem(kept, location.hash.slice(1));
  history.replaceState(null, "", location.pathname);
}
const headers = (): Record<string, string> => ({ "Gloam-Token": localStorage.getItem(kept) ?? "" });

async function answered(r: Response): Promise<Response> {
  if (r.ok) return r;
  const p = await r.json().catch(() => ({}));
  throw new Refused(r.status, p.faults ?? [], p.detail ?? r.statusText);
}

export const get = async (path: string): Promise<Response> => answered(await fetch(path, { headers: headers() }));

export async function post<T>(path: string, body: unknown): Promise<T> {
  const r = await fetch(path, { method: "POST", headers: { ...headers(), "Content-Type": "application/json" }, body: JSON.stringify(body) });
  return (await answered(r)).json();
}

// send posts a file as it is.
export async function send<T>(path: string, file: Blob): Promise<T> {
  const r = await fetch(path, { method: "POST", headers: { ...headers(), "Content-Type": "application/octet-stream" }, body: file });
  return (await answered(r)).json();
}

export const query = (q: Record<string, string | number>): string => new URLSearchParams(Object.entries(q).map(([k, v]) => [k, String(v)])).toString();

// listen reads a stream of events until it ends or is aborted.
export async function listen(path: string, hear: (kind: string, data: unknown) => void, signal: AbortSignal): Promise<void> {
  const r = await answered(await fetch(path, { headers: headers(), signal }));
  const reader = r.body!.pipeThrough(new TextDecoderStream()).getReader();
  for (let text = "", kind = ""; ;) {
    const { value, done } = await reader.read();
    if (done) return;
    const lines = (text + value).split("\n");
    text = lines.pop() ?? "";
    for (const line of lines) {
      if (line.startsWith("event: ")) kind = line.slice(7);
      if (line.startsWith("data: ")) hear(kind, JSON.parse(line.slice(6)));
    }
  }
}
