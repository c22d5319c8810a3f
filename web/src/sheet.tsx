import { useRef } from "preact/hooks";
import { held, press } from "./board/state";
import { LightClock } from "./clock";
import { Colour } from "./colour";
import { drawing, faults, levels, plan, planName, refused, share, travel, trouble, unsent } from "./desk";
import { Dials } from "./dials";
import { GroundPlan } from "./groundplan";
import { Ladder } from "./ladder";
import { Points } from "./points";
import { Print } from "./print";
import { Value } from "./value";
import { Variants } from "./variants";
import { Ways } from "./ways";

// Sheet is one set-up on one drawing sheet.
export function Sheet() {
  const p = plan.value, d = drawing.value;
  return (
    <main class="sheet">
      <header>
        <h1>{d?.title ?? planName()}</h1>
        {p && p.setups.length > 1 ? (
          <label class="setups">set-up <select value={d?.setup} onChange={(e) => { location.hash = String(new URLSearchParams({ plan: planName(), setup: e.currentTarget.value })); }}>
            {p.setups.map((s) => <option key={s}>{s}</option>)}
          </select></label>
        ) : null}
        <span class="tools">
          <button type="button" disabled={!p?.can_undo} onClick={() => travel("undo")}>Undo</button>
          <button type="button" disabled={!p?.can_redo} onClick={() => travel("redo")}>Redo</button>
          <a href="#">All plans</a>
        </span>
      </header>
      <Messages />
      <div class="ladderplace"><Ladder /></div>
      <div class="planplace"><GroundPlan /><Dials /><Variants /><Ways /></div>
      <div class="side"><Print /><Points /></div>
      <div class="wide"><LightClock /><Colour /></div>
      {d ? (
        <footer class="block" aria-label="Title block">
          {d.title_block.map((f) => <label key={f.path} class="cell"><span>{f.name}</span><Value field={f} label={f.name} /></label>)}
          <div class="cell"><span>Revision</span><b>{p?.revision}</b></div>
        </footer>
      ) : null}
    </main>
  );
}

// Messages are what a person must know now: what is wrong, what was lost, what is still on its way. What passes by itself
// moves nothing, since a hand may be at work below it; while one is, no message comes or goes.
function Messages() {
  const now = told(), shown = useRef(now);
  if (!held.value && !press.value) shown.current = now;
  return shown.current;
}

function told() {
  const f = faults.value, p = plan.value;
  const stale = f !== null && f.faults.length > 0 && f.revision === p?.revision;
  const lost = p?.lost.filter((l) => l.revision > p.revision - 5) ?? [];
  return (
    <div class="messages" aria-live="polite">
      {trouble.value ? <p class="fault">■ {trouble.value}</p> : null}
      {unsent.value > 1 ? <p class="note passing">{unsent.value} edits on their way</p> : null}
      {p?.note ? <p class="note">▲ {p.note}</p> : null}
      {refused.value.map((x) => <p key={x.text} class="fault">▲ not done: {x.path ? `${x.path}: ` : ""}{x.text}{x.hint ? `; ${x.hint}` : ""}</p>)}
      {stale ? f.faults.map((x) => (
        <p key={x.path + x.text} class="fault">▲ {x.place?.line ? `line ${x.place.line}: ` : ""}{x.path ? `${x.path}: ` : ""}{x.text}{x.read ? `, read “${x.read}”` : ""}{x.allowed ? `; allowed: ${x.allowed}` : ""}{x.hint ? `; ${x.hint}` : ""}</p>
      )) : null}
      {stale && levels.value ? <p class="note">Drawing and readings are those of revision {levels.value.revision}.</p> : null}
      {lost.map((l) => <p key={l.revision + l.path} class="note">◐ {l.path}: {l.lost} was lost{l.kept ? `, ${l.kept} stands` : ""}: {l.reason}. Undo brings it back.</p>)}
      {share.value < 1 && levels.value && !levels.value.final ? <progress class="passing" max="1" value={share.value} aria-label="points that are sure" /> : null}
    </div>
  );
}
