/** Requests of our own, beside the protocol's: what the client needs for its views and commands. Types and names only. */

export interface RowPlace {
  readonly uri: string;
  /** From 0, as the protocol counts. */
  readonly line: number;
}

/** A row of the work list, in words that are ready to show. */
export interface WorkRow {
  readonly what: string;
  /** `open a step`: short, so that the row has room for when. */
  readonly job: string;
  /** With how far: `open a step to 25–30 %`. */
  readonly title: string;
  readonly batch: string;
  readonly grafts: string;
  readonly count: number;
  readonly place: string | null;
  readonly hand: string | null;
  readonly state: 'overdue' | 'due' | 'soon' | 'later';
  readonly waits: boolean;
  /** `5 days late`, `by 27 Jun`, `26 Jun–10 Jul`. */
  readonly when: string;
  readonly why: string;
  /** The whole row in a sentence, for a screen reader. */
  readonly spoken: string;
  readonly at: RowPlace;
  /** The line that records it, ready to be written under today's date; several where it depends on what is found. */
  readonly write: readonly RecordingLine[];
  readonly from: string;
  readonly by: string;
}

export interface RecordingLine {
  /** What was found, in a few words; empty where there is but one line. */
  readonly seen: string;
  readonly text: string;
}

/** Overdue holds only work that can't wait; work that waits stands under Due with how late it is. */
export interface WorkList {
  readonly root: string;
  readonly name: string;
  /** ISO day computed for, and as it is shown: `Thu 21 Jun`. */
  readonly on: string;
  readonly onShown: string;
  readonly files: number;
  /** Files that are there and can't be read. */
  readonly unread: readonly string[];
  readonly lines: number;
  /** Lines that hold a statement and could be read. */
  readonly read: number;
  readonly rows: readonly WorkRow[];
  /** `Next: K28, open a step, from 24 Apr.`, where nothing is due. */
  readonly next: string | null;
  /** `1.6 h of 5.1 h till 22 Jun`, where the hours there are a week were said. */
  readonly hours?: string;
  /** The grower stopped the first reading of the folder: nothing is known of its work. */
  readonly stopped?: true;
}

export const WorkRequest = 'graftlog/work';
export interface WorkParams {
  /** URI of a root; absent: all roots. */
  readonly root?: string;
  /** Goes on reading a folder whose reading was stopped. */
  readonly again?: true;
}
export type WorkResult = readonly WorkList[];

/** Sent by the server when findings, work or figures may have changed; the client asks again. */
export const ChangedNotification = 'graftlog/changed';

export const AttentionRequest = 'graftlog/attention';
/** The next (or previous) line with a finding or with work that is due, seen from a position; wraps round. */
export interface AttentionParams {
  readonly uri: string;
  readonly line: number;
  readonly direction: 'next' | 'previous';
}
export type AttentionResult = { readonly uri: string; readonly line: number; readonly character: number } | null;

export const GoToGraftRequest = 'graftlog/goToGraft';
/** What was typed or scanned, its number first: `K26.12 2026-10-09 ...`. */
export interface GoToGraftParams {
  readonly text: string;
}
export type GoToGraftResult = { readonly uri: string; readonly line: number; readonly character: number } | null;

export const WriteLineRequest = 'graftlog/writeLine';
/** Where a line of today's work goes in a file: under today's day line, which is added if there is none. */
export interface WriteLineParams {
  readonly uri: string;
  readonly text: string;
}
export type WriteLineResult = {
  readonly uri: string;
  /** Of the text that the place is for; absent where the editor doesn't hold the file. */
  readonly version?: number;
  readonly line: number;
  readonly text: string;
  /** Number of the line itself once `text` stands there. */
  readonly written: number;
  /** What can't be read in the line. */
  readonly problem?: string;
} | null;

export const PageRequest = 'graftlog/page';
/** A read-only page: `practice.graft`, or a code's page `cut-shallow.md`. */
export interface PageParams {
  readonly name: string;
}
export type PageResult = string | null;

export const SheetRequest = 'graftlog/sheet';
/** The bench sheet and week of the log a file belongs to, or of the first one, as a page of HTML. */
export interface SheetParams {
  readonly uri?: string;
}
export type SheetResult = { readonly name: string; readonly html: string } | null;

/** The season report, asked and given as the bench sheet is. */
export const ReportRequest = 'graftlog/report';

export const DayLineRequest = 'graftlog/dayLine';
/** Today's date as a day line for one who writes at a line. */
export interface DayLineParams {
  readonly uri: string;
  readonly line: number;
}
export type DayLineResult = {
  /** What is put in, in place of a stretch of one line; nothing where today's day line stands above already. */
  readonly edit: { readonly line: number; readonly from: number; readonly to: number; readonly text: string } | null;
  readonly caret: { readonly line: number; readonly character: number };
};

export const PhotoRequest = 'graftlog/photo';
/** Pictures dropped on a line. */
export interface PhotoParams {
  readonly uri: string;
  readonly line: number;
  readonly files: readonly string[];
}
/** What is put in, or why nothing is; `null` where none of them is a picture. */
export type PhotoResult =
  | { readonly line: number; readonly character: number; readonly text: string }
  | { readonly why: string }
  | null;

/** A question that `graftlog stats` and `plan` answer in a terminal. */
export type FiguresAsked =
  | { readonly kind: 'compare'; readonly keys: readonly string[] }
  | { readonly kind: 'plan'; readonly takes: number; readonly like?: string; readonly hours?: number };

export const FiguresRequest = 'graftlog/figures';
/** Of the log a file belongs to, or of the first one: the same page of text as the command line prints. */
export interface FiguresParams {
  readonly uri?: string;
  readonly asked: FiguresAsked;
}
export type FiguresResult = string | null;

export const FigureChoicesRequest = 'graftlog/figureChoices';
/** What can be asked of the log a file belongs to. */
export interface FigureChoicesParams {
  readonly uri?: string;
}
export type FigureChoices = {
  /** The log's root, so that the page stays with it. */
  readonly uri: string;
  /** Keys of which at least two ways are on record, with what they are called and their ways. */
  readonly keys: readonly { readonly key: string; readonly noun: string; readonly ways: string }[];
  /** Pairs, then batches from the newest: what a plan can be like. */
  readonly like: readonly { readonly name: string; readonly kind: 'pair' | 'batch'; readonly figures: string }[];
};
export type FigureChoicesResult = FigureChoices | null;

export const SplitRequest = 'graftlog/split';
/** Which grafts of the set at a place go to a line of their own: `K26.5`, or the numbers alone. */
export interface SplitParams {
  readonly uri: string;
  readonly line: number;
  readonly character: number;
  readonly grafts: string;
}
/** Edits by file, or why there are none. */
export type SplitResult =
  | { readonly changes: { [uri: string]: { range: RowRange; newText: string }[] } }
  | { readonly why: string }
  | null;
interface RowRange {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

export const CheckRequest = 'graftlog/check';
/** What `graftlog check` prints of one log, line by line; `null` where there is no log, or none that was read. */
export interface CheckParams {
  /** URI of a root; absent: the first. */
  readonly root?: string;
}
export type CheckResult = {
  readonly lines: readonly { readonly severity: 'error' | 'warning' | 'information' | 'hint'; readonly text: string }[];
  readonly sum: string;
} | null;

/** Server to client, where the server has no disk of its own. */
export const ListFilesRequest = 'graftlog/list';
export interface ListFilesParams {
  readonly root: string;
}
export type ListFilesResult = readonly string[];

export const ReadFileRequest = 'graftlog/read';
export interface ReadFileParams {
  readonly uri: string;
}
export type ReadFileResult = Uint8Array | null;

export const ReadNamedRequest = 'graftlog/readNamed';
/** A file that a log names: nothing outside the root, no link, nothing of more bytes than `most`. */
export interface ReadNamedParams {
  readonly root: string;
  readonly uri: string;
  readonly most: number;
}
export type ReadNamedResult =
  | { readonly bytes: Uint8Array }
  | { readonly unread: 'missing' | 'outside' | 'unreadable' | 'large' | 'link' };

/** Client to server: drawings follow the editor's theme. */
export const ThemeNotification = 'graftlog/theme';
export interface ThemeParams {
  readonly kind: 'light' | 'dark';
}

/** Client to server: somebody vouched for the folder, and files its logs name may be read. */
export const TrustedNotification = 'graftlog/trusted';

/** What the client says of itself when it starts the server. */
export interface InitializationOptions {
  /** It opens the server's pages and watches logs by itself. */
  readonly supportsPages?: boolean;
  /** It leaves the line with the caret without hints by itself. */
  readonly followsCaret?: boolean;
  /** Absent where the editor knows no trust. */
  readonly trusted?: boolean;
}

/** Commands the server names in lenses and mends; the client registers them. */
export const commands = {
  showHistory: 'graftlog.showHistory',
  showWork: 'graftlog.showWork',
  splitSet: 'graftlog.splitSet',
} as const;

export const settingsSection = 'graftlog';
/** What a server without a process of its own says first: from then on it can be asked. */
export const serverReady = 'graftlog-server-listens';
/** Scheme of the read-only pages. */
export const pageScheme = 'graftlog-page';
