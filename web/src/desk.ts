// The open plan as the server last told it, and the edits on their way there.

import { signal } from "@preact/signals";
import { listen, post, query, Refused, type Change, type Drawing, type Fault, type FaultsEvent, type LevelsEvent, type NoPicture, type PictureEvent, type PlanEvent, type State } from "./api";

export const plan = signal<PlanEvent | null>(null);
export const drawing = signal<Drawing | null>(null);
export const levels = signal<LevelsEvent | null>(null);
export const faults = signal<FaultsEvent | null>(null);
export const picture = signal<PictureEvent | null>(null);
export const noPicture = signal<NoPicture | null>(null); // why there is none; the later of the two holds
export const share = signal(1); // of the points that are as sure as asked
export const trouble = signal(""); // with the server; "" for none
export const refused = signal<Fault[]>([]); // why the last edit was not made
export const unsent = signal(0);
export const edited = signal<Change[]>([]); // by the last edit, before anybody answered

export const me = crypto.randomUUID();

interface Waiting { base: number; group: string; changes: Change[] }

// Queue is one plan's edits on their way, kept by the browser until they are acknowledged.
interface Queue { plan: string; waiting: Waiting[]; sending: boolean }

let queue: Queue = { plan: "", waiting: [], sending: false };
let ending = new AbortController();
const place = (q: Queue) => "gloam.unsent." + q.plan;
const silent = "The server does not answer. What you type is kept and sent when it does.";

const pause = (ms: number) => new Promise((go) => setTimeout(go, ms));

// open listens to a set-up of a plan until another is opened. A lost connection is taken up again.
export async function open(newPlan: string, setup: string, width: number): Promise<void> {
  close();
  const until = ending.signal;
  if (queue.plan !== newPlan) queue = { plan: newPlan, waiting: [], sending: false };
  if (!queue.sending) queue.waiting = JSON.parse(localStorage.getItem(place(queue)) ?? "[]");
  void send(queue);
  while (!until.aborted) {
    try {
      await listen("/api/stream?" + query({ plan: newPlan, setup, picture: width }), hear, until);
    } catch (e) {
      if (until.aborted) return;
      trouble.value = e instanceof Refused ? e.message : silent;
    }
    await pause(1000);
  }
}

export function close(): void {
  ending.abort();
  ending = new AbortController();
  plan.value = drawing.value = levels.value = faults.value = picture.value = noPicture.value = null;
  refused.value = [];
}

function hear(kind: string, data: unknown): void {
  trouble.value = "";
  switch (kind) {
    case "plan": plan.value = data as PlanEvent; break;
    case "drawing": drawing.value = data as Drawing; break;
    case "levels": levels.value = data as LevelsEvent; break;
    case "faults": faults.value = data as FaultsEvent; break;
    case "picture": picture.value = data as PictureEvent; noPicture.value = null; break;
    case "no-picture": noPicture.value = data as NoPicture; picture.value = null; break;
    case "progress": share.value = (data as { share: number }).share; break;
  }
}

// edit asks for changes. Those of one group are one gesture: what has not left yet is overtaken, and undo takes back all.
export function edit(changes: Change[], group = ""): void {
  edited.value = changes;
  const { waiting, sending } = queue, last = waiting.at(-1);
  const alike = last && group !== "" && last.group === group && last.changes.every((c, i) => c.path === changes[i]?.path);
  if (alike && !(sending && waiting.length === 1)) last.changes = changes;
  else waiting.push({ base: plan.value?.revision ?? 0, group, changes });
  keep(queue);
  void send(queue);
}

function keep(q: Queue): void {
  if (q === queue) unsent.value = q.waiting.length;
  if (q.waiting.length > 0) localStorage.setItem(place(q), JSON.stringify(q.waiting));
  else localStorage.removeItem(place(q));
}

// send sends one edit after the other. One that the server refuses is dropped and said why; while it does not answer, all are kept.
async function send(q: Queue): Promise<void> {
  if (q.sending) return;
  q.sending = true;
  for (let first = q.waiting[0]; first; first = q.waiting[0]) {
    try {
      const state = await post<State>("/api/plan/edits?" + query({ plan: q.plan }), { ...first, by: me });
      if (q === queue) settle(state);
      refused.value = [];
      q.waiting.shift();
    } catch (e) {
      if (e instanceof Refused && e.status !== 401) {
        refused.value = e.faults.length > 0 ? e.faults : [{ text: e.message }];
        q.waiting.shift();
      } else {
        trouble.value = e instanceof Refused ? e.message : silent;
        await pause(1000);
      }
    }
    keep(q);
  }
  q.sending = false;
}

function settle(state: State): void {
  if (plan.value && state.revision > plan.value.revision) plan.value = { ...plan.value, ...state };
}

export async function travel(word: "undo" | "redo"): Promise<void> {
  try {
    settle(await post<State>(`/api/plan/${word}?` + query({ plan: queue.plan }), { by: me }));
  } catch (e) {
    refused.value = e instanceof Refused ? e.faults : [{ text: String(e) }];
  }
}

export const planName = () => queue.plan;
