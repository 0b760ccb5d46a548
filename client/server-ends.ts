import { window } from 'vscode';
import { CloseAction, ErrorAction, type ErrorHandler } from 'vscode-languageclient';

const most = 4;
const withinMs = 3 * 60_000;

/** A server that ends unasked is started again, and it is said; one that keeps ending is left, and that is said, too. */
export function serverEnds(now: () => number = Date.now): ErrorHandler {
  const ends: number[] = [];
  return {
    // what is still sent to a server that has just died fails, message by message: its end is told below, and counts
    error: () => ({ action: ErrorAction.Continue }),
    closed() {
      ends.push(now());
      if (ends.filter((end) => end > now() - withinMs).length <= most) {
        void window.showInformationMessage('Graft Log stopped and was started again. Your text is as you left it.');
        return { action: CloseAction.Restart, handled: true };
      }
      const message =
        'Graft Log stopped five times in three minutes and is left alone now. Your text is as you left it; findings and work are not shown. “Graft Log: Start again” tries once more.';
      return { action: CloseAction.DoNotRestart, message };
    },
  };
}
