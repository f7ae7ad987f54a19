/**
 * What people may ask for and no run can compute exactly, with what to take in its place (decision 5). A part that were
 * nearly right would break the promise that no crossing is missed.
 */
const kinds: Readonly<Record<string, string>> = {
  coil: 'An inductance with a capacitor rings, which is not computed. For what a coil moves take a solenoid or a relay: their windings count as resistance, and their kick is not computed.',
};

/** What to take in place of a part kind that cannot be computed exactly; undefined for any other text. */
export function insteadOfKind(kind: string): string | undefined {
  return Object.hasOwn(kinds, kind) ? kinds[kind] : undefined;
}
