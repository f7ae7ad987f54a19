/**
 * What people may ask for and no run can compute exactly, with what to take in its place (decision 5). A part that were
 * nearly right would break the promise that no crossing is missed.
 */
const kinds: Readonly<Record<string, string>> = {
  coil: 'A coil with a capacitor rings, which is not computed. Take a resistor of the resistance of its winding; its kick is not computed, so put a diode across the real one.',
  relay:
    'A winding with a capacitor rings, which is not computed. Take a resistor of the resistance of the winding, and a switch with presses for its contact; its kick is not computed, so put a diode across the real one.',
};

const fields: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  transistor: {
    gain: 'A transistor is a switch, open or saturated; its active region is not computed. For a constant current take a source, for a switch leave gain out and state drive.',
  },
};

/** What to take in place of a part kind that cannot be computed exactly; undefined for any other text. */
export function insteadOfKind(kind: string): string | undefined {
  return Object.hasOwn(kinds, kind) ? kinds[kind] : undefined;
}

/** What to do in place of a field of a part kind that cannot be computed exactly; undefined for any other. */
export function insteadOfField(kind: string, field: string): string | undefined {
  const known = Object.hasOwn(fields, kind) ? fields[kind] : undefined;
  return known !== undefined && Object.hasOwn(known, field) ? known[field] : undefined;
}
