// A photograph or a plan under the ground plan: chosen, placed, turned, faded, and scaled from one length that is known.

import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { get, post, query, Refused, send, type Change, type Drawing, type Handle } from "../api";
import { drawing, edit, planName } from "../desk";
import { useTake } from "../hand";
import { both } from "./place";
import { measuring, pick, placeOf, ruler, taken } from "./state";
import { reach } from "../touch";

// The picture last fetched, and how high it is for a width of 1.
const shown = signal<{ of: string; address: string; high: number } | null>(null);

async function fetchPicture(of: string, file: string): Promise<void> {
  const address = URL.createObjectURL(await (await get("/api/underlay?" + query({ plan: planName(), file }))).blob());
  const picture = new Image();
  picture.src = address;
  await picture.decode();
  if (shown.value) URL.revokeObjectURL(shown.value.address);
  shown.value = { of, address, high: picture.naturalHeight / picture.naturalWidth };
}

// Photograph lies under all else; its corner is taken by hand.
export function Photograph({ d, h, px }: { d: Drawing; h?: Handle; px: number }) {
  const u = d.underlay, of = u ? `${planName()} ${u.file}` : "";
  useEffect(() => {
    if (u && shown.value?.of !== of) void fetchPicture(of, u.file).catch(() => { shown.value = null; });
  }, [of]);
  if (!u || !h) return null;
  const [x, y] = placeOf(h), picture = shown.value?.of === of ? shown.value : null;
  return (
    <g>
      {picture ? (
        <image class="photograph" href={picture.address} x={x} y={-y - u.width_m * picture.high} width={u.width_m} height={u.width_m * picture.high}
          preserveAspectRatio="none" opacity={1 - u.fade} transform={`rotate(${u.turn_deg} ${x} ${-y})`} aria-hidden="true" />
      ) : null}
      <g class={`hand${taken.value.includes(h.name) ? " taken" : ""}`} {...useTake(h, "plan", px)}>
        <circle class="reach" cx={x} cy={-y} r={reach(20) * px} />
        <path class="ink" d={`M${x} ${-y - 14 * px}V${-y}H${x + 14 * px}`} />
      </g>
    </g>
  );
}

// Laid is what the tool strip says of the photograph: a file to choose, and how it is scaled.
export function Laid() {
  const d = drawing.value;
  const [told, tell] = useState(""), [length, type] = useState("");
  if (!d) return null;
  const attempt = async (deed: () => Promise<void>) => {
    tell("");
    try {
      await deed();
    } catch (e) {
      tell(e instanceof Refused ? (e.faults[0]?.text ?? e.message) + (e.faults[0]?.allowed ? `; ${e.faults[0].allowed}` : "") : "The server does not answer.");
    }
  };
  const choose = (file: File) => attempt(async () => {
    const kept = await send<{ file: string }>("/api/underlay?" + query({ plan: planName(), name: file.name }), file);
    const corner: Change[] = d.underlay ? [] : [{ path: "set.underlay.at", value: `${d.low[0].toFixed(2)} ${d.low[1].toFixed(2)}` }];
    edit([{ path: "set.underlay.file", value: kept.file }, ...corner]);
    taken.value = ["photograph"];
  });
  const [a, b] = ruler.value;
  const scale = () => attempt(async () => {
    const { changes } = await post<{ changes: Change[] }>("/api/underlay/scale?" + query({ plan: planName() }), { from: a, to: b, length });
    edit(changes);
    pick(null);
    ruler.value = [];
  });
  return (
    <>
      <label class="choose">{d.underlay ? "Another photograph" : "Photograph to draw over"} <input type="file" accept="image/png,image/jpeg" aria-label="photograph to draw over"
        onChange={(e) => { const f = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (f) void choose(f); }} /></label>
      {d.underlay && measuring.value ? (
        <form class="figures" aria-label="Scale the photograph" onSubmit={(e) => { e.preventDefault(); if (a && b && length.trim()) void scale(); }}>
          <p class="told">{a && b ? `On the photograph this is ${both(Math.hypot(a[0] - b[0], a[1] - b[1]))} now.` : "Tap both ends of a length that is known."}</p>
          <label>it is really <input name="length" value={length} size={8} placeholder="3.8 m, 12'6&quot;" autocomplete="off" onInput={(e) => type(e.currentTarget.value)} /></label>
          <button type="submit" disabled={!a || !b || !length.trim()}>Scale the photograph</button>
        </form>
      ) : null}
      {told ? <p class="told" role="status">▲ {told}</p> : null}
    </>
  );
}
