// Stops as a plan writes them and as a hand sets them. No page here.

const sixths = ["", " 1/6", " 1/3", " 1/2", " 2/3", " 5/6"];

// written is stops to the nearest sixth, as a plan reads them: +1 1/3, -2/3, 0.
export function written(stops: number): string {
  const n = Math.round(Math.abs(stops) * 6);
  const text = `${n >= 6 ? Math.floor(n / 6) : ""}${sixths[n % 6]}`.trim();
  return n === 0 ? "0" : (stops < 0 ? "-" : "+") + text;
}

// nearest is the nearest of so many parts of a stop.
export const nearest = (stops: number, parts: number): number => Math.round(stops * parts) / parts + 0;

export interface Wish { wanted: number; tolerance: number }
export type Part = "all" | "upper" | "lower";

export const least = 1 / 6; // tolerance that a hand can set

// pulled is a wish of which a part was taken to so many stops: all of it moves in thirds, its ends in sixths and both alike.
export function pulled(w: Wish, part: Part, to: number): Wish {
  if (part === "all") return { ...w, wanted: nearest(to, 3) };
  const half = part === "upper" ? to - w.wanted : w.wanted - to;
  return { ...w, tolerance: Math.max(least, nearest(half, 6)) };
}

// stepped is a wish after a key: a third, or with far a whole stop; its ends by a sixth.
export function stepped(w: Wish, part: Part, up: boolean, far: boolean): Wish {
  const way = up ? 1 : -1;
  if (part === "all") return { ...w, wanted: nearest(w.wanted + way * (far ? 1 : 1 / 3), 3) };
  const tolerance = w.tolerance + (part === "upper" ? way : -way) / 6;
  return { ...w, tolerance: Math.max(least, nearest(tolerance, 6)) };
}

// spread moves labels apart to at least a gap, each as near to its place as the others leave room.
export function spread(places: number[], gap: number): number[] {
  const order = places.map((_, i) => i).sort((a, b) => places[a]! - places[b]!);
  const out = [...places];
  for (let round = 0; round < 50; round++) {
    for (let k = 1; k < order.length; k++) {
      const a = order[k - 1]!, b = order[k]!, lack = gap - (out[b]! - out[a]!);
      if (lack > 0) { out[a]! -= lack / 2; out[b]! += lack / 2; }
    }
  }
  return out;
}
