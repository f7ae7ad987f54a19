/**
 * What people may ask for and no run can compute exactly, with what to take in its place (decision 5). A part that were
 * nearly right would break the promise that no crossing is missed.
 */
const kinds: Readonly<Record<string, string>> = {
  coil: 'A coil with a capacitor rings, which is not computed. Take a resistor of the resistance of its winding; its kick is not computed, so put a diode across the real one.',
  relay:
    'A winding with a capacitor rings, which is not computed. Take a resistor of the resistance of the winding, and a switch with presses for its contact; its kick is not computed, so put a diode across the real one.',
};

/** What to take in place of a part kind that cannot be computed exactly; undefined for any other text. */
export function insteadOfKind(kind: string): string | undefined {
  return Object.hasOwn(kinds, kind) ? kinds[kind] : undefined;
}
