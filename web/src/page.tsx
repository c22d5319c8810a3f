import { signal } from "@preact/signals";
import { render } from "preact";
import { close, open, travel } from "./desk";
import { chosen } from "./points";
import { width } from "./print";
import { Sheet } from "./sheet";
import { Start } from "./start";
import { theme, themes, wear } from "./theme";

const place = signal(new URLSearchParams(location.hash.slice(1)));

function Themes() {
  return (
    <aside class="themes" aria-label="Theme">
      {themes.map((t) => <button key={t} type="button" aria-pressed={theme.value === t} onClick={() => wear(t)}>{t}</button>)}
    </aside>
  );
}

const Page = () => <>{place.value.get("plan") ? <Sheet /> : <Start />}<Themes /></>;

function go(): void {
  place.value = new URLSearchParams(location.hash.slice(1));
  const plan = place.value.get("plan");
  chosen.value = "";
  if (plan) void open(plan, place.value.get("setup") ?? "", width);
  else close();
}

addEventListener("hashchange", go);
addEventListener("keydown", (e) => {
  if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z" || (e.target as HTMLElement).matches?.("input")) return;
  e.preventDefault();
  void travel(e.shiftKey ? "redo" : "undo");
});
wear(theme.value);
go();
const root = document.getElementById("page")!;
root.textContent = "";
render(<Page />, root);
