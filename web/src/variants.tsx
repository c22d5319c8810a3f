import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { listen, post, query, Refused, type Fault, type FaultsEvent, type State, type VariantsEvent } from "./api";
import { drawing, edit, me, plan, planName } from "./desk";
import { asked } from "./points";

const name = signal("");
const asking = signal<{ of: string; share: number; end: AbortController } | null>(null);
const answer = signal<{ of: string; table: VariantsEvent } | null>(null);
const wrong = signal<Fault[]>([]);

const shown = () => `${planName()} ${asked()}`;
const faultsIn = (e: unknown): Fault[] => (e instanceof Refused && e.faults.length > 0 ? e.faults : [{ text: e instanceof Refused ? e.message : "The server does not answer." }]);

function show(setup: string): void {
  location.hash = String(new URLSearchParams({ plan: planName(), setup }));
}

async function keep(): Promise<void> {
  wrong.value = [];
  try {
    await post<State>("/api/variants?" + query({ plan: planName() }), { setup: asked(), name: name.value, by: me });
    name.value = "";
  } catch (e) {
    wrong.value = faultsIn(e);
  }
}

async function compare(): Promise<void> {
  asking.value?.end.abort();
  const of = shown(), end = new AbortController();
  asking.value = { of, share: 0, end };
  wrong.value = [];
  try {
    await listen("/api/variants?" + query({ plan: planName(), setup: asked() }), (kind, data) => {
      if (end.signal.aborted) return;
      if (kind === "progress") asking.value = { of, end, share: (data as { share: number }).share };
      if (kind === "faults") wrong.value = (data as FaultsEvent).faults;
      if (kind === "variants") answer.value = { of, table: data as VariantsEvent };
    }, end.signal);
  } catch (e) {
    if (!end.signal.aborted) wrong.value = faultsIn(e);
  }
  if (asking.value?.end === end) asking.value = null;
}

function cancel(): void {
  asking.value?.end.abort();
  asking.value = null;
}

// Variants keep the set-up shown under another name, and set all side by side.
export function Variants() {
  const p = plan.value, at = shown(), under = asking.value?.of === at ? asking.value : null;
  const table = answer.value?.of === at ? answer.value.table : null;
  useEffect(() => () => { cancel(); wrong.value = []; }, [at]);
  if (!p || p.setups.length === 0) return null;
  return (
    <section class="variants" aria-labelledby="variants">
      <h2 id="variants">Variants</h2>
      <p class="asked">
        <label>keep this as <input value={name.value} placeholder="quieter" spellcheck={false} onInput={(e) => { name.value = e.currentTarget.value; }} /></label>
        <button type="button" disabled={name.value.trim() === ""} onClick={keep}>Keep</button>
        {under ? null : <button type="button" disabled={p.setups.length < 2} onClick={compare}>Side by side</button>}
      </p>
      {under ? <p class="asked"><progress max="1" value={under.share} aria-label="set-ups read" /><button type="button" onClick={cancel}>Cancel</button></p> : null}
      <div aria-live="polite">{wrong.value.map((f) => <p key={f.text} class="fault">▲ {f.text}{f.hint ? `; ${f.hint}` : ""}</p>)}</div>
      {table ? <Table table={table} stale={table.revision !== p.revision} /> : null}
    </section>
  );
}

function Table({ table, stale }: { table: VariantsEvent; stale: boolean }) {
  return (
    <>
      {stale ? <p>◐ That of revision {table.revision}; the plan has changed since.</p> : null}
      <div class="scroll" tabIndex={0} role="group" aria-label="set-ups side by side">
        <table>
          <thead><tr><th scope="col">over key</th>{table.setups.map((s) => <th key={s} scope="col">{s}</th>)}</tr></thead>
          <tbody>{table.rows.map((r) => (
            <tr key={r.name}><th scope="row">{r.name}</th>{r.cells.map((c, i) => <td key={i}>{c.text}{c.apart ? <small>{c.apart}</small> : null}</td>)}</tr>
          ))}
            <tr><th scope="row">take</th>{table.setups.map((s) => (
              <td key={s}>
                {s === drawing.value?.setup ? "shown" : <button type="button" class="boxed" aria-label={`show ${s}`} onClick={() => show(s)}>Show</button>}
                {table.setups.length > 1 && s !== drawing.value?.setup ? <button type="button" class="boxed" aria-label={`remove ${s}`} onClick={() => edit([{ path: `setups.${JSON.stringify(s)}` }])}>Remove</button> : null}
              </td>
            ))}</tr>
          </tbody>
        </table>
      </div>
      <small>Small figures: stops from {table.setups[0]}. Current, power and mass are of the lamps that are on, at full output.</small>
    </>
  );
}
