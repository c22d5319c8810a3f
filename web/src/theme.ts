import { signal } from "@preact/signals";

export const themes = ["day", "night", "rain"] as const;
export type Theme = (typeof themes)[number];

const kept = localStorage.getItem("gloam.theme");
export const theme = signal<Theme>(themes.find((t) => t === kept) ?? "day");

export function wear(name: Theme): void {
  theme.value = name;
  localStorage.setItem("gloam.theme", name);
  document.documentElement.dataset.theme = name;
}
