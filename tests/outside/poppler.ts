/** Debian's poppler-utils, where they are installed: another program's reading of a PDF. */
import { spawnSync } from 'node:child_process';

export const HAS_POPPLER = spawnSync('pdftotext', ['-v']).status === 0;
export const WITHOUT_POPPLER = 'poppler-utils is not installed: PDFs are not read by another program';

export function poppler(tool: 'pdftotext' | 'pdffonts' | 'pdftoppm' | 'pdfinfo' | 'pdfdetach', ...args: readonly string[]): Buffer {
  const { status, stdout, stderr } = spawnSync(tool, args, { maxBuffer: 256 * 1024 * 1024 });
  if (status !== 0) throw new Error(`${tool}: ${stderr.toString()}`);
  return stdout;
}
