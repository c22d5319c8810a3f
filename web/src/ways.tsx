import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { listen, post, query, Refused, type Fault, type FaultsEvent, type WaysEvent } from "./api";
import { edit, plan, planName } from "./desk";
import { asked } from "./points";

// What a way may change beside the dims of lamps, by the server's word and by ours.
const freedoms = {
  exposure: "stop, ND, EI", colour: "colour of lamps", zoom: "spot to flood", mode: "normal or quiet", kit: "which lamp stands where",
  cloth: "cloth on a frame", window: "ND on the panes", practicals: "practicals",
};
type Freedom = keyof typeof freedoms;

const free = signal<Freedom[]>([]);
const move = signal("");
const from = signal(""), to = signal(""); // one setting is to hold from one time to another
const search = signal<{ of: string; name: string; share: number; best: string; end: AbortController } | null>(null);
const found = signal<{ of: string; ways: WaysEvent } | null>(null);
const wrong = signal<{ of: string; faults: Fault[] } | null>(null);

const shown = () => `${planName()} ${asked()}`;

// look searches until the ways are there or somebody cancels.
async function look(): Promise<void> {
  search.value?.end.abort();
  const of = shown(), end = new AbortController(), name = crypto.randomUUID();
  search.value = { of, name, share: 0, best: "", end };
  wrong.value = null;
  const may = Object.fromEntries(free.value.map((f) => [f, "true"]));
  const moves = move.value.split(";").map((m) => m.trim()).filter((m) => m !== "").map((m) => "&" + query({ move: m })).join("");
  try {
    await listen("/api/ways?" + query({ plan: planName(), setup: asked(), ...may, search: name, from: from.value.trim(), to: to.value.trim() }) + moves, (kind, data) => {
      if (end.signal.aborted) return;
      if (kind === "progress") search.value = { of, name, end, ...(data as { share: number; best: string }) };
      if (kind === "faults") wrong.value = { of, faults: (data as FaultsEvent).faults };
      if (kind === "ways") found.value = { of, ways: data as WaysEvent };
    }, end.signal);
  } catch (e) {
    if (!end.signal.aborted) wrong.value = { of, faults: e instanceof Refused && e.faults.length > 0 ? e.faults : [{ text: "The server does not answer. Ask again when it does." }] };
  }
  if (search.value?.end === end) search.value = null;
}

function cancel(): void {
  search.value?.end.abort();
  search.value = null;
}

// Ways looks for settings that meet the targets on the ladder, ranked; one of them is taken in one step.
export function Ways() {
  const at = shown(), under = search.value?.of === at ? search.value : null;
  const ways = found.value?.of === at ? found.value.ways : null;
  useEffect(() => cancel, [at]);
  return (
    <section class="ways" aria-labelledby="ways">
      <h2 id="ways">Find me a way</h2>
      <fieldset>
        <legend>To meet the targets, dims may change, and</legend>
        {(Object.keys(freedoms) as Freedom[]).map((f) => (
          <label key={f} class="tick"><input type="checkbox" checked={free.value.includes(f)}
            onChange={(e) => { free.value = e.currentTarget.checked ? [...free.value, f] : free.value.filter((x) => x !== f); }} />{freedoms[f]}</label>
        ))}
        <label class="moves">place <input value={move.value} placeholder="key lamp: distance 2 m..6 m" spellcheck={false}
          aria-label="what may stand elsewhere" onInput={(e) => { move.value = e.currentTarget.value; }} /></label>
        <label class="tick">to hold from <input class="clocktime" value={from.value} placeholder="10:00" size={6} onInput={(e) => { from.value = e.currentTarget.value; }} /></label>
        <label class="tick">to <input class="clocktime" value={to.value} placeholder="14:00" size={6} onInput={(e) => { to.value = e.currentTarget.value; }} /></label>
      </fieldset>
      {under ? (
        <p class="asked"><progress max="1" value={under.share} aria-label="ways looked through" /><button type="button" onClick={cancel}>Cancel</button>
          {under.best ? <button type="button" onClick={() => void post("/api/ways/stop?" + query({ search: under.name }), {}).catch(() => undefined)}>Stop with the best so far</button> : null}
          {under.best ? <span class="best">best so far: {under.best}</span> : null}</p>
      ) : <button type="button" onClick={look}>Find ways</button>}
      <div aria-live="polite">
        {wrong.value?.of === at ? wrong.value.faults.map((f) => (
          <p key={f.text} class="fault">▲ {f.path ? `${f.path}: ` : ""}{f.text}{f.allowed ? `; allowed: ${f.allowed}` : ""}{f.hint ? `; ${f.hint}` : ""}</p>
        )) : null}
        {ways ? <Found ways={ways} /> : null}
      </div>
    </section>
  );
}

const said = (w: WaysEvent["ways"][number]) =>
  w.outcome !== "met" ? `▲ ${w.outcome}` : w.doubtful ? "◐ meets all targets, doubt aside" : "● meets all targets";

function Found({ ways }: { ways: WaysEvent }) {
  const stale = ways.revision !== plan.value?.revision;
  return (
    <>
      <p>{ways.choices} looked through{ways.outcome === "stopped" ? ", then stopped" : ""}; {ways.ways.length === 0 ? "none keeps to the limits of the plan" : `${ways.ways.length} to choose from`}.{stale ? ` ◐ They are those of revision ${ways.revision}; the plan has changed since.` : ""}</p>
      {ways.ways.length === 0 ? null : (
        <div class="scroll" tabIndex={0} role="group" aria-label="with and without">
          <table>
            <thead><tr><th scope="col">side by side</th><th scope="col">planned</th>{ways.ways.map((_, i) => <th key={i} scope="col">way {i + 1}</th>)}</tr></thead>
            <tbody>{ways.rows.map((r) => <tr key={r.name}><th scope="row">{r.name}</th><td>{r.planned}</td>{r.ways.map((w, i) => <td key={i}>{w}</td>)}</tr>)}</tbody>
          </table>
        </div>
      )}
      <ol class="cards">{ways.ways.map((w, i) => (
        <li key={i} class="card">
          <b>{i + 1} · {w.what.join("; ") || "dims alone"}</b>
          <small>{said(w)}</small>
          <ul>{w.settings.map((s) => <li key={s.path}>{s.of}, {s.field}: {s.now || "–"} → <b>{s.new}</b></li>)}</ul>
          {w.through.map((l) => <p key={l}>{l}</p>)}
          {w.limits.map((l) => <p key={l}>▲ {l}</p>)}
          <button type="button" disabled={w.changes.length === 0} onClick={() => edit(w.changes, crypto.randomUUID())}>
            {w.changes.length === 0 ? "Nothing to change" : `Take way ${i + 1}`}
          </button>
        </li>
      ))}</ol>
    </>
  );
}
