// How large what is taken by hand must be: 15 mm across where fingers do it, in CSS pixels (96 an inch).
const fingers = matchMedia("(pointer: coarse)").matches;
export const finger = fingers ? 57 : 0;

// reach is the radius of what takes a hand, of at least so many pixels.
export const reach = (least: number): number => Math.max(least, finger / 2);
