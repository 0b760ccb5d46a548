/** A small symmetric matrix by rows. */
export type Symmetric = readonly (readonly number[])[];

/** log det of a positive definite matrix, 0 for an empty one; null where it isn't positive definite. */
export function logDeterminant(matrix: Symmetric): number | null {
  const root = cholesky(matrix);
  return root && 2 * root.reduce((sum, row, index) => sum + Math.log(row[index] as number), 0);
}

/** The solution x of matrix · x = right; null where the matrix isn't positive definite. */
export function solve(matrix: Symmetric, right: readonly number[]): number[] | null {
  const root = cholesky(matrix);
  if (!root) return null;
  const x: number[] = [];
  for (const [row, value] of right.entries()) {
    let left = value;
    for (let column = 0; column < row; column++) left -= (root[row]?.[column] as number) * (x[column] as number);
    x.push(left / (root[row]?.[row] as number));
  }
  for (let row = x.length - 1; row >= 0; row--) {
    let left = x[row] as number;
    for (let below = row + 1; below < x.length; below++) left -= (root[below]?.[row] as number) * (x[below] as number);
    x[row] = left / (root[row]?.[row] as number);
  }
  return x;
}

/** The lower root L of matrix = L · Lᵀ. */
function cholesky(matrix: Symmetric): number[][] | null {
  const root: number[][] = [];
  for (let row = 0; row < matrix.length; row++) {
    const line: number[] = [];
    for (let column = 0; column <= row; column++) {
      const above = column === row ? line : (root[column] as number[]);
      let left = matrix[row]?.[column] as number;
      for (let k = 0; k < column; k++) left -= (line[k] as number) * (above[k] as number);
      if (column < row) line.push(left / (above[column] as number));
      else if (left > 0) line.push(Math.sqrt(left));
      else return null;
    }
    root.push(line);
  }
  return root;
}
