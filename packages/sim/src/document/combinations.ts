/** All combinations of one of each, the last one changing first. */
export function* combinations(points: readonly (readonly number[])[]): Generator<readonly number[]> {
  const places = points.map(() => 0);
  if (points.some((each) => each.length === 0)) return;
  for (;;) {
    yield places.map((place, index) => points[index]![place]!);
    let index = places.length - 1;
    while (index >= 0 && places[index]! === points[index]!.length - 1) places[index--] = 0;
    if (index < 0) return;
    places[index]! += 1;
  }
}
