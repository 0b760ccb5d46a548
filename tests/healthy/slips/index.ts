import type { Code } from '#grammar/codes.ts';
import { bench } from './bench.ts';
import { course } from './course.ts';
import { history } from './history.ts';
import { names } from './names.ts';
import { shelter } from './shelter.ts';
import type { Planters } from './slip.ts';
import { waiting } from './waiting.ts';
import { words } from './words.ts';

/** How to slip, for every code. */
const planters: Planters = { ...words, ...names, ...history, ...bench, ...shelter, ...course, ...waiting };

export const plantersOf = (code: Code) => planters[code] ?? [];
