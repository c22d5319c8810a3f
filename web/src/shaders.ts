// What the GPU does, pixel by pixel: add, multiply, look up.

export const most = 7; // layers of two textures each, and the sum before: every WebGL2 has sixteen

const head = `#version 300 es
precision highp float;
precision highp int;
precision highp sampler2D;
`;

// vertexSource is one triangle over all of the picture.
export const vertexSource = `${head}
void main() { gl_Position = vec4(gl_VertexID == 1 ? 3 : -1, gl_VertexID == 2 ? 3 : -1, 0, 1); }`;

// composeSource adds layers to the sum before: a and b are the weights of bands 1 to 4 and 5 to 8.
export function composeSource(layers: number): string {
  const each = Array.from({ length: layers }, (_, i) => i);
  return `${head}
uniform sampler2D before; uniform bool begun;
${each.map((i) => `uniform sampler2D low${i}, high${i}; uniform mat4 a${i}, b${i};`).join("\n")}
out vec4 sum;
void main() {
  ivec2 p = ivec2(gl_FragCoord.xy);
  sum = begun ? texelFetch(before, p, 0) : vec4(0);
  ${each.map((i) => `sum += a${i} * texelFetch(low${i}, p, 0) + b${i} * texelFetch(high${i}, p, 0);`).join("\n  ")}
}`;
}

// showSource shows a sum: red, green and blue by the tables, or its fourth part, the luminance in times grey, by the key.
// Targets have their first row first, the screen its last.
export const showSource = `${head}
uniform sampler2D picture, kept, shown, encoded;
uniform ivec2 size; uniform float wipe, most; uniform vec3 luminance;
const int mostBands = 24;
uniform int bands, pattern[mostBands]; uniform float from[mostBands]; uniform vec3 ground[mostBands], contour[mostBands], ink[mostBands];
out vec4 colour;

float look(sampler2D table, float share) {
  float at = clamp(share, 0., 1.) * 4096.;
  int i = min(int(at), 4095), j = i + 1;
  return mix(texelFetch(table, ivec2(i % 64, i / 64), 0).r, texelFetch(table, ivec2(j % 64, j / 64), 0).r, at - float(i));
}

vec3 screen(vec3 c) {
  float least = min(c.r, min(c.g, c.b)), grey = dot(luminance, c);
  if (least < 0.) c = grey > 0. ? max(vec3(0), grey + grey / (grey - least) * (c - grey)) : vec3(0);
  float greatest = max(c.r, max(c.g, c.b));
  if (!(greatest > 0.)) return vec3(0);
  c *= look(shown, greatest / most) / greatest;
  return vec3(look(encoded, c.r), look(encoded, c.g), look(encoded, c.b));
}

vec4 at(ivec2 p) {
  if (float(p.x) >= wipe) return texelFetch(picture, p, 0);
  return texelFetch(kept, p * textureSize(kept, 0) / size, 0);
}

int band(ivec2 p) {
  float over = at(p).a;
  int n = over > from[1] ? 1 : 0;
  for (int i = 2; i < bands; i++) if (over >= from[i]) n = i;
  return n;
}

bool drawn(int pattern, ivec2 p) {
  p /= max(1, size.x / 960);
  ivec2 q = p % 8, r = (p + 4) % 8;
  return pattern == 1 ? q.x < 2 && q.y < 2 || r.x < 2 && r.y < 2 : pattern == 2 && (p.x + p.y) % 8 == 0;
}

void main() {
  ivec2 p = ivec2(int(gl_FragCoord.x), size.y - 1 - int(gl_FragCoord.y));
  vec3 c;
  if (bands == 0) {
    c = screen(at(p).rgb);
  } else {
    int n = band(p);
    c = drawn(pattern[n], p) ? ink[n] : ground[n];
    bool edge = p.x + 1 < size.x && band(p + ivec2(1, 0)) != n || p.y + 1 < size.y && band(p + ivec2(0, 1)) != n;
    if (edge) c = contour[n];
  }
  colour = vec4(c, 1);
}`;
