// What the drawing board is doing: the tool in hand, what is taken, how the paper lies.

import { computed, effect, signal } from "@preact/signals";
import type { Change, Handle, Place, Spot } from "../api";
import { drawing, edit, plan, unsent } from "../desk";
import { blank, copied, lacks, made, tools, type Form, type Tool } from "./make";
import type { Axis } from "./snap";

export const tool = signal<Tool | null>(null); // null: things are taken by hand
export const form = signal<Form>({});
export const measuring = signal(false);
export const taken = signal<string[]>([]); // names, the last one's numbers are shown
export const snapping = signal(true);
export const guides = signal<Axis[]>([]); // what the hand is lined up with
export const held = signal(false); // something is being dragged
export const places = signal<Record<string, Place>>({}); // where a hand holds things, until the server has drawn them there
export const paper = signal<{ zoom: number; middle: Spot } | null>(null); // null: all of it
export const section = signal<"" | "far" | "left">("");
export const cut = signal(-1e3); // m: what lies before it is drawn thin

export const handles = computed(() => new Map<string, Handle>(drawing.value?.handles.map((h) => [h.name, h]) ?? []));

const gone = new Set<string>(); // what was taken out since the server last drew

// once leaves out of an edit what has been taken out already.
export function once(changes: Change[]): Change[] {
  const left = changes.filter((c) => c.value !== undefined || !gone.has(c.path));
  for (const c of left) if (c.value === undefined) gone.add(c.path);
  return left;
}

// The server has drawn what the hand let go of.
effect(() => {
  const d = drawing.value, p = plan.value;
  if (held.value || unsent.value > 0 || !d || !p || d.revision < p.revision) return;
  gone.clear();
  if (Object.keys(places.peek()).length > 0) places.value = {};
});

export const placeOf = (h: Handle): Place => places.value[h.name] ?? h.at;

export function pick(t: Tool | null): void {
  tool.value = t;
  measuring.value = false;
  form.value = t && drawing.value ? blank(t, drawing.value) : {};
  taken.value = [];
}

export const pickNamed = (id: string) => pick(tools.find((t) => t.id === id) ?? null);

// take selects a thing, with others or alone.
export function take(name: string, more: boolean): void {
  if (!more) taken.value = [name];
  else taken.value = taken.value.includes(name) ? taken.value.filter((n) => n !== name) : [...taken.value, name];
}

const ofTaken = () => taken.value.map((n) => handles.value.get(n)).filter((h) => h !== undefined);

export function remove(): void {
  const paths = ofTaken().flatMap((h) => h.remove);
  if (paths.length === 0) return;
  // Items of one list go from its end, so that the others stay where they are.
  const item = (p: string) => Number(/\[(\d+)\]$/.exec(p)?.[1] ?? -1);
  const changes: Change[] = paths.sort((a, b) => item(b) - item(a)).map((path) => ({ path }));
  edit(changes);
  taken.value = [];
}

export function copy(): void {
  const names = [...(drawing.value?.stock.taken ?? [])], changes: Change[] = [], copies: string[] = [];
  for (const h of ofTaken()) {
    if (h.copy.length === 0) continue;
    const made = copied(h, names);
    names.push(made.name);
    copies.push(made.name);
    changes.push(...made.changes);
  }
  if (changes.length === 0) return;
  edit(changes);
  taken.value = copies;
}

export const press = signal<{ from: Spot; to: Spot } | null>(null); // of the tool in hand
export const band = signal<{ from: Spot; to: Spot } | null>(null); // drawn round things
export const ruler = signal<Spot[]>([]); // ends of what is measured

// add puts what the form says into the plan, and takes it. It returns what the form still lacks.
export function add(): string {
  const t = tool.value, d = drawing.value;
  if (!t || !d) return "";
  const lack = lacks(t, form.value, d);
  if (lack) return lack;
  edit(made(t, form.value, d));
  const name = t.id === "camera" ? "camera" : form.value.name!.trim();
  pick(null);
  taken.value = [name];
  return "";
}
