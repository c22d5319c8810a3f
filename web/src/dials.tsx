import { useRef } from "preact/hooks";
import type { Field, Lamp } from "./api";
import { drawing, edit, levels } from "./desk";
import { Value } from "./value";

// Dials are every lamp's level and kelvin, and what it has left.
export function Dials() {
  const d = drawing.value;
  if (!d || d.lamps.length + d.practicals.length === 0) return null;
  const left = new Map(levels.value?.levels.lamps.map((l) => [l.name, l.outcome]));
  return (
    <section aria-labelledby="dials">
      <h2 id="dials">Lamps</h2>
      <div class="dials">
        {[...d.lamps, ...d.practicals].map((l, i) => <Dial key={l.name} lamp={l} number={i + 1} left={left.get(l.name) ?? ""} />)}
      </div>
    </section>
  );
}

const named = (l: Lamp, name: string): Field => l.fields.find((f) => f.name === name) ?? { name, path: "", value: "" };

function Dial({ lamp, number, left }: { lamp: Lamp; number: number; left: string }) {
  const dim = named(lamp, "dim"), colour = named(lamp, "colour");
  const gesture = useRef("");
  return (
    <div class="dial">
      <b class="number">{number}</b>
      <span class="name">{lamp.name}<small>{lamp.kind}</small></span>
      <input type="range" min="0" max="100" step="1" value={parseFloat(dim.value)} aria-label={`${lamp.name}, level`} aria-valuetext={dim.value}
        onPointerDown={() => { gesture.current = crypto.randomUUID(); }}
        onKeyDown={() => { gesture.current = ""; }}
        onInput={(e) => edit([{ path: dim.path, value: `${e.currentTarget.value} %` }], gesture.current)} />
      <Value field={dim} label={`${lamp.name}, level, typed`} />
      <Value field={colour} label={`${lamp.name}, colour temperature`} />
      <small class="left">{left}</small>
    </div>
  );
}
