/** row += factor other. */
export function addTo(row: number[], other: readonly number[], factor: number): void {
  for (let k = 0; k < row.length; k++) row[k]! += factor * other[k]!;
}

/** Sum of the products of the entries. */
export function dot(row: ArrayLike<number>, vector: ArrayLike<number>): number {
  let total = 0;
  for (let k = 0; k < row.length; k++) total += row[k]! * vector[k]!;
  return total;
}
