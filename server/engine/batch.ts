import type { Fact, Statement, Taxa } from '#grammar/statement.ts';
import type { Key, Method } from '#grammar/vocabulary.ts';
import { factOf, namedIn, wordIn } from './facts.ts';
import type { Log } from './log.ts';
import type { Batch, Entry, Finding, Found } from './model.ts';
import { byPlace } from './order.ts';

/** What `like` does not carry over: the wood, the tree, the hands and the marks are each batch's own. */
export const notCarried: ReadonlySet<Key> = new Set(['lot', 'from', 'onto', 'label', 'branch', 'by', 'photo', 'like']);

/** So many batches like one another are a nursery's; more would cost each of them as much as all. House default. */
const longestChain = 100;

export interface BatchFacts {
  readonly batch: Batch;
  /** Plants of the batch's line, else of the batch it is like; and the line that says them. */
  readonly taxa?: { readonly taxa: Taxa; readonly entry: Entry };
  readonly depends: readonly string[];
  readonly findings: readonly Finding[];
}

/** A batch's own facts, and behind them those of the batches it is like. */
export function batchFacts(key: string, name: string, counted: boolean, log: Log): BatchFacts {
  const { chain, circle, depends } = likeChain(key, log);
  const facts = new Map<Key, Found>();
  chain.forEach((entry, i) => {
    for (const fact of entry.line.statement?.facts ?? []) {
      if (facts.has(fact.key) || (i > 0 && notCarried.has(fact.key))) continue;
      facts.set(fact.key, { fact, entry, from: i === 0 ? 'batch' : 'like' });
    }
  });
  const own = chain[0];
  const told = chain.find((entry) => entry.line.statement?.taxa);
  const taxa = told?.line.statement?.taxa;
  const method = wordIn(facts.get('method')?.fact) as Method | undefined;
  const declared = log.names.declared(key);
  return {
    batch: {
      key,
      name: declared?.name ?? name,
      counted,
      ...(own ? { entry: own } : {}),
      ...(method ? { method } : {}),
      ...(taxa && told ? { taxa, told } : {}),
      fact: (wanted) => facts.get(wanted),
    },
    ...(taxa && told ? { taxa: { taxa, entry: told } } : {}),
    depends,
    findings: circle ? [circle] : [],
  };
}

interface Chain {
  readonly chain: readonly Entry[];
  /** It comes back to itself, or goes on too long. */
  readonly circle?: Finding;
  readonly depends: readonly string[];
}

function likeChain(key: string, log: Log): Chain {
  const chain: Entry[] = [];
  const keys: string[] = [];
  for (let next: string | undefined = key; next !== undefined; ) {
    const declared = log.names.declared(next);
    keys.push(next);
    if (declared?.kind !== 'batch') break;
    chain.push(declared.entry);
    const like: string | undefined = namedIn(likeFact(declared.entry))?.key;
    if (like !== undefined && keys.includes(like)) {
      const round = chain.slice(keys.indexOf(like));
      const last = round.toSorted(byPlace).at(-1);
      // said once, by the batch whose line stands last in the circle
      return { chain, depends: keys, ...(last === chain[0] ? { circle: circular(round, last as Entry, log) } : {}) };
    }
    if (like !== undefined && chain.length === longestChain) {
      return { chain, depends: keys, circle: tooLong(chain[0] as Entry) };
    }
    next = like;
  }
  return { chain, depends: keys };
}

const likeFact = (entry: Entry): Fact | undefined => factOf(entry.line.statement, 'like');
const nameOf = (entry: Entry | undefined): string => entry?.line.statement?.sets[0]?.name.text ?? '';

function tooLong(entry: Entry): Finding {
  return {
    code: 'contradiction',
    severity: 'error',
    entry,
    span: likeFact(entry)?.span ?? { start: 0, end: entry.line.text.length },
    message: `\`${nameOf(entry)}\` is like a batch that is like another, over ${longestChain} times: give one of them facts of its own.`,
  };
}

function circular(round: readonly Entry[], entry: Entry, log: Log): Finding {
  const like = likeFact(entry);
  const name = namedIn(like);
  const other = name && log.names.declared(name.key)?.entry;
  const statement = entry.line.statement as Statement;
  return {
    code: 'contradiction',
    severity: 'error',
    entry,
    span: like?.span ?? statement.verbSpan,
    message:
      round.length === 1
        ? `\`${nameOf(entry)}\` is like itself: name the batch it takes its facts from.`
        : `\`${nameOf(entry)}\` is like \`${name?.text}\`, and that comes back to \`${nameOf(entry)}\`: one of them has facts of its own.`,
    ...(other && other !== entry
      ? {
          related: [
            {
              entry: other,
              span: likeFact(other)?.span ?? { start: 0, end: 0 },
              message: `\`${nameOf(other)}\` is like another.`,
            },
          ],
        }
      : {}),
  };
}
