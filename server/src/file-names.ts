/** Names of files that any system can hold, made from names and titles that are not ours; the editor's side uses them too. */

/** Most disks hold 255 bytes a name; the rest is for a number that tells it from others, and for the ending it has while it is written. */
const MOST_BYTES = 230;

/** Signs that mean something in paths (`/`, `\`, `:`), that some system refuses, or that cannot be seen and may turn a name around. */
const UNFIT = /[/\\:*?"<>|\p{Cc}\p{Cs}\u2028\u2029\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu;

/** Names of devices, whatever ending they have (Microsoft, "Naming Files, Paths, and Namespaces"). */
const DEVICE = /^(?:con|prn|aux|nul|com[\d¹²³]|lpt[\d¹²³]|conin\$|conout\$|clock\$) *(?=\.|$)/i;

/** A name with its ending, as near to what it is as every system allows: no path, no device, not too long, neither a dot nor a space at an end. `fallback` where nothing is left. */
export function safeName(stem: string, ending: string, fallback: string): string {
  const fit = trimmed(stem.replace(UNFIT, '-')).replace(DEVICE, (device) => `${device.trim()}_`);
  const named = trimmed(shortened(fit, MOST_BYTES - bytesOf(ending)));
  return (/^[-.\s]*$/.test(named) ? fallback : named) + ending;
}

/** The part of a file's name that a title makes: small letters, digits and dashes; `phrase` where it has neither. */
export function nameOfTitle(title: string): string {
  const words = title
    .normalize('NFC')
    .trim()
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return safeName([...words].slice(0, 60).join(''), '', 'phrase');
}

/** Different names for what would have the same, be it in capitals (some disks do not tell them apart): `waltz.mid`, `waltz-2.mid`. */
export function differentNames(names: readonly string[]): string[] {
  const wanted = new Set(names.map(asOneDisk));
  const taken = new Set<string>();
  return names.map((name) => {
    const [, stem, end] = /^([^]*?)(\.[^./\\]*)?$/.exec(name)!;
    let free = name;
    // A name that another file really has is not given away.
    for (let count = 2; taken.has(asOneDisk(free)) || (free !== name && wanted.has(asOneDisk(free))); count += 1)
      free = `${stem}-${count}${end ?? ''}`;
    taken.add(asOneDisk(free));
    return free;
  });
}

/** What a disk that tells neither capitals nor the parts of a letter apart takes a name for. */
function asOneDisk(name: string): string {
  return name.normalize('NFC').toUpperCase().toLowerCase();
}

function trimmed(name: string): string {
  return name.replace(/^\s+|[\s.]+$/gu, '');
}

/** Cut between characters. */
function shortened(name: string, most: number): string {
  let size = 0;
  let end = 0;
  for (const sign of name) {
    size += bytesOf(sign);
    if (size > most) break;
    end += sign.length;
  }
  return name.slice(0, end);
}

function bytesOf(text: string): number {
  return new TextEncoder().encode(text).length;
}
