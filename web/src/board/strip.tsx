import { useState } from "preact/hooks";
import { drawing } from "../desk";
import { lacks, tools, wordsOf } from "./make";
import { both } from "./place";
import { Laid } from "./underlay";
import { add, form, measuring, paper, pick, ruler, section, snapping, tool } from "./state";

// glyphs are the tools' signs, as a ground plan draws the things.
const glyphs: Record<string, string> = {
  room: "M2 4H18V16H2ZM4.5 6.5H15.5V13.5H4.5Z", opening: "M1 7V13M19 7V13M1 7H19M1 10H19M1 13H19", object: "M3 6H17V14H3Z", person: "M10 5A5 5 0 1 0 10.01 5M10 10V1",
  mark: "M4 4L16 16M4 16L16 4", walk: "M2 15L7 8M9 11L12 6M14 9L18 4", point: "M10 7A3 3 0 1 0 10.01 7", lamp: "M10 3A7 7 0 1 0 10.01 3M13 4V16", cloth: "M3 15L17 5M4.5 16.5L18.5 6.5",
  practical: "M10 5A5 5 0 1 0 10.01 5M10 1V19M1 10H19", camera: "M1 6H11L17 3V17L11 14H1Z", ambient: "M10 2L18 10L10 18L2 10Z",
};

// Strip is the tools: words with the signs of the trade's ground plans.
export function Strip() {
  const empty = drawing.value && drawing.value.handles.length === 0;
  const measure = () => { const on = !measuring.value; pick(null); measuring.value = on; ruler.value = []; };
  return (
    <div class="board">
      <div class="strip" role="toolbar" aria-label="Drawing tools">
        <button type="button" aria-pressed={!tool.value && !measuring.value} onClick={() => pick(null)}>Take</button>
        {tools.map((t) => (
          <button key={t.id} type="button" aria-pressed={tool.value?.id === t.id} onClick={() => pick(tool.value?.id === t.id ? null : t)}>
            <svg class="glyph" viewBox="0 0 20 20" aria-hidden="true"><path d={glyphs[t.id]} /></svg>{t.word}
          </button>
        ))}
        <button type="button" aria-pressed={measuring.value} onClick={measure}><svg class="glyph" viewBox="0 0 20 20" aria-hidden="true"><path d="M1 10H19M1 6V14M19 6V14" /></svg>Measure</button>
      </div>
      <div class="strip quietly" role="toolbar" aria-label="Paper">
        <button type="button" aria-pressed={snapping.value} onClick={() => { snapping.value = !snapping.value; }}>Snap</button>
        <button type="button" aria-label="enlarge" onClick={() => { enlarge(1.25); }}>+</button>
        <button type="button" aria-label="reduce" onClick={() => { enlarge(0.8); }}>−</button>
        <button type="button" disabled={!paper.value} onClick={() => { paper.value = null; }}>Whole</button>
        <button type="button" aria-pressed={section.value !== ""} onClick={() => { section.value = section.value ? "" : "far"; }}>Section</button>
      </div>
      {tool.value ? <Asked /> : null}
      <Laid />
      {measuring.value ? <p class="told" role="status">{ruler.value.length === 2 ? both(Math.hypot(ruler.value[0]![0] - ruler.value[1]![0], ruler.value[0]![1] - ruler.value[1]![1])) : "Tap two places, or drag from one to the other."}</p> : null}
      {empty && !tool.value ? <p class="told">An empty sheet. Take Room and drag its floor, or type its size.</p> : null}
    </div>
  );
}

function enlarge(by: number): void {
  const d = drawing.value!;
  const zoom = Math.min(40, Math.max(0.25, (paper.value?.zoom ?? 1) * by));
  paper.value = { zoom, middle: paper.value?.middle ?? [(d.low[0] + d.high[0]) / 2, (d.low[1] + d.high[1]) / 2] };
}

const how = {
  box: "Drag from corner to corner, or type and add.", way: "Tap its place; drag on to where it looks.", wall: "Drag along a wall, or tap it.", places: "Tap place after place, then add.",
};

// Asked is what the tool in hand wants to know; all of it can be typed.
function Asked() {
  const t = tool.value!, d = drawing.value!, f = form.value;
  const [told, tell] = useState("");
  const lack = lacks(t, f, d);
  const type = (name: string, value: string) => { tell(""); form.value = { ...form.value, [name]: value }; };
  return (
    <form class="asks" aria-label={`Add: ${t.word}`} onSubmit={(e) => { e.preventDefault(); tell(add()); }} onKeyDown={(e) => { if (e.key === "Escape") pick(null); }}>
      <p class="told">{how[t.hand]}</p>
      {t.id === "opening" && d.rooms.length > 1 ? (
        <label>room <select value={f.room ?? "0"} onChange={(e) => type("room", e.currentTarget.value)}>{d.rooms.map((r, i) => <option key={r.name} value={String(i)}>{r.name}</option>)}</select></label>
      ) : null}
      {t.asks.filter((a) => a.when?.(f) ?? true).map((a) => {
        const words = wordsOf(a, d);
        return (
          <label key={a.name}>{a.label} {words
            ? <select name={a.name} value={f[a.name]} onChange={(e) => type(a.name, e.currentTarget.value)}>{words.map((w) => <option key={w} value={w}>{w || "elsewhere"}</option>)}</select>
            : <input name={a.name} value={f[a.name]} size={Math.max(6, (f[a.name] ?? "").length)} placeholder={a.may ? "—" : ""} autocomplete="off" spellcheck={false} onInput={(e) => type(a.name, e.currentTarget.value)} />}
          </label>
        );
      })}
      <span class="deeds"><button type="submit">Add</button><button type="button" onClick={() => pick(null)}>Leave</button></span>
      <p class="told" role="status">{told || (lack && f.at !== undefined && f.at !== "" ? lack : "")}</p>
    </form>
  );
}
