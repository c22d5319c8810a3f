// What the tests use of Node.
declare module "node:test" { export default function test(name: string, run: () => void): void; }
declare module "node:assert/strict" {
  const assert: { equal(got: unknown, want: unknown, why?: string): void; deepEqual(got: unknown, want: unknown, why?: string): void; ok(is: unknown, why?: string): void };
  export default assert;
}
