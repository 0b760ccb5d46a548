import fc from 'fast-check';

/**
 * The same made-up cases in every run of `npm test`, so that a change is judged by what it changed.
 * `SEED=random npm test` looks for new ones, `SEED=<number>` goes back to a case that failed.
 */
const asked = process.env.SEED;
if (asked !== 'random') fc.configureGlobal({ seed: asked ? Number(asked) : 20250620 });
