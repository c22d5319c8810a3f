import { useEffect, useRef, useState } from "preact/hooks";
import { edit, refused } from "./desk";
import { chosen } from "./points";
import { pulled, stepped, written, type Part, type Wish } from "./stops";
import { changes, wishOf, type Bracket } from "./targets";
import { finger, reach } from "./touch";

interface Scale { x: number; y: (stops: number) => number; stopsAt: (y: number) => number }

// Brackets are the targets on the ladder; of the chosen point's the ends can be taken too.
export function Brackets({ targets, ...scale }: Scale & { targets: Bracket[] }) {
  return <>{targets.map((t) => (t.zero === null ? null : <OneBracket key={t.path} target={t} zero={t.zero} {...scale} />))}</>;
}

const spoken = (w: Wish) => `${written(w.wanted)} stops, within ${written(w.tolerance).slice(1)}`;

function OneBracket({ target, zero, x, y, stopsAt }: Scale & { target: Bracket; zero: number }) {
  const [set, show] = useState<Wish | null>(null); // as a hand holds it, until the plan says so
  const drag = useRef({ part: "all" as Part, off: 0, group: "", from: wishOf(target), under: false });
  useEffect(() => { if (!drag.current.under) show(null); }, [target.wanted_stops, target.tolerance_stops, refused.value]);
  const now = set ?? wishOf(target);
  const put = (to: Wish, group: string) => {
    const made = changes(target, now, to);
    if (made.length === 0) return;
    show(to);
    edit(made, group);
  };
  const placeOf = (e: PointerEvent) => {
    const svg = (e.currentTarget as SVGGElement).ownerSVGElement!;
    return stopsAt(new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM()!.inverse()).y) - zero;
  };
  const place = (part: Part) => now.wanted + (part === "upper" ? now.tolerance : part === "lower" ? -now.tolerance : 0);
  const hand = (part: Part) => ({
    class: "hand", tabIndex: 0, role: "slider" as const, "aria-orientation": "vertical" as const, "aria-valuenow": place(part), "aria-valuetext": spoken(now),
    "aria-label": `${target.point}, ${part === "all" ? "wanted" : `${part} end of the tolerance`}${target.over === "key" ? "" : ` over ${target.over}`}`,
    onPointerDown: (e: PointerEvent) => {
      const g = e.currentTarget as SVGGElement;
      g.setPointerCapture(e.pointerId);
      g.focus();
      chosen.value = target.point;
      drag.current = { part, off: place(part) - placeOf(e), group: crypto.randomUUID(), from: now, under: true };
    },
    onPointerMove: (e: PointerEvent) => {
      const { part: held, off, group, under } = drag.current;
      if (under && held === part) put(pulled(now, part, placeOf(e) + off), group);
    },
    onPointerUp: () => { drag.current.under = false; },
    onPointerCancel: () => { drag.current.under = false; },
    onKeyDown: (e: KeyboardEvent) => {
      if (e.key === "ArrowUp" || e.key === "ArrowDown") {
        e.preventDefault();
        put(stepped(now, part, e.key === "ArrowUp", e.shiftKey), "");
      } else if (e.key === "Delete" && part === "all") edit([{ path: target.path }]);
    },
  });
  const upper = y(zero + now.wanted + now.tolerance), lower = y(zero + now.wanted - now.tolerance), middle = y(zero + now.wanted);
  const [up, down] = [target.bound !== "at least", target.bound !== "at most"]; // the ends that bind
  const taken = chosen.value === target.point;
  return (
    <g class={`wanted ${taken ? "taken" : ""}`}>
      <g {...hand("all")}>
        <rect class="reach" x={x - 12} y={Math.min(upper, middle - reach(14))} width={Math.max(30, finger)} height={Math.max(2 * reach(14), lower - upper)} />
        <path class="bracket" d={`M${x + 6} ${upper}${up ? "h-6" : "m-6 0"}V${lower}${down ? "h6" : ""}`} />
        <line class="middle" x1={x} x2={x + 9} y1={middle} y2={middle} />
      </g>
      {taken ? (["upper", "lower"] as const).map((part) => (
        <g key={part} {...hand(part)}>
          <rect class="reach" x={x - 14} y={part === "upper" ? upper - 2 - 2 * reach(10) : lower + 2} width={Math.max(30, finger)} height={2 * reach(10)} />
          <path class="grip2" d={part === "upper" ? `M${x - 6} ${upper - 4}l6 -9l6 9z` : `M${x - 6} ${lower + 4}l6 9l6 -9z`} />
        </g>
      )) : null}
    </g>
  );
}
