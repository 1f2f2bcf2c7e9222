/** The bytes of a file as the text of its score: UTF-8 or UTF-16, plain or in a compressed `.mxl` (W3C MusicXML 4.0, "Compressed .MXL files"). */
import { Unzip, UnzipInflate, unzipSync } from 'fflate';
import { parseXml, type XmlNode } from './xml';
import { Unreadable } from './unreadable';

/** More than any lead sheet has; what is larger is refused before it is read. */
const MOST_BYTES = 16 * 1024 * 1024;
const MOST_ENTRIES = 1000;
/** One step of unpacking can make at most about a thousand times as much. */
const STEP = 8 * 1024;

/** The score as XML. Throws `Unreadable`. */
export function scoreXml(bytes: Uint8Array): string {
  if (bytes.length === 0) throw new Unreadable('the file is empty.');
  refuseTooLarge(bytes.length);
  refuseMidi(bytes);
  return isZip(bytes) ? unpackedScore(bytes) : decoded(bytes);
}

/** Of a file's size in bytes, before it is read. Throws `Unreadable`. */
export function refuseTooLarge(size: number): void {
  if (size > MOST_BYTES)
    throw new Unreadable(`the file has ${size} bytes; at most ${MOST_BYTES} are read. Export the melody alone and try again.`);
}

function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b;
}

/** A Standard MIDI File begins with the four letters MThd (SMF 1.0, "Header Chunks"). */
function refuseMidi(bytes: Uint8Array): void {
  if ([0x4d, 0x54, 0x68, 0x64].every((byte, i) => bytes[i] === byte))
    throw new Unreadable('this is a MIDI file, which holds no chord symbols and no spelling. Export the score as MusicXML and try again.');
}

/** Text has no control characters but tab and line breaks (XML 1.0, section 2.2); UTF-16 has been told by its first signs. */
function isNoText(bytes: Uint8Array): boolean {
  return bytes.some((byte) => byte < 0x20 && byte !== 0x09 && byte !== 0x0a && byte !== 0x0d);
}

/** As the byte order mark says, else as the first signs of any XML look in that encoding (XML 1.0, appendix F), else UTF-8. */
function decoded(bytes: Uint8Array): string {
  const encoding = encodingOf(bytes);
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    if (encoding === 'utf-8' && isNoText(bytes))
      throw new Unreadable(
        'this is no text, and so no MusicXML; nor is it a .mxl, which is a zip file. Export the score as MusicXML and try again.',
      );
    throw new Unreadable(`this is not ${encoding.toUpperCase()} text. Save it as UTF-8 or UTF-16 and try again.`);
  }
}

function encodingOf([a, b]: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' {
  if ((a === 0xff && b === 0xfe) || (a === 0x3c && b === 0)) return 'utf-16le';
  if ((a === 0xfe && b === 0xff) || (a === 0 && b === 0x3c)) return 'utf-16be';
  return 'utf-8';
}

// ── Compressed files ───────────────────────────────────────────────────────────────────────────────────────────────────────

const CONTAINER = 'META-INF/container.xml';

function unpackedScore(bytes: Uint8Array): string {
  const names = namesIn(bytes);
  const named = names.includes(CONTAINER) ? rootFile(parseXml(decoded(unpacked(bytes, CONTAINER)))) : null;
  const found = named ?? names.find((name) => /\.(?:musicxml|xml)$/i.test(name) && !name.startsWith('META-INF/') && !isHidden(name));
  if (found === undefined || !names.includes(found))
    throw new Unreadable('this zip file holds no score. A .mxl file names one in META-INF/container.xml.');
  return decoded(unpacked(bytes, found));
}

/** File managers put notes of their own beside the files, hidden but with the same ending: `__MACOSX/._tune.xml`. */
function isHidden(name: string): boolean {
  return name.split('/').some((step) => step.startsWith('.') || step === '__MACOSX');
}

/** The first root file is the score; others are other ways to show it. */
function rootFile(container: XmlNode): string | null {
  const files = descendants(container, 'rootfile');
  const score =
    files.find(({ attributes }) => attributes['media-type'] === undefined || /musicxml/.test(attributes['media-type'])) ?? files[0];
  return score?.attributes['full-path'] ?? null;
}

/** In any name space, for some containers have a prefix of their own. */
function descendants(node: XmlNode, name: string): XmlNode[] {
  return node.children.flatMap((child) => [...(child.name.replace(/^.*:/, '') === name ? [child] : []), ...descendants(child, name)]);
}

function namesIn(bytes: Uint8Array): string[] {
  const names: string[] = [];
  try {
    unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (originalSize > MOST_BYTES) throw tooLarge(name);
        if (names.push(name) > MOST_ENTRIES)
          throw new Unreadable(`this zip file holds more than ${MOST_ENTRIES} files; a .mxl file holds a few.`);
        return false;
      },
    });
  } catch (error) {
    throw error instanceof Unreadable ? error : broken();
  }
  return names;
}

/** One file of the archive. What it says of its size may be a lie, so that it is measured while it is unpacked. */
function unpacked(bytes: Uint8Array, wanted: string): Uint8Array {
  const chunks: Uint8Array[] = [];
  let size = 0;
  let isDone = false;
  const archive = new Unzip((file) => {
    if (file.name !== wanted || isDone) return;
    file.ondata = (error, chunk, final) => {
      if (error !== null) throw error;
      size += chunk.length;
      if (size > MOST_BYTES) throw tooLarge(wanted);
      chunks.push(chunk);
      isDone = final;
    };
    file.start();
  });
  archive.register(UnzipInflate);
  try {
    for (let at = 0; at < bytes.length && !isDone; at += STEP) archive.push(bytes.subarray(at, at + STEP), at + STEP >= bytes.length);
  } catch (error) {
    throw error instanceof Unreadable ? error : broken();
  }
  if (!isDone) throw broken();
  const whole = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}

function tooLarge(name: string): Unreadable {
  return new Unreadable(`${name} in this zip file unpacks to more than ${MOST_BYTES} bytes, and no more are read.`);
}

function broken(): Unreadable {
  return new Unreadable('this zip file is damaged or encrypted. Save the score again, or save it as .musicxml.');
}
