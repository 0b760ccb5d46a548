import type { Code, CodeFound } from '#grammar/codes.ts';
import type { BatchHistory, Finding } from '../model.ts';
import { mouldLeft, silent, tieBiting } from './attention.ts';
import type { AcrossCheck, Check, CheckEnv, Seen, Sitting } from './case.ts';
import { frostCoverMissing, sunCoverMissing, windCoverMissing } from './cover.ts';
import { cutDeep, cutMissing, cutShallow } from './cut.ts';
import { faceShort, facesLevel } from './faces.ts';
import { froze, tooHot } from './frost.ts';
import { headbackEarly, headbackHard } from './headback.ts';
import { cambiumUnmatched, farOut, jointReset, sideTop } from './joint.ts';
import { dryOpened, openEarly, openSoon, openWide } from './opening.ts';
import { pairNever, pairPoor } from './pair.ts';
import { placeFull } from './place.ts';
import { swellEarly, takeEarly } from './record.ts';
import { scionShort, scionThick, whorlsFew, whorlsMany } from './scion.ts';
import { seasonOff } from './season.ts';
import { sittingsOf } from './sittings.ts';
import { storedLong, storedWarm } from './store.ts';
import { told } from './tell.ts';
import { unionUncovered } from './tie.ts';
import { woodOld, woodPruned, woodSoft } from './wood.ts';
import { wrapMissing } from './wrap.ts';

const practiceChecks = {
  'cut-shallow': cutShallow,
  'cut-deep': cutDeep,
  'cut-missing': cutMissing,
  'face-short': faceShort,
  'faces-level': facesLevel,
  'whorls-few': whorlsFew,
  'whorls-many': whorlsMany,
  'wood-soft': woodSoft,
  'wood-old': woodOld,
  'wood-pruned': woodPruned,
  'scion-short': scionShort,
  'scion-thick': scionThick,
  'side-top': sideTop,
  'far-out': farOut,
  'cambium-unmatched': cambiumUnmatched,
  'joint-reset': jointReset,
  'pair-poor': pairPoor,
  'pair-never': pairNever,
  'season-off': seasonOff,
  'stored-long': storedLong,
  'stored-warm': storedWarm,
  'wrap-missing': wrapMissing,
  'frost-cover-missing': frostCoverMissing,
  'sun-cover-missing': sunCoverMissing,
  'wind-cover-missing': windCoverMissing,
  froze,
  'too-hot': tooHot,
  'swell-early': swellEarly,
  'open-early': openEarly,
  'open-wide': openWide,
  'open-soon': openSoon,
  'dry-opened': dryOpened,
  'union-uncovered': unionUncovered,
  'headback-early': headbackEarly,
  'headback-hard': headbackHard,
  'take-early': takeEarly,
  'place-full': placeFull,
} satisfies Record<CodeFound<'practice'>, Check>;

/** `overdue` is found with the work it is about. */
const attentionChecks = { 'mould-left': mouldLeft, 'tie-biting': tieBiting, silent } satisfies Record<
  Exclude<CodeFound<'attention'>, 'overdue'>,
  Check
>;

const checks = Object.entries({ ...practiceChecks, ...attentionChecks }) as [Code, Check][];

/** What practice has to say of a batch: one finding a line and code, naming the set; what is accepted left out. */
export function checkBatch(history: BatchHistory, env: CheckEnv): Finding[] {
  const sittings = sittingsOf(history, env);
  const found: Finding[] = [];
  for (const [code, check] of checks) {
    const seen = ask(check, history, sittings, env);
    if (seen.length > 0) for (const one of told(code, seen, history, env)) found.push(one);
  }
  return found;
}

/** What spans batches: wood in store, and places that are full. */
export function acrossChecks(env: CheckEnv): AcrossCheck[] {
  return checks.flatMap(([, check]) => (check.by === 'log' ? check.across(env) : []));
}

function ask(check: Check, history: BatchHistory, sittings: readonly Sitting[], env: CheckEnv): readonly Seen[] {
  switch (check.by) {
    case 'sitting':
      return gathered(sittings, (sitting) => check.check(sitting, env));
    case 'cohort':
      return gathered(history.cohorts, (cohort) => check.check(cohort, history, env));
    case 'batch':
      return check.check(history, env);
    case 'log':
      return [];
  }
}

/** Nearly always nothing is found, and then nothing is made. */
function gathered<T>(asked: readonly T[], see: (one: T) => readonly Seen[]): readonly Seen[] {
  let found: Seen[] | undefined;
  for (const one of asked) {
    const seen = see(one);
    if (seen.length === 0) continue;
    found ??= [];
    found.push(...seen);
  }
  return found ?? nothing;
}

const nothing: readonly Seen[] = [];
