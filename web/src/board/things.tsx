import { handles, take, taken } from "./state";

// Things lists all that can be taken, to tick several where no band can be drawn round them.
export function Things() {
  const all = [...handles.value.values()];
  if (all.length === 0) return null;
  return (
    <details class="things">
      <summary>Things on the plan ({all.length})</summary>
      <ul>{all.map((h) => <li key={h.name}><label><input type="checkbox" checked={taken.value.includes(h.name)} onChange={() => take(h.name, true)} /> {h.name} <small>{h.kind}</small></label></li>)}</ul>
    </details>
  );
}
