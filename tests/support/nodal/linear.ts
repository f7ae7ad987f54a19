/** Solves A X = B by Gaussian elimination with row pivoting; both are overwritten, X is left in B. Rows are equations. */
export function solveRows(a: number[][], b: number[][]): number[][] {
  const n = a.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(a[row]![column]!) > Math.abs(a[pivot]![column]!)) pivot = row;
    }
    if (a[pivot]![column] === 0) throw new Error('nodal equations: a node that nothing holds');
    [a[column], a[pivot]] = [a[pivot]!, a[column]!];
    [b[column], b[pivot]] = [b[pivot]!, b[column]!];
    for (let row = 0; row < n; row++) {
      if (row === column) continue;
      const factor = a[row]![column]! / a[column]![column]!;
      if (factor === 0) continue;
      addTo(a[row]!, a[column]!, -factor);
      addTo(b[row]!, b[column]!, -factor);
    }
  }
  return b.map((row, k) => row.map((value) => value / a[k]![k]!));
}

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
