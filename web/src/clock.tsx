import { computed, signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { listen, query, Refused, type ClockEvent, type Fault, type FaultsEvent } from "./api";
import { drawing, edit, plan, planName } from "./desk";
import { hour as pictured } from "./developed";
import { asked } from "./points";
import { theme } from "./theme";

interface Asking { of: string; share: number; end: AbortController }

const answer = signal<{ of: string; clock: ClockEvent } | null>(null);
const asking = signal<Asking | null>(null);
const wrong = signal<{ of: string; faults: Fault[] } | null>(null);
const minute = signal(0); // of the hour looked at
const follows = signal(true); // the picture goes along

const calm = 150; // ms that a hand rests on an hour before its picture is asked for

const shown = () => `${planName()} ${asked()}`;

const hourAt = (c: ClockEvent, m: number) => c.hours.findLast((h) => h.minute <= m)!;

// hourSun is where the sun stands at the hour that is looked at, null below the horizon; undefined at the set-up's own time.
export const hourSun = computed(() => {
  const c = answer.value?.of === shown() ? answer.value.clock : null;
  if (!c || !follows.value || c.revision !== plan.value?.revision || hourAt(c, minute.value) === hourAt(c, c.planned_minute)) return undefined;
  return hourAt(c, minute.value).sun ?? null;
});

// ask works out the light clock of the set-up shown, until it is there or somebody cancels.
async function ask(width: number): Promise<void> {
  asking.value?.end.abort();
  const of = shown(), end = new AbortController();
  asking.value = { of, share: 0, end };
  wrong.value = null;
  try {
    await listen("/api/clock?" + query({ plan: planName(), setup: asked(), width }), (kind, data) => {
      if (end.signal.aborted) return;
      if (kind === "progress") asking.value = { of, end, share: (data as { share: number }).share };
      if (kind === "faults") wrong.value = { of, faults: (data as FaultsEvent).faults };
      if (kind === "clock") {
        answer.value = { of, clock: data as ClockEvent };
        minute.value = answer.value.clock.planned_minute;
      }
    }, end.signal);
  } catch (e) {
    if (!end.signal.aborted) wrong.value = { of, faults: e instanceof Refused && e.faults.length > 0 ? e.faults : [{ text: "The server does not answer. Ask again when it does." }] };
  }
  if (asking.value?.end === end) asking.value = null;
}

function cancel(): void {
  asking.value?.end.abort();
  asking.value = null;
}

// LightClock is the day of the set-up shown: its chart, the windows in words, and the levels at an hour.
export function LightClock() {
  const box = useRef<HTMLElement>(null);
  const at = shown(), under = asking.value?.of === at ? asking.value : null;
  const clock = answer.value?.of === at ? answer.value.clock : null;
  const stale = clock !== null && clock.revision !== plan.value?.revision;
  useEffect(() => cancel, [at]);
  return (
    <section class="clock" aria-labelledby="clock" ref={box}>
      <h2 id="clock">Light clock</h2>
      {under ? (
        <p class="asked"><progress max="1" value={under.share} aria-label="light clock" /><button type="button" onClick={cancel}>Cancel</button></p>
      ) : !clock || stale ? (
        <p class="asked">{stale ? <span>◐ That of revision {clock.revision}; the plan has changed since.</span> : null}
          <button type="button" onClick={() => ask(Math.round(Math.min(2000, Math.max(320, box.current!.clientWidth))))}>Work out the day</button></p>
      ) : null}
      <div aria-live="polite">
        {wrong.value?.of === at ? wrong.value.faults.map((f) => <p key={f.text} class="fault">▲ {f.path ? `${f.path}: ` : ""}{f.text}{f.hint ? `; ${f.hint}` : ""}</p>) : null}
      </div>
      {clock ? <Day clock={clock} stale={stale} /> : null}
    </section>
  );
}

function Day({ clock, stale }: { clock: ClockEvent; stale: boolean }) {
  return (
    <>
      <Hours clock={clock} stale={stale} />
      {clock.clock.constant.length > 0 ? <p>Taken as read all day, for want of a clock or a state of the sky: {clock.clock.constant.join(", ")}.</p> : null}
      <div class="scroll" tabIndex={0} role="group" aria-label="windows">
        <table>
          <thead><tr><th scope="col">target</th><th scope="col">lamps</th><th scope="col">holds</th></tr></thead>
          <tbody>{clock.clock.windows.map((w, i) => (
            <tr key={i}>
              <th scope="row"><span aria-hidden="true">{!w.opens ? "■" : w.sure.length > 0 ? "●" : "◐"}</span> {w.target}</th>
              <td>{w.mode === "fixed" ? "as planned" : "following"}</td><td class="window">{clock.printed[i]}</td>
            </tr>
          ))}</tbody>
        </table>
      </div>
      {clock.cautions.map((c) => <p key={c.name + c.text}>▲ {c.name}: {c.text}</p>)}
      {clock.follow.map((f) => (
        <details key={f.target}>
          <summary>To keep {f.target}, set at these times</summary>
          <div class="scroll" tabIndex={0} role="group" aria-label={`to keep ${f.target}`}>
            <table>
              <thead><tr><th scope="col">at</th>{f.lamps.map((l) => <th key={l} scope="col">{l}</th>)}</tr></thead>
              <tbody>{f.steps.map((s) => <tr key={s.clock}><th scope="row">{s.clock}</th>{s.settings.map((x, i) => <td key={i}>{x}</td>)}</tr>)}</tbody>
            </table>
          </div>
        </details>
      ))}
    </>
  );
}

// Hours is the chart as the server drew it, with an hour that can be dragged over it.
function Hours({ clock, stale }: { clock: ClockEvent; stale: boolean }) {
  const [source, show] = useState("");
  const chart = clock.charts[theme.value];
  useEffect(() => {
    const address = URL.createObjectURL(new Blob([chart], { type: "image/svg+xml" }));
    show(address);
    return () => URL.revokeObjectURL(address);
  }, [chart]);
  const { left, right, from_minute: from, to_minute: to } = clock.time;
  const place = left + ((minute.value - from) / (to - from)) * (right - left);
  const step = clock.hours[1]!.minute - clock.hours[0]!.minute;
  const hour = clock.hours.findLast((h) => h.minute <= minute.value)!;
  const time = drawing.value?.title_block.find((f) => f.name === "Hour");
  const moved = useRef(false); // by hand
  const away = hour.minute !== Math.floor(clock.planned_minute / step) * step;
  useEffect(() => {
    if (!moved.current || !follows.value || stale) return;
    const rest = setTimeout(() => { pictured.value = away ? hour.clock : ""; }, calm);
    return () => clearTimeout(rest);
  }, [hour.clock, away, follows.value, stale]);
  const drag = (e: PointerEvent) => {
    if (e.buttons === 0) return;
    moved.current = true;
    const target = e.currentTarget as HTMLElement, b = target.getBoundingClientRect();
    target.setPointerCapture(e.pointerId);
    const along = ((e.clientX - b.left) / b.width - left) / (right - left);
    minute.value = Math.min(to, Math.max(from, Math.round((from + along * (to - from)) / step) * step));
  };
  return (
    <>
      <div class="hours" onPointerDown={drag} onPointerMove={drag}>
        {source ? <img src={source} draggable={false} alt="The day's sun, levels and windows; the windows stand in the table below" /> : null}
        <span class="hourline" style={{ left: `${place * 100}%` }} />
      </div>
      <input type="range" aria-label="hour" aria-valuetext={hour.clock} min={from} max={to} step={step} value={minute.value}
        style={{ marginLeft: `${left * 100}%`, width: `${(right - left) * 100}%` }} onInput={(e) => { moved.current = true; minute.value = Number(e.currentTarget.value); }} />
      <p class="athour" aria-live="polite"><b>{hour.clock}</b> {clock.targets.map((t, i) => <span key={t}>{t} <b>{hour.levels[i]}</b></span>)}</p>
      {clock.points.length > 0 ? (
        <details class="athour">
          <summary>All points at {hour.clock}</summary>
          <div class="scroll" tabIndex={0} role="group" aria-label={`points at ${hour.clock}`}>
            <table>
              <thead><tr><th scope="col">point</th><th scope="col">{hourAt(clock, clock.planned_minute).clock}, planned</th><th scope="col">{hour.clock}</th></tr></thead>
              <tbody>{clock.points.map((p, i) => <tr key={p}><th scope="row">{p}</th><td>{hourAt(clock, clock.planned_minute).points[i]}</td><td><b>{hour.points[i]}</b></td></tr>)}</tbody>
            </table>
          </div>
        </details>
      ) : null}
      <label class="tick"><input type="checkbox" checked={follows.value} onChange={(e) => { follows.value = e.currentTarget.checked; }} />plan and picture follow the hour</label>
      {time && !stale && away ? (
        <button type="button" onClick={() => edit([{ path: time.path, value: hour.clock }])}>Plan it for {hour.clock}</button>
      ) : null}
    </>
  );
}
