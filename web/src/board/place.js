"use strict";
// How places and lengths are written, for the plan and for a reader. Nothing here touches the page.
Object.defineProperty(exports, "__esModule", { value: true });
exports.bearing = exports.measured = exports.both = exports.metres = void 0;
exports.feet = feet;
exports.join = join;
exports.moved = moved;
exports.raised = raised;
exports.turned = turned;
const metres = (m) => (Math.abs(m) < 0.005 ? "0.00" : m.toFixed(2));
exports.metres = metres;
// feet is a length in feet and whole inches, as it is read beside metres.
function feet(m) {
    const inches = Math.round(m / 0.0254);
    const whole = Math.trunc(Math.abs(inches) / 12), rest = Math.abs(inches) % 12;
    return `${inches < 0 ? "−" : ""}${whole}′ ${rest}″`;
}
const both = (m) => `${m.toFixed(2)} m, ${feet(m)}`;
exports.both = both;
// measured is a length as typed with its unit: a bare number is metres.
const measured = (typed) => (/^[-−+]?[\d.,]+$/.test(typed.trim()) ? `${typed.trim()} m` : typed.trim());
exports.measured = measured;
// join is the path of a name below another, quoted as the server reads it.
function join(path, name) {
    const step = name === "" || /[.[\]"]/.test(name) ? JSON.stringify(name) : name;
    return path === "" ? step : `${path}.${step}`;
}
// moved is the edit that takes a thing to a place.
function moved(h, to) {
    const m = h.move;
    if (!m)
        return [];
    const flat = `${(0, exports.metres)(to[0])} ${(0, exports.metres)(to[1])}`;
    if (m.height)
        return [...m.first, { path: m.path, value: flat }, ...(Math.abs(to[2] - h.at[2]) > 0.001 ? [{ path: m.height, value: `${(0, exports.metres)(to[2])} m` }] : [])];
    const high = m.floor && Math.abs(to[2]) < 0.005 ? "" : ` ${(0, exports.metres)(to[2])}`;
    return [...m.first, { path: m.path, value: flat + high }];
}
// raised is the edit that gives a thing a height as typed, in any unit.
function raised(h, typed) {
    const m = h.move;
    if (m.height)
        return [{ path: m.height, value: (0, exports.measured)(typed) }];
    return [...m.first, { path: m.path, value: `${(0, exports.metres)(h.at[0])} m ${(0, exports.metres)(h.at[1])} m ${(0, exports.measured)(typed)}` }];
}
const turn = (deg) => ((deg % 360) + 360) % 360;
// bearing is the azimuth of a way on the plan, in degrees from true north.
const bearing = (way, north) => turn((Math.atan2(way[0], way[1]) * 180) / Math.PI + north);
exports.bearing = bearing;
// turned is the edit that makes a thing look a way, to so many degrees; below keeps its tilt.
function turned(h, way, north, to, by = 0) {
    const t = h.turn;
    const raw = (0, exports.bearing)(way, t.degree ? 0 : north) + by;
    const deg = turn(Math.round(raw / to) * to);
    if (t.degree)
        return [{ path: t.path, value: `${deg} deg` }];
    const tilt = h.kind === "person" || Math.abs(t.below_deg) < 0.05 ? "" : ` ${Math.abs(t.below_deg).toFixed(1)} deg ${t.below_deg > 0 ? "down" : "up"}`;
    return [{ path: t.path, value: `${deg} deg${tilt}` }];
}
