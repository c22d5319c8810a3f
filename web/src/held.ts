import type { Change } from "./api";

// Held is dims in whole per cent by their path in the plan, as a hand holds them before the server has answered.
export type Held = Record<string, number>;

// held reads the dims that an edit sets; what else it changes waits for the server.
export function held(changes: Change[]): Held {
  const all: Held = {};
  for (const c of changes) {
    const percent = /^(\d{1,3}) ?%$/.exec(c.value ?? "");
    if (percent && Number(percent[1]) <= 100) all[c.path] = Number(percent[1]);
  }
  return all;
}
