import { signal } from "@preact/signals";
import { get, query, type Explanation, type Printed, type Reading } from "./api";
import { drawing, levels, planName } from "./desk";
import { Value } from "./value";

export const chosen = signal(""); // the point whose light is taken apart
const opened = signal<Explanation | null>(null);

// Shapes say how a target stands, beside the word.
const shapes: Record<string, string> = { met: "●", maybe: "◐", missed: "▲", dark: "■" };

// Points are the levels against their targets; one tap takes a point's light apart.
export function Points() {
  const e = levels.value;
  if (!e) return <section><h2>Points</h2><p class="quiet">no readings yet</p></section>;
  const point = e.levels.points.findIndex((p) => p.name === chosen.value);
  return (
    <section aria-labelledby="points">
      <h2 id="points">Points {e.final ? null : <small role="status">sharpening</small>}</h2>
      <div class="scroll">
        <table data-revision={e.revision} data-final={e.final}>
          <thead><tr><th scope="col">point</th><th scope="col">over key</th><th scope="col">±</th><th scope="col">wanted</th><th scope="col">level</th><th scope="col">mired from balance</th></tr></thead>
          <tbody>{e.levels.points.map((p, i) => <Row key={p.name} reading={p} printed={e.printed[i]!} />)}</tbody>
        </table>
      </div>
      {point >= 0 ? <MadeOf reading={e.levels.points[point]!} printed={e.printed[point]!} /> : null}
    </section>
  );
}

function Row({ reading, printed }: { reading: Reading; printed: Printed }) {
  const target = drawing.value?.targets.find((t) => t.point === reading.name && t.over === "key");
  const outcome = levels.value?.levels.targets.find((t) => t.of === reading.name && t.over === "key")?.outcome ?? "";
  return (
    <tr>
      <th scope="row">
        <button type="button" aria-pressed={chosen.value === reading.name}
          onClick={() => { chosen.value = chosen.value === reading.name ? "" : reading.name; opened.value = null; }}>
          <span class="shape" aria-hidden="true">{shapes[outcome] ?? "○"}</span>{reading.name}
        </button>
      </th>
      <td class="over" data-point={reading.name}>{printed.over}</td>
      <td>{printed.interval}</td>
      <td>{target ? <><Value field={target.level} label={`${reading.name}, wanted`} /> <small>{outcome}</small></> : null}</td>
      <td class="level">{printed.level}</td>
      <td class={printed.warm}>{printed.mired}</td>
    </tr>
  );
}

// MadeOf shows what each source gives a point, as parts of one bar.
function MadeOf({ reading, printed }: { reading: Reading; printed: Printed }) {
  const parts = reading.by.map((s, i) => ({ ...s, text: printed.by[i]! })).filter((s) => s.share > 0.0005).sort((a, b) => b.share - a.share);
  const starts = parts.map((_, i) => parts.slice(0, i).reduce((sum, p) => sum + p.share, 0));
  const open = async () => {
    opened.value = await (await get("/api/explain?" + query({ plan: planName(), setup: asked(), point: reading.name }))).json();
  };
  return (
    <div class="made">
      <p>{reading.name} is made of</p>
      <svg class="bar" viewBox="0 0 1000 36" preserveAspectRatio="none" aria-hidden="true">
        {parts.map((p, i) => <rect key={p.source} class={`part part${i % 3}`} x={starts[i]! * 1000} y="1" width={p.share * 1000} height="34" />)}
      </svg>
      <ul>{parts.map((p, i) => <li key={p.source}><span class={`key part${i % 3}`} aria-hidden="true" />{p.source} <b>{Math.round(p.share * 100)} %</b> {p.text}</li>)}</ul>
      <button type="button" class="plain" onClick={open}>How this number comes</button>
      {opened.value?.point === reading.name ? <Opened e={opened.value} /> : null}
    </div>
  );
}

export const asked = () => new URLSearchParams(location.hash.slice(1)).get("setup") ?? "";

function Opened({ e }: { e: Explanation }) {
  return (
    <dl class="opened">
      {e.steps.map((s) => <div key={s.what}><dt>{s.what} = {s.result}</dt><dd>{s.formula} <small>[{s.source}]</small><ul>{s.inputs?.map((x) => <li key={x}>{x}</li>)}</ul></dd></div>)}
    </dl>
  );
}
