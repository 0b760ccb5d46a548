const words: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  ENOTDIR: 'a part of its path is a file',
  EISDIR: 'it is a folder',
  EACCES: 'not allowed',
  EPERM: 'not allowed',
  EROFS: 'the disk can only be read',
  ENOSPC: 'the disk is full',
};

/** Why a file can't be read or written: the system's reason in words, its code behind them for whoever looks it up. */
export function whyNot(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === undefined) return 'no reason given';
  const said = words[code];
  return said ? `${said}, ${code}` : code;
}
