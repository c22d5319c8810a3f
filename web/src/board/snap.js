"use strict";
// Where a hand is drawn to: the walls' faces, the axes of other things, else a grid. Nothing here touches the page.
Object.defineProperty(exports, "__esModule", { value: true });
exports.grid = void 0;
exports.axesOf = axesOf;
exports.snap = snap;
exports.wallAt = wallAt;
exports.thingAt = thingAt;
exports.grid = 0.1; // m
// axesOf are what a place can be lined up with: faces of walls, and places of things not in the hand.
function axesOf(d, without = []) {
    const all = [];
    const add = (at, of) => all.push({ along: 0, at: at[0], of }, { along: 1, at: at[1], of });
    for (const r of d.rooms) {
        add(r.low, "wall");
        add(r.high, "wall");
    }
    for (const h of d.handles)
        if (h.kind !== "room" && !without.includes(h.name))
            add([h.at[0], h.at[1]], h.name);
    return all;
}
// snap draws a place to the nearest axis each way, if it is within reach, else to the grid.
function snap(at, axes, reach) {
    const out = { at: [0, 0], axes: [] };
    for (const along of [0, 1]) {
        let best;
        for (const a of axes)
            if (a.along === along && Math.abs(a.at - at[along]) <= (best ? Math.abs(best.at - at[along]) - 1e-9 : reach))
                best = a;
        out.at[along] = best ? best.at : Math.round(at[along] / exports.grid) * exports.grid;
        if (best)
            out.axes.push(best);
    }
    return out;
}
// wallAt is the wall nearest to a place: how far along it from its left end seen from inside, and how far off.
function wallAt(d, at) {
    let best;
    d.rooms.forEach((r, room) => {
        for (const wall of r.walls) {
            const dx = wall.to[0] - wall.from[0], dy = wall.to[1] - wall.from[1], long = Math.hypot(dx, dy);
            const along = Math.min(long, Math.max(0, ((at[0] - wall.from[0]) * dx + (at[1] - wall.from[1]) * dy) / long));
            const off = Math.hypot(at[0] - wall.from[0] - (along * dx) / long, at[1] - wall.from[1] - (along * dy) / long);
            if (!best || off < best.off - 1e-9)
                best = { room, wall, along, long, off };
        }
    });
    return best;
}
// thingAt is the thing that something can be aimed at within reach of a place.
function thingAt(d, at, reach, without) {
    const wanted = ["person", "point", "mark", "cloth", "object", "opening", "practical", "lamp"];
    let best = "", near = reach;
    for (const h of d.handles) {
        const off = Math.hypot(h.at[0] - at[0], h.at[1] - at[1]);
        if (h.name !== without && wanted.includes(h.kind) && off <= near)
            [best, near] = [h.name, off];
    }
    return best;
}
