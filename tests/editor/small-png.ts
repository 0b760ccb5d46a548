import { crc32, deflateSync } from 'node:zlib';
import type { Page } from 'playwright-core';

/**
 * A picture of the editor in at most 256 colours: a third of the size, for those that lie in the package. Where there are
 * more, colours that differ least are drawn as the commonest of them, so that grounds and letters keep theirs.
 *
 * @param shot PNG as the browser gives it; the page takes it apart
 */
export async function smallPng(page: Page, shot: Buffer): Promise<Buffer> {
  const { width, height, pixels } = await page.evaluate(async (encoded) => {
    const bytes = Uint8Array.from(atob(encoded), (letter) => letter.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d');
    if (!context) throw new Error('The browser draws nothing.');
    context.drawImage(bitmap, 0, 0);
    const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
    let text = '';
    for (let at = 0; at < data.length; at += 4) text += String.fromCharCode(...data.subarray(at, at + 3));
    return { width: bitmap.width, height: bitmap.height, pixels: btoa(text) };
  }, shot.toString('base64'));
  const rgb = Buffer.from(pixels, 'base64');
  const { palette, indexOf } = paletteOf(rgb);
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) rows[y * (width + 1) + 1 + x] = indexOf(rgb.readUIntBE((y * width + x) * 3, 3));
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  // eight bits a pixel, by palette (PNG specification, 11.2.2)
  head.set([8, 3, 0, 0, 0], 8);
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const parts = [chunk('IHDR', head), chunk('PLTE', palette), chunk('IDAT', deflateSync(rows, { level: 9 }))];
  return Buffer.concat([signature, ...parts, chunk('IEND', Buffer.alloc(0))]);
}

function paletteOf(rgb: Buffer): { palette: Buffer; indexOf: (colour: number) => number } {
  const counts = new Map<number, number>();
  for (let at = 0; at < rgb.length; at += 3) {
    const colour = rgb.readUIntBE(at, 3);
    counts.set(colour, (counts.get(colour) ?? 0) + 1);
  }
  const byCount = [...counts].sort(([, a], [, b]) => b - a).map(([colour]) => colour);
  for (let bits = 0; ; bits++) {
    const mask = ((0xff << bits) & 0xff) * 0x010101;
    const first = new Map<number, number>();
    const colours: number[] = [];
    for (const colour of byCount) if (!first.has(colour & mask)) first.set(colour & mask, colours.push(colour) - 1);
    if (colours.length > 256) continue;
    const palette = Buffer.alloc(colours.length * 3);
    for (const [index, colour] of colours.entries()) palette.writeUIntBE(colour, index * 3, 3);
    return { palette, indexOf: (colour) => first.get(colour & mask) ?? 0 };
  }
}

function chunk(name: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const whole = Buffer.alloc(named.length + 8);
  whole.writeUInt32BE(data.length, 0);
  whole.set(named, 4);
  whole.writeUInt32BE(crc32(named), named.length + 4);
  return whole;
}
