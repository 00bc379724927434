import { expect, it } from 'vitest';
import { solveLinear } from '@/lib/statistics/solve-linear';

// Forsythe and Moler, Computer Solution of Linear Algebraic Systems (1967): without exchange of rows
// the small pivot drowns the answer, which is 1 and 1 to all figures.
it('exchanges rows for the largest pivot', () => {
  const answer = solveLinear(
    [
      [1e-20, 1],
      [1, 1],
    ],
    [1, 2],
  );
  expect(answer).toEqual([1, 1]);
});

it('has no answer where rows depend on each other, and leaves them as they are', () => {
  const matrix = [
    [1, 2],
    [2, 4],
  ];
  expect(solveLinear(matrix, [1, 2])).toBeNull();
  expect(matrix).toEqual([
    [1, 2],
    [2, 4],
  ]);
});
