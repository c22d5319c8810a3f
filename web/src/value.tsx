import { useEffect, useRef, useState } from "preact/hooks";
import type { Field } from "./api";
import { edit } from "./desk";

// Value is a field that takes what a person types, in any unit, and sends it when done. put sends it in another way than to
// the field's path.
export function Value({ field, label, put }: { field: Field; label: string; put?: (typed: string) => void }) {
  const [text, type] = useState(field.value);
  const told = useRef(field.value), sent = useRef(""); // what is sent by Enter is not sent again as the field is left
  useEffect(() => {
    if (told.current !== field.value) type(field.value);
    told.current = field.value;
    sent.current = "";
  }, [field.value]);
  const done = (typed: string) => {
    const value = typed.trim();
    if (value === field.value || value === sent.current) return;
    sent.current = value;
    if (put) { if (value) put(value); return; }
    edit([value === "" ? { path: field.path } : { path: field.path, value }]);
  };
  return (
    <input class="value" aria-label={label} value={text} size={Math.max(4, text.length)} spellcheck={false} autocomplete="off"
      onInput={(e) => { sent.current = ""; type(e.currentTarget.value); }} onBlur={(e) => done(e.currentTarget.value)}
      onKeyDown={(e) => {
        if (e.key === "Enter") done(e.currentTarget.value);
        if (e.key === "Escape") type(field.value);
      }} />
  );
}
