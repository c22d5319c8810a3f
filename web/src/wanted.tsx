import { drawing, edit, levels } from "./desk";
import { chosen } from "./points";
import { nearest, stepped } from "./stops";
import { changes, made, turned, wishOf, type Bracket } from "./targets";
import { Value } from "./value";

// Wanted is what the chosen point's targets want, to be set by button and by type as the bracket is by hand.
export function Wanted({ targets }: { targets: Bracket[] }) {
  const d = drawing.value!, l = levels.value!.levels, point = l.points.find((p) => p.name === chosen.value);
  if (!point) return <p class="quiet hint">Choose a point to set what is wanted there.</p>;
  const tints = d.tints.filter((t) => t.point === point.name);
  const own = targets.filter((t) => t.point === point.name);
  return (
    <div class="wish" role="group" aria-label={`wanted at ${point.name}`}>
      <h3>{point.name}</h3>
      {own.map((t) => <OneWish key={t.path} target={t} points={l.points.map((p) => p.name).filter((n) => n !== point.name)} />)}
      {own.some((t) => t.over === "key") ? null : (
        <button type="button" onClick={() => edit(made(d.new_target, point.name, nearest(point.over_key_stops ?? 0, 3)), crypto.randomUUID())}>
          Want this level
        </button>
      )}
      {tints.map((t) => (
        <div key={t.path} class="onewish">
          <label>from balance <Value field={t.mired} label={`${t.point}, wanted mired`} /></label>
          <label>within <Value field={t.within} label={`${t.point}, tolerance in mired`} /></label>
          <button type="button" onClick={() => edit([{ path: t.path }])}>Remove</button>
          <small>{l.targets.find((x) => x.of === t.point && x.colour)?.outcome}</small>
        </div>
      ))}
      {tints.length > 0 || point.mired_from_balance === null ? null : (
        <button type="button" onClick={() => edit([{ path: `${d.new_target}.point`, value: point.name }, { path: `${d.new_target}.mired`, value: `${Math.round(point.mired_from_balance!)} mired` }], crypto.randomUUID())}>
          Want this colour
        </button>
      )}
    </div>
  );
}

function OneWish({ target, points }: { target: Bracket; points: string[] }) {
  const step = (up: boolean) => edit(changes(target, wishOf(target), stepped(wishOf(target), "all", up, false)));
  return (
    <div class="onewish">
      <span class="steps">
        <button type="button" aria-label={`${target.point}, a third less`} onClick={() => step(false)}>−⅓</button>
        <Value field={target.level} label={`${target.point}, wanted stops`} />
        <button type="button" aria-label={`${target.point}, a third more`} onClick={() => step(true)}>+⅓</button>
      </span>
      <label>within <Value field={target.within} label={`${target.point}, tolerance`} /></label>
      <label>over <select value={target.over} onChange={(e) => edit(turned(target, e.currentTarget.value, levels.value!.levels))}>
        {["key", "ambient", ...points].map((n) => <option key={n}>{n}</option>)}
      </select></label>
      <label>is to be <select value={target.bound} aria-label={`${target.point}, bound`} onChange={(e) => edit([{ path: `${target.path}.bound`, value: e.currentTarget.value }])}>
        {["at", "at least", "at most"].map((b) => <option key={b}>{b}</option>)}
      </select></label>
      <button type="button" onClick={() => edit([{ path: target.path }])}>Remove</button>
      <small>{target.outcome}</small>
    </div>
  );
}
