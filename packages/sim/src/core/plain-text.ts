/**
 * Plain data as text, to compare: equal for equal data. JSON knows no Infinity, which a leakage has that is none and endless
 * pulses have, and leaves out what is not stated.
 */
export function plainText(data: unknown): string {
  return JSON.stringify(data, (_, value: unknown) =>
    value === undefined || (typeof value === 'number' && !Number.isFinite(value)) ? `${value}` : value,
  );
}
