import { labelled } from '#server/engine/labelled.ts';
import { countText } from '#server/engine/say.ts';
import { type LabelSizeName, labelSizes } from '#server/report/label-sizes.ts';
import { labelSheets } from '#server/report/labels.ts';
import { inert, short } from '#server/report/text-page.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';
import { writeResult } from './write-result.ts';

const codes = ['text', 'link', 'none'] as const;

/** Labels of a set of grafts, as sheets to print. */
export async function labels(asked: Asked): Promise<number> {
  const { of, size = 'label', code = 'text' } = asked.values;
  if (typeof of !== 'string' || of.trim() === '') throw new UsageError('--of names the grafts: --of K26.1..40.');
  if (typeof size !== 'string' || !Object.hasOwn(labelSizes, size))
    throw new UsageError(`--size is one of ${Object.keys(labelSizes).join(', ')}.`);
  const kind = codes.find((one) => one === code);
  if (!kind) throw new UsageError(`--code is one of ${codes.join(', ')}.`);
  const name = size as LabelSizeName;
  const { answers } = await openLog(asked, ['text']);
  const row = labelSizes[name];
  const found = labelled(answers, of, 'tray' in row ? row.tray : undefined);
  if (typeof found === 'string') throw new UsageError(short(inert(found), 300));
  const { html, sheets, withoutCode } = labelSheets(found.labels, name, kind);
  for (const remark of found.remarks) process.stderr.write(`graftlog: ${inert(remark)}\n`);
  if (withoutCode > 0)
    process.stderr.write(
      `graftlog: ${countText(withoutCode, 'label')} without a code: the number is too long for one.\n`,
    );
  const out = writeResult(asked.values.out, html, 'labels.html');
  if (out !== '-')
    process.stderr.write(
      `Written: ${out}, ${countText(found.labels.length, 'label')} on ${countText(sheets, 'sheet')}. Open it in a browser and print it at 100 %, not fitted to the page.\n`,
    );
  return 0;
}
