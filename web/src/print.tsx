import { useEffect, useState } from "preact/hooks";
import { signal } from "@preact/signals";
import { get, query } from "./api";
import { picture, planName } from "./desk";
import { asked } from "./points";

export const width = 480; // pixels across of the picture asked for
const map = signal(false);
const probed = signal("");

interface Probed { luminance_cd_m2: number; over_grey_stops: number | null }

// Print is the camera's view as a print on neutral grey, or its map of stops; a tap probes it, by the engine's value.
export function Print() {
  const p = picture.value;
  const [source, show] = useState("");
  useEffect(() => {
    if (!p) return;
    let current = true;
    let address = "";
    const at = { plan: planName(), setup: asked(), picture: width, name: p.picture, stops: String(map.value) };
    get("/api/picture/screen?" + query(at)).then((r) => r.blob()).then((b) => {
      if (!current) return;
      address = URL.createObjectURL(b);
      show(address);
    }, () => { /* a sharper one is on its way */ });
    return () => {
      current = false;
      if (address) setTimeout(() => URL.revokeObjectURL(address), 5000);
    };
  }, [p?.picture, map.value]);
  const probe = async (e: MouseEvent) => {
    if (!p) return;
    const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
    const at = { x: Math.floor(((e.clientX - box.left) / box.width) * p.width), y: Math.floor(((e.clientY - box.top) / box.width) * p.width) };
    if (at.y >= p.height) return;
    const r: Probed = await (await get("/api/picture/probe?" + query({ plan: planName(), setup: asked(), picture: width, name: p.picture, ...at }))).json();
    probed.value = r.over_grey_stops === null ? "dark" : `${r.over_grey_stops.toFixed(1).replace("-", "−")} over grey, ${r.luminance_cd_m2.toPrecision(3)} cd/m²`;
  };
  return (
    <section class="print" aria-label="Picture">
      {source && p ? <img src={source} alt={map.value ? "map of stops over grey" : "what the camera sees"} onClick={probe} /> : <p role="status">the picture comes when the readings stand</p>}
      <p class="caption">
        <span>{probed.value || "Picture: level and direction, not beauty"}</span>
        <button type="button" aria-pressed={map.value} onClick={() => { map.value = !map.value; }}>Stops map</button>
      </p>
    </section>
  );
}
