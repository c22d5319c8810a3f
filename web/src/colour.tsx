import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { get, query, Refused, type Colours, type Fault, type Matched } from "./api";
import { drawing, edit, levels, planName } from "./desk";
import { asked } from "./points";
import { theme } from "./theme";

const drawn = signal<{ of: string; revision: number; colours: Colours } | null>(null);
const open = signal(false);
const shown = () => `${planName()} ${asked()}`;

// Colour is every light against the balance and against the others, and what a lamp is to be set to, to match one.
export function Colour() {
  const at = shown(), e = levels.value, colours = drawn.value?.of === at ? drawn.value.colours : null;
  const revision = e?.final ? e.revision : -1;
  useEffect(() => {
    if (!open.value || revision < 0 || drawn.value?.of === at && drawn.value.revision === revision) return;
    void get("/api/colours?" + query({ plan: planName(), setup: asked(), width: 640 }))
      .then(async (r) => { drawn.value = { of: at, revision, colours: await r.json() }; })
      .catch(() => { drawn.value = null; }); // the next readings ask again
  }, [at, revision, open.value]);
  return (
    <section class="colour" aria-labelledby="colour">
      <h2 id="colour">Colour</h2>
      <button type="button" aria-expanded={open.value} onClick={() => { open.value = !open.value; }}>{open.value ? "Put away" : "Show the lights' colours"}</button>
      {open.value && colours ? (
        <>
          <Chart svg={colours.mireds[theme.value]} says="The lights by mired from the balance; those of points stand in the table of points too" />
          <Chart svg={colours.chromaticity[theme.value]} says="The lights in the chromaticity diagram, with the loci of black bodies and of daylight" />
          <Match lights={colours.lights} />
        </>
      ) : null}
    </section>
  );
}

function Chart({ svg, says }: { svg: string; says: string }) {
  const [source, show] = useState("");
  useEffect(() => {
    const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
    show(address);
    return () => URL.revokeObjectURL(address);
  }, [svg]);
  return source ? <img class="chart" src={source} alt={says} /> : null;
}

const lamp = signal(""), to = signal(""); // to be matched, and what to
const answer = signal<{ of: string; matched: Matched } | null>(null);
const wrong = signal<{ of: string; faults: Fault[] } | null>(null);

function Match({ lights }: { lights: string[] }) {
  const lamps = drawing.value?.lamps.map((l) => l.name) ?? [];
  const mine = lamps.includes(lamp.value) ? lamp.value : lamps[0] ?? "";
  const others = lights.filter((l) => l !== mine), theirs = others.includes(to.value) ? to.value : others[0] ?? "";
  if (!mine || !theirs) return null;
  const of = `${shown()} ${mine} ${theirs}`;
  const look = async () => {
    wrong.value = answer.value = null;
    try {
      answer.value = { of, matched: await (await get("/api/match?" + query({ plan: planName(), setup: asked(), lamp: mine, to: theirs }))).json() };
    } catch (e) {
      wrong.value = { of, faults: e instanceof Refused && e.faults.length > 0 ? e.faults : [{ text: String(e) }] };
    }
  };
  const found = answer.value?.of === of ? answer.value.matched : null;
  return (
    <div class="match">
      <label>match <select value={mine} onChange={(e) => { lamp.value = e.currentTarget.value; }}>{lamps.map((l) => <option key={l}>{l}</option>)}</select></label>
      <label>to <select value={theirs} onChange={(e) => { to.value = e.currentTarget.value; }}>{others.map((l) => <option key={l}>{l}</option>)}</select></label>
      <button type="button" onClick={look}>Match</button>
      <div aria-live="polite">
        {found?.settings.map((s) => (
          <p key={s.by}><b>{s.kelvin}</b> {s.by}; then to the eye {s.eye}, and in camera {s.camera}
            <button type="button" aria-label={`set ${mine} to ${s.kelvin}, ${s.by}`} onClick={() => edit([s.change])}>Set {mine}</button></p>
        ))}
        {found?.warning ? <p>▲ {found.warning}</p> : null}
        {wrong.value?.of === of ? wrong.value.faults.map((f) => <p key={f.text} class="fault">▲ {f.text}</p>) : null}
      </div>
    </div>
  );
}
