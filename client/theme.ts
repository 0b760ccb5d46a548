import { ColorThemeKind, window } from 'vscode';

/** Drawings come in a light and a dark version; high contrast takes the one of its ground. */
export function themeKind(): 'light' | 'dark' {
  const kind = window.activeColorTheme.kind;
  return kind === ColorThemeKind.Light || kind === ColorThemeKind.HighContrastLight ? 'light' : 'dark';
}
