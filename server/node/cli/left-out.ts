import type { Answers } from '#server/engine/answers.ts';
import { countText } from '#server/engine/say.ts';

/** Beside figures and work: what stands on lines with an error may not be in them. On standard error, where no program reads it. */
export function sayLeftOut(answers: Answers): void {
  const errors = answers.findings().filter(({ severity }) => severity === 'error').length;
  if (errors > 0)
    process.stderr.write(
      `graftlog: ${countText(errors, 'error')} in this log: what stands there may be missing here. graftlog check names the lines.\n`,
    );
}
