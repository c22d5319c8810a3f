import { useEffect, useState } from "preact/hooks";
import type { Field } from "./api";
import { edit } from "./desk";

// Value is a field that takes what a person types, in any unit, and sends it when done.
export function Value({ field, label }: { field: Field; label: string }) {
  const [text, type] = useState(field.value);
  useEffect(() => type(field.value), [field.value]);
  const done = (typed: string) => {
    const value = typed.trim();
    if (value === field.value) return;
    edit([value === "" ? { path: field.path } : { path: field.path, value }]);
  };
  return (
    <input class="value" aria-label={label} value={text} size={Math.max(4, text.length)} spellcheck={false} autocomplete="off"
      onInput={(e) => type(e.currentTarget.value)} onBlur={(e) => done(e.currentTarget.value)}
      onKeyDown={(e) => {
        if (e.key === "Enter") done(e.currentTarget.value);
        if (e.key === "Escape") type(field.value);
      }} />
  );
}
