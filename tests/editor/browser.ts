import { existsSync } from 'node:fs';

/** Where a browser of the Chromium family usually is: Linux, macOS, Windows. */
const places = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/microsoft-edge',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** The browser on this machine that the tests drive; `GRAFTLOG_BROWSER` names another. */
export const browserPath = (): string | undefined => process.env.GRAFTLOG_BROWSER ?? places.find(existsSync);
