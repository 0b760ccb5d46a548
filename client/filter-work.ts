import { window } from 'vscode';
import type { WorkListView } from './work-list.ts';

/** Filters the work list while words are typed; Escape leaves it as it was. */
export function filterWork(work: WorkListView): void {
  const before = work.filter;
  const box = window.createInputBox();
  box.title = 'Filter the work list';
  box.prompt = 'Words of a batch, place, hand or job; all of them must fit. Empty shows everything.';
  box.placeholder = 'frame open';
  box.value = before;
  let kept = false;
  box.onDidChangeValue((words) => work.filterBy(words));
  box.onDidAccept(() => {
    kept = true;
    box.hide();
  });
  box.onDidHide(() => {
    if (!kept) work.filterBy(before);
    box.dispose();
  });
  box.show();
}
