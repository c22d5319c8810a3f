"use strict";
// What the server says and how it is asked. The server describes the same in OpenAPI at /api/openapi.json.
Object.defineProperty(exports, "__esModule", { value: true });
exports.query = exports.get = exports.Refused = void 0;
exports.post = post;
exports.listen = listen;
// Refused is an answer that is no good one, in the server's words.
class Refused extends Error {
    status;
    faults;
    constructor(status, faults, text) {
        super(text);
        this.status = status;
        this.faults = faults;
    }
}
exports.Refused = Refused;
// The token comes behind the # of the address that the terminal printed, and is kept for further windows.
const kept = "gloam.token";
if (/^#[A-Z0-9]{20,}$/.test(location.hash)) {
    localStorage.setItem(kept, location.hash.slice(1));
    history.replaceState(null, "", location.pathname);
}
const headers = () => ({ "Gloam-Token": localStorage.getItem(kept) ?? "" });
async function answered(r) {
    if (r.ok)
        return r;
    const p = await r.json().catch(() => ({}));
    throw new Refused(r.status, p.faults ?? [], p.detail ?? r.statusText);
}
const get = async (path) => answered(await fetch(path, { headers: headers() }));
exports.get = get;
async function post(path, body) {
    const r = await fetch(path, { method: "POST", headers: { ...headers(), "Content-Type": "application/json" }, body: JSON.stringify(body) });
    return (await answered(r)).json();
}
const query = (q) => new URLSearchParams(Object.entries(q).map(([k, v]) => [k, String(v)])).toString();
exports.query = query;
// listen reads a stream of events until it ends or is aborted.
async function listen(path, hear, signal) {
    const r = await answered(await fetch(path, { headers: headers(), signal }));
    const reader = r.body.pipeThrough(new TextDecoderStream()).getReader();
    for (let text = "", kind = "";;) {
        const { value, done } = await reader.read();
        if (done)
            return;
        const lines = (text + value).split("\n");
        text = lines.pop() ?? "";
        for (const line of lines) {
            if (line.startsWith("event: "))
                kind = line.slice(7);
            if (line.startsWith("data: "))
                hear(kind, JSON.parse(line.slice(6)));
        }
    }
}
