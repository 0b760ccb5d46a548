import type { Connection } from 'vscode-languageserver';
import type { Answers } from '#server/engine/answers.ts';
import { type Group, groupsOf } from '#server/engine/figures/groups.ts';
import { type GroupKey, groupKeys } from '#server/engine/figures/levels.ts';
import { planOf, usualConfidence } from '#server/engine/figures/plan.ts';
import { statsOf } from '#server/engine/figures/stats.ts';
import { keyNouns, levelText } from '#server/engine/figures/words.ts';
import { rateText } from '#server/engine/say.ts';
import { planPage } from '#server/report/plan-page.ts';
import { statsPage } from '#server/report/stats-page.ts';
import { pageText, type TextPage } from '#server/report/text-page.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import { logAsked } from './logs.ts';
import {
  type FigureChoices,
  type FigureChoicesParams,
  FigureChoicesRequest,
  type FigureChoicesResult,
  type FiguresAsked,
  type FiguresParams,
  FiguresRequest,
  type FiguresResult,
} from './protocol.ts';

/** *Compare* and *Plan next season*: the pages of the command line, from the log as it stands. */
export function registerFigures(connection: Connection, workspace: Workspace): void {
  connection.onRequest(FiguresRequest, async ({ uri, asked }: FiguresParams): Promise<FiguresResult> => {
    const root = await logAsked(workspace, uri);
    return root ? figuresText(root.answers, asked) : null;
  });
  connection.onRequest(FigureChoicesRequest, async ({ uri }: FigureChoicesParams): Promise<FigureChoicesResult> => {
    const root = await logAsked(workspace, uri);
    return root ? { uri: root.uri, ...choicesOf(root.answers) } : null;
  });
}

function figuresText(answers: Answers, asked: FiguresAsked): string {
  const page = asked.kind === 'compare' ? comparePage(answers, asked.keys) : nextSeasonPage(answers, asked);
  return pageText(page);
}

function comparePage(answers: Answers, asked: readonly string[]): TextPage {
  const keys = groupKeys.filter((key) => asked.includes(key));
  if (keys.length === 0) return [{ head: 'Nothing to compare', lines: ['No key was chosen.'] }];
  const ask = { by: keys, compare: keys };
  return statsPage(statsOf(answers.record(), ask, answers.env), ask, answers.day);
}

function nextSeasonPage(answers: Answers, { takes, like, hours }: Extract<FiguresAsked, { kind: 'plan' }>): TextPage {
  const ask = {
    ...{ takes, confidence: usualConfidence, batches: 1 },
    ...(like === undefined ? {} : { like }),
    ...(hours === undefined ? {} : { hours }),
  };
  const found = planOf(answers.record(), ask, answers.env);
  if (found) return planPage(found, answers.day);
  return [{ head: 'How many to graft', lines: [`Nothing grafted so far is called ${like}.`] }];
}

/** Ways named in a row of the list. */
const named = 4;

function choicesOf(answers: Answers): Pick<FigureChoices, 'keys' | 'like'> {
  const { env } = answers;
  const pieces = answers.pieces();
  const keys = groupKeys.flatMap((key) => {
    const ways = groupsOf(pieces, [key], env).flatMap((group) => wayOf(group, key));
    const more = ways.length > named ? ` and ${ways.length - named} more` : '';
    return ways.length < 2 ? [] : [{ key, noun: keyNouns[key], ways: `${ways.slice(0, named).join(', ')}${more}` }];
  });
  const like = (kind: 'pair' | 'batch') =>
    groupsOf(pieces, [kind], env).flatMap((group) =>
      wayOf(group, kind).map((name) => ({ name, kind, figures: rateText(group) })),
    );
  return { keys, like: [...like('pair'), ...like('batch').reverse()] };
}

function wayOf(group: Group, key: GroupKey): string[] {
  const level = group.key[key] ?? null;
  return level === null ? [] : [levelText(key, level)];
}
