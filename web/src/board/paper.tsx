import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { Drawing, Spot } from "../api";
import { spotOf } from "../hand";
import { filled } from "./make";
import { axesOf, snap } from "./snap";
import { add, band, copy, form, guides, handles, held, measuring, paper, pick, press, remove, ruler, snapping, taken, tool } from "./state";

// Paper takes what a hand does where nothing is: draws with the tool in hand, measures, draws a band round things, moves and
// enlarges the paper.
export function Paper({ d, px, view, children }: { d: Drawing; px: number; view: [number, number, number, number]; children: ComponentChildren }) {
  const svg = useRef<SVGSVGElement>(null);
  const fingers = useRef(new Map<number, Spot>());
  const dragged = useRef<Spot | null>(null); // where on the page a hand took the paper
  const busy = tool.value !== null || measuring.value;
  const place = (e: PointerEvent): Spot => {
    const at = spotOf(e);
    if (!snapping.value || e.altKey) return at;
    const to = snap(at, axesOf(d), 5 * px);
    guides.value = to.axes;
    return to.at;
  };
  const zoomAt = (at: Spot, by: number) => {
    const now = paper.value?.zoom ?? 1, zoom = Math.min(40, Math.max(0.25, now * by)), share = now / zoom;
    const middle: Spot = [view[0] + view[2] / 2, -view[1] - view[3] / 2];
    paper.value = { zoom, middle: [at[0] + (middle[0] - at[0]) * share, at[1] + (middle[1] - at[1]) * share] };
  };
  const pan = (right: number, up: number) => {
    paper.value = { zoom: paper.value?.zoom ?? 1, middle: [view[0] + view[2] / 2 + right, -view[1] - view[3] / 2 + up] };
  };
  useEffect(() => {
    const wheel = (e: WheelEvent) => {
      if (!e.ctrlKey && !e.metaKey) return; // the page scrolls
      e.preventDefault();
      zoomAt(spotOf(e as unknown as PointerEvent), e.deltaY < 0 ? 1.2 : 1 / 1.2);
    };
    const paperNow = svg.current!;
    paperNow.addEventListener("wheel", wheel, { passive: false });
    return () => paperNow.removeEventListener("wheel", wheel);
  });
  const down = (e: PointerEvent) => {
    fingers.current.set(e.pointerId, [e.clientX, e.clientY]);
    if (fingers.current.size > 1) { press.value = band.value = null; return; }
    if (e.button === 1 || paper.value && e.pointerType === "touch" && !busy) { dragged.current = [e.clientX, e.clientY]; e.preventDefault(); }
    else if (busy) press.value = { from: place(e), to: place(e) };
    else if (e.button === 0 && e.pointerType !== "touch") band.value = { from: spotOf(e), to: spotOf(e) };
    if (busy || e.pointerType !== "touch" || dragged.current) svg.current!.setPointerCapture(e.pointerId);
  };
  const move = (e: PointerEvent) => {
    const others = [...fingers.current].filter(([id]) => id !== e.pointerId), before = fingers.current.get(e.pointerId);
    if (before) fingers.current.set(e.pointerId, [e.clientX, e.clientY]);
    if (before && others.length === 1) { // two fingers move and enlarge
      const other = others[0]![1], was = Math.hypot(before[0] - other[0], before[1] - other[1]), is = Math.hypot(e.clientX - other[0], e.clientY - other[1]);
      zoomAt(spotOf(e), is / Math.max(1, was));
    } else if (dragged.current) {
      pan((dragged.current[0] - e.clientX) * px, (e.clientY - dragged.current[1]) * px);
      dragged.current = [e.clientX, e.clientY];
    } else if (press.value) press.value = { ...press.value, to: place(e) };
    else if (busy && tool.value) place(e);
    else if (band.value) band.value = { ...band.value, to: spotOf(e) };
  };
  const up = (e: PointerEvent) => {
    fingers.current.delete(e.pointerId);
    const p = press.value, b = band.value;
    press.value = band.value = null;
    dragged.current = null;
    guides.value = [];
    if (p && measuring.value) ruler.value = ruler.value.length === 1 ? [ruler.value[0]!, p.to] : Math.hypot(p.to[0] - p.from[0], p.to[1] - p.from[1]) > 6 * px ? [p.from, p.to] : [p.from];
    else if (p && tool.value) {
      form.value = filled(tool.value, form.value, p.from, p.to, d, 8 * px);
      if (tool.value.hand !== "places") add();
    } else if (b) encircle(b.from, b.to, e.shiftKey);
  };
  const encircle = (from: Spot, to: Spot, more: boolean) => {
    const inside = (at: readonly number[], i: 0 | 1) => at[i]! >= Math.min(from[i], to[i]) && at[i]! <= Math.max(from[i], to[i]);
    const names = [...handles.value.values()].filter((h) => h.move && h.kind !== "room" && inside(h.at, 0) && inside(h.at, 1)).map((h) => h.name);
    taken.value = more ? [...new Set([...taken.value, ...names])] : names;
  };
  const key = (e: KeyboardEvent) => {
    const far = 40 * px, middle: Spot = [view[0] + view[2] / 2, -view[1] - view[3] / 2];
    const deeds: Record<string, () => void> = {
      Escape: () => { pick(null); ruler.value = []; }, Delete: remove, Backspace: remove, "+": () => zoomAt(middle, 1.25), "=": () => zoomAt(middle, 1.25), "-": () => zoomAt(middle, 0.8), "0": () => { paper.value = null; },
      ...(e.target === svg.current ? { ArrowLeft: () => pan(-far, 0), ArrowRight: () => pan(far, 0), ArrowUp: () => pan(0, far), ArrowDown: () => pan(0, -far) } : {}),
    };
    const command = e.ctrlKey || e.metaKey;
    const deed = command ? { d: copy, a: () => { taken.value = [...handles.value.values()].filter((h) => h.move && h.kind !== "room").map((h) => h.name); } }[e.key.toLowerCase()] : deeds[e.key];
    if (!deed) return;
    e.preventDefault();
    deed();
  };
  return (
    <svg ref={svg} class={`paper${busy ? " busy" : ""}${paper.value ? " laid" : ""}`} viewBox={view.join(" ")} data-revision={d.revision} tabindex={0} role="group" aria-label={`Ground plan of ${d.title}, ${d.setup}`} style={{ fontSize: `${13 * px}px` }}
      onPointerDown={down} onPointerMove={move} onPointerUp={up} onPointerCancel={(e) => { fingers.current.delete(e.pointerId); press.value = band.value = null; dragged.current = null; }} onKeyDown={key}>
      <defs>
        <pattern id="wall" width={6 * px} height={6 * px} patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2={6 * px} /></pattern>
        <pattern id="shade" width={4 * px} height={4 * px} patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2={4 * px} /></pattern>
        <pattern id="sun" width={9 * px} height={9 * px} patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><line class="hatch" x1="0" y1="0" x2="0" y2={9 * px} /></pattern>
        <pattern id="grid" width="1" height="1" patternUnits="userSpaceOnUse"><path class="gridline" d="M0 0H1M0 0V1" /></pattern>
      </defs>
      {snapping.value && (busy || held.value || d.handles.length === 0) ? <rect x={view[0]} y={view[1]} width={view[2]} height={view[3]} fill="url(#grid)" /> : null}
      <g class={busy ? "asleep" : ""}>{children}</g>
    </svg>
  );
}
