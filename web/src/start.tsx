import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { get, post, Refused, type Fault, type Plans } from "./api";

const plans = signal<Plans | null>(null);
const lines = signal<string[]>([]);
const wrong = signal<Fault[]>([]);
const asking = signal(false);

const questions = [
  { option: "lamp", label: "Lamp", example: "250kcd, or a kit item", first: "" },
  { option: "distance", label: "Distance", example: "5 m, 16'", first: "" },
  { option: "ambient", label: "Ambient", example: "640 lx, 59 fc", first: "" },
  { option: "ei", label: "EI", example: "800", first: "800" },
  { option: "fps", label: "Frames", example: "24", first: "24" },
  { option: "angle", label: "Shutter", example: "180 deg, 1/50 s", first: "180 deg" },
  { option: "stop", label: "Stop", example: "T2.8", first: "T2.8" },
  { option: "want", label: "Wanted", example: "+1, +2 over ambient", first: "" },
];

// Start is the first sheet: is the lamp strong enough, before anything is drawn; then the plans of the folder and the examples.
export function Start() {
  useEffect(() => { void get("/api/plans").then((r) => r.json()).then((p) => { plans.value = p; }, (e) => { wrong.value = [{ text: e.message }]; }); }, []);
  return (
    <main class="start">
      <h1>Is it strong enough?</h1>
      <form onSubmit={ask} aria-label="The two-minute question">
        <div class="block">
          {questions.map((q) => (
            <label key={q.option} class="cell"><span>{q.label}</span><input name={q.option} defaultValue={q.first} placeholder={q.example} autocomplete="off" spellcheck={false} /></label>
          ))}
        </div>
        <button type="submit" class="go" disabled={asking.value}>Answer</button>
      </form>
      <div aria-live="polite">
        {wrong.value.map((f) => <p key={f.text} class="fault">▲ {f.path ? `${f.path.replace(/^--/, "")}: ` : ""}{f.text}{f.allowed ? `; allowed: ${f.allowed}` : ""}{f.hint ? `; ${f.hint}` : ""}</p>)}
        {lines.value.length > 0 ? <div class="answer"><p class="headline">{lines.value[0]}</p><pre>{lines.value.slice(1).map((l) => l.trim()).join("\n")}</pre></div> : null}
      </div>
      <div class="lists">
        <section aria-labelledby="here"><h2 id="here">Plans here</h2>
          <ul>{plans.value?.plans.map((p) => <li key={p.plan}><a href={"#" + new URLSearchParams({ plan: p.plan })}>{p.title || p.plan}<small>{p.plan}</small></a></li>)}</ul>
          <button type="button" class="plain" onClick={() => create({ title: "New plan" })}>New plan</button>
        </section>
        <section aria-labelledby="examples"><h2 id="examples">Examples, copied here when opened</h2>
          <ul>{plans.value?.examples.map((x) => <li key={x.example}><button type="button" class="link" onClick={() => create({ example: x.example })}>{x.title}<small>{x.note}</small></button></li>)}</ul>
        </section>
      </div>
    </main>
  );
}

async function ask(e: SubmitEvent): Promise<void> {
  e.preventDefault();
  const form = new FormData(e.currentTarget as HTMLFormElement);
  const question: Record<string, string> = {};
  for (const q of questions) {
    const text = String(form.get(q.option) ?? "").trim();
    if (text) question[q.option] = text;
  }
  asking.value = true;
  try {
    lines.value = (await post<{ lines: string[] }>("/api/quick", question)).lines;
    wrong.value = [];
  } catch (x) {
    lines.value = [];
    wrong.value = x instanceof Refused && x.faults.length > 0 ? x.faults : [{ text: String(x) }];
  }
  asking.value = false;
}

async function create(what: { title: string } | { example: string }): Promise<void> {
  try {
    const made = await post<{ plan: string }>("/api/plans", what);
    location.hash = String(new URLSearchParams({ plan: made.plan }));
  } catch (x) {
    wrong.value = x instanceof Refused ? x.faults : [{ text: String(x) }];
  }
}
