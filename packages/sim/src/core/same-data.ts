/** Whether plain data is equal throughout: lists in their order, objects whatever the order of their fields. */
export function sameData(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const names = Object.keys(one);
  if (names.length !== Object.keys(other).length) return false;
  for (let i = 0; i < names.length; i++) {
    const name = names[i]!;
    if (!Object.hasOwn(other, name)) return false;
    if (!sameData((one as Record<string, unknown>)[name], (other as Record<string, unknown>)[name])) return false;
  }
  return true;
}
