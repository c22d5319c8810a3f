import { useRef, useState } from "preact/hooks";
import type { Field } from "./api";
import { edit } from "./desk";

// Draft is what is typed over a value; when the value is another, it is gone.
interface Draft { over: string; text: string; sent: boolean }

// Value is a field that takes what a person types, in any unit, and sends it when done, once. put sends it in another way than
// to the field's path.
export function Value({ field, label, put }: { field: Field; label: string; put?: (typed: string) => void }) {
  const draft = useRef<Draft | null>(null), [, again] = useState(0);
  if (draft.current?.over !== field.value) draft.current = null;
  const text = draft.current?.text ?? field.value;
  const type = (typed: string | null) => {
    draft.current = typed === null ? null : { over: field.value, text: typed, sent: false };
    again((n) => n + 1);
  };
  const done = () => {
    const d = draft.current, value = d?.text.trim();
    if (!d || d.sent || value === undefined || value === field.value) return;
    d.sent = true;
    if (put) { if (value) put(value); return; }
    edit([value === "" ? { path: field.path } : { path: field.path, value }]);
  };
  return (
    <input class="value" aria-label={label} value={text} size={Math.max(4, text.length)} spellcheck={false} autocomplete="off"
      onInput={(e) => type(e.currentTarget.value)} onBlur={done}
      onKeyDown={(e) => {
        if (e.key === "Enter") done();
        if (e.key === "Escape") type(null);
      }} />
  );
}
